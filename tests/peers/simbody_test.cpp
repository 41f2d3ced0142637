// Random heads against Simbody 3.7 (Debian libsimbody-dev): an independent multibody library, its own joints and
// constraints, its own projection onto them.
#include "tests/peers/simbody_head.h"

#include <fmt/format.h>

#include "kinematics/studies/loads/flying.h"
#include "tests/peers/compare.h"

namespace swashwright::peers {
namespace {

/// Everything by Simbody: rods, points in planes, System::projectQ.
struct ByProjection : SimbodyHead {
    explicit ByProjection(const PlainHead& head) : SimbodyHead(head, Way::project) {}
};

TEST(SimbodyHead, AgreesOnHundredsOfRandomHeads) {
    Agreement found;
    compare<ByProjection>(400, 8, found);
    expect_agreement(found, 1e-7);  // mm and deg
}

TEST(SimbodyHead, AgreesInTheFasterWayThatTheBenchmarkTimes) {
    Agreement found;
    compare<SimbodyHead>(100, 8, found);
    expect_agreement(found, 1e-7);
}

struct Shares {
    int poses = 0;
    double links = 0, horns = 0;  // largest differences, of the pose's largest link force and horn moment
};

void keep(double& worst, const std::vector<double>& ours, const std::vector<double>& theirs) {
    ASSERT_EQ(ours.size(), theirs.size());
    double most = 0, off = 0;
    for (std::size_t i = 0; i < ours.size(); ++i) {
        most = std::max(most, std::abs(theirs[i]));
        off = std::max(off, std::abs(ours[i] - theirs[i]));
    }
    ASSERT_GT(most, 0);
    worst = std::max(worst, off / most);
}

/// One head at a few places of sticks and rotor, with what turns its blades in flight.
void compare_loads(std::uint64_t seed, Shares& found) {
    const head::Description description = testing::random_head(seed);
    const head::Head ours = head::Head::build(description).value();
    studies::FlyingOptions options = studies::usual_flight(description);
    options.head_speed_rpm = 2000;
    studies::Flying flying(ours, options);
    std::vector<double> neutral;
    for (const head::Servo& servo : description.servos) neutral.push_back(servo.neutral_deg + servo.trim_deg);
    SimbodyHead peer(plain_head(description), SimbodyHead::Way::project);
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    for (int i = 0; i < 3; ++i) {
        const head::Sticks sticks{draw.between(-0.8, 0.8), draw.between(-0.5, 0.5), draw.between(-0.5, 0.5)};
        const double azimuth = draw.between(0, 360);
        const auto balance = flying.at(sticks, azimuth);
        if (!balance) continue;
        PeerPose pose;
        ASSERT_TRUE(walk(peer, neutral, ours.horn_angles_deg(sticks), azimuth, pose));
        std::vector<double> moments;
        for (const studies::BladeMoment& moment : flying.moments()) moments.push_back(1000 * moment.total());
        const PeerLoads theirs = peer.hold(moments);
        std::vector<double> links, held = theirs.lower_n;
        held.insert(held.end(), theirs.upper_n.begin(), theirs.upper_n.end());
        for (const auto& of : {ours.parts().lower_links, ours.parts().upper_links})
            for (const auto link : of) links.push_back(balance->force_n[std::size_t(link.index)]);
        keep(found.links, links, held);
        keep(found.horns, balance->horn_nmm, theirs.horn_nmm);
        ++found.poses;
    }
}

// Virtual work through our exact slopes against the multipliers of Simbody's equations of motion, at rest.
TEST(SimbodyHead, IsHeldByTheSameLinkForcesAndHornMoments) {
    Shares found;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        compare_loads(seed, found);
    }
    ::testing::Test::RecordProperty("poses", found.poses);
    ::testing::Test::RecordProperty("links_share", fmt::format("{:.1e}", found.links));
    ::testing::Test::RecordProperty("horns_share", fmt::format("{:.1e}", found.horns));
    EXPECT_GE(found.poses, 110);
    EXPECT_LE(found.links, 1e-6);
    EXPECT_LE(found.horns, 1e-6);
}

}  // namespace
}  // namespace swashwright::peers
