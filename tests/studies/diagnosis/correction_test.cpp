// What to do about a fault: told in words, and followed to the letter it makes the head sound.
#include "kinematics/studies/diagnosis/correction.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <regex>

#include "kinematics/head/inventory.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using testing::Draw;
using ::testing::HasSubstr;
using ::testing::StartsWith;
using testing::two_blades;

Fault fault_of(FaultKind kind, const head::Description& d) {
    const FaultKind kinds[] = {kind};
    return faults(d, kinds).front();
}

std::string done_about(FaultKind kind, double size) {
    const head::Description d = two_blades();
    return correction(fault_of(kind, d), size, *head::Head::build(d)).words;
}

// M2 has 0.40 mm a turn (ISO 261), so half a turn of one end is 0.2 mm. The head turns clockwise, seen from above.
TEST(Correction, UndoesTheFault) {
    EXPECT_EQ(done_about(FaultKind::lower_link, 0.6), "3 half turns shorter");
    EXPECT_EQ(done_about(FaultKind::upper_link, -0.2), "half a turn longer");
    EXPECT_EQ(done_about(FaultKind::trim, 1.25), "move the horn 1.2 deg clockwise, seen on the horn's face (sub-trim)");
    EXPECT_EQ(done_about(FaultKind::guide_turn, 3),
              "turn the guide 3.0 deg clockwise, seen from above; replace it if it is bent");
    EXPECT_EQ(done_about(FaultKind::driver_turn, 4),
              "turn the collar 4.0 deg back (anticlockwise, seen from above) and clamp it");
    EXPECT_EQ(done_about(FaultKind::driver_turn, -4),
              "turn the collar 4.0 deg ahead (clockwise, seen from above) and clamp it");
    EXPECT_EQ(done_about(FaultKind::end_point, 8),
              "take 8 % off the end that lowers its ball: both ends of a channel alike");
    EXPECT_EQ(done_about(FaultKind::servo_reversed, 0), "reverse its channel");
    EXPECT_EQ(done_about(FaultKind::mixer_sign, 0), "change the sign of the collective travel");
    Fault tooth = fault_of(FaultKind::horn_tooth, two_blades());
    const head::Head head = *head::Head::build(two_blades());
    tooth.teeth = -1;
    EXPECT_EQ(correction(tooth, 0, head).words, "turn the horn one tooth anticlockwise, seen on the horn's face");
    tooth.teeth = 2;
    EXPECT_EQ(correction(tooth, 0, head).words, "turn the horn 2 teeth clockwise, seen on the horn's face");
}

TEST(Correction, ReplacesWhatIsBentOrWornAndSetsNoLinkForIt) {
    const head::Description d = two_blades();
    for (const FaultKind kind :
         {FaultKind::bent_spindle, FaultKind::arm_lead, FaultKind::arm_along, FaultKind::arm_turn,
          FaultKind::bent_shaft, FaultKind::stripped_gear, FaultKind::worn_end, FaultKind::blade_offset}) {
        const Correction found = correction(fault_of(kind, d), 0.8, *head::Head::build(d));
        EXPECT_FALSE(found.change_mm || found.turns) << found.words;
        EXPECT_THAT(found.words, ::testing::ContainsRegex("replace|new ball link")) << found.words;
        EXPECT_THAT(found.words, ::testing::Not(HasSubstr("half turn")));
    }
    for (const FaultKind kind : {FaultKind::bent_spindle, FaultKind::arm_turn, FaultKind::bent_shaft})
        EXPECT_THAT(done_about(kind, 1), HasSubstr("with new bolts"));
}

/// The horn set round on the servo as the words say: its direction turned about the output shaft, which points at who
/// looks at the horn's face.
void turn_horn(head::Servo& servo, double deg, bool anticlockwise) {
    const double angle = (anticlockwise ? deg : -deg) * degree;
    servo.horn_zero = Eigen::AngleAxisd(angle, servo.axis.normalized()) * servo.horn_zero;
}

/// Does what the words say, to a head of which only the part is known.
void follow(const Correction& c, head::Description& d) {
    const std::string& words = c.words;
    const auto part = head::part_of(c.part);
    const auto i = static_cast<std::size_t>(part ? part->index : 0);
    const bool anticlockwise = words.find("anticlockwise") != std::string::npos;
    std::smatch found;
    if (std::regex_match(words, found, std::regex(R"(move the horn (\S+) deg .*horn's face \(sub-trim\))"))) {
        turn_horn(d.servos[i], std::stod(found[1]), anticlockwise);
    } else if (std::regex_match(words, found, std::regex(R"(turn the horn (one|\d) t\w+ .*horn's face)"))) {
        const int teeth = found[1] == "one" ? 1 : std::stoi(found[1]);
        turn_horn(d.servos[i], 360.0 / d.servos[i].spline_teeth * teeth, anticlockwise);
    } else if (std::regex_match(words, found, std::regex(R"(turn the guide (\S+) deg .*seen from above.*)"))) {
        d.swashplate.guide_turn_deg += (anticlockwise ? 1 : -1) * std::stod(found[1]);
    } else if (std::regex_match(words, found, std::regex(R"(turn the collar (\S+) deg .*seen from above.*)"))) {
        d.swashplate.driver_turn_deg +=
            (anticlockwise ? 1 : -1) * head::spin_sign(d.rotor.direction) * std::stod(found[1]);
    } else if (std::regex_match(words, found, std::regex(R"((take|give) (\d+) % (off|to) the end that (\w+) .*)"))) {
        d.servos[i].end_share[found[4] == "raises"] += (found[1] == "take" ? -0.01 : 0.01) * std::stod(found[2]);
    } else if (words == "reverse its channel") {
        *d.servos[i].raise *= -1;
    } else if (std::regex_match(words, found, std::regex(R"(change the sign of the (\w+) travel)"))) {
        if (found[1] == "collective") d.mixing.collective_deg *= -1;
        for (head::Servo& servo : d.servos) {
            if (found[1] == "aileron") *servo.aileron_weight *= -1;
            if (found[1] == "elevator") *servo.elevator_weight *= -1;
        }
    } else {
        ASSERT_TRUE(c.change_mm) << words;
        link_of(d, *part)->error_mm += *c.change_mm;
        const double steps = *c.change_mm / 0.2;  // M2, half a turn of one end
        const int told = words.starts_with("half a turn ") ? 1 : std::atoi(words.c_str());
        EXPECT_EQ(std::abs(std::lround(steps)), told) << words;
        if (std::abs(steps) > 0.5) {
            EXPECT_THAT(words, HasSubstr(steps > 0 ? "longer" : "shorter"));
        }
    }
}

constexpr FaultKind set_right[] = {FaultKind::lower_link, FaultKind::upper_link,     FaultKind::horn_tooth,
                                   FaultKind::trim,       FaultKind::servo_reversed, FaultKind::mixer_sign,
                                   FaultKind::end_point,  FaultKind::guide_turn,     FaultKind::driver_turn};

/// A size that the words can write to the last figure.
double even_size(Draw& draw, FaultKind kind) {
    const double sense = draw.chance(0.5) ? 1 : -1;
    if (kind == FaultKind::end_point) return sense * draw.whole(1, 15);
    return sense * 0.1 * draw.whole(2, 14);
}

// Sound again to what the solver leaves and the words round away (nothing, for these sizes).
RC_GTEST_PROP(Correction, FollowedMakesTheHeadSoundAllRoundTheTurn, (std::uint64_t seed)) {
    std::mt19937_64 bits(seed);
    Draw draw(bits);
    const auto built = head::Head::build(testing::random_head(bits));
    RC_ASSERT(built.has_value());
    const head::Description d = head::mixer_kept(*built);
    const auto kind = set_right[static_cast<std::size_t>(draw.whole(0, std::size(set_right) - 1))];
    const FaultKind kinds[] = {kind};
    const auto all = faults(d, kinds);
    const Fault fault = all[static_cast<std::size_t>(draw.whole(0, static_cast<int>(all.size()) - 1))];
    const double size = even_size(draw, kind);
    const Correction found = correction(fault, size, *built);
    head::Description mended = d;
    apply(fault, size, mended);
    follow(found, mended);
    const auto again = head::Head::build(mended);
    RC_ASSERT(again.has_value());
    for (const head::Sticks& sticks : {head::Sticks{}, head::Sticks{0.5, 0.4, 0}, head::Sticks{-0.6, 0, -0.5}})
        for (double azimuth = 0; azimuth < 360; azimuth += 60) {
            const auto sound = built->pose(sticks, azimuth), now = again->pose(sticks, azimuth);
            RC_ASSERT(sound.has_value() == now.has_value());
            for (std::size_t k = 0; sound && k < sound->pitch_deg.size(); ++k)
                RC_ASSERT(std::abs(sound->pitch_deg[k] - now->pitch_deg[k]) < 1e-6);
        }
}

TEST(Correction, SwapsLinksBack) {
    head::Description d = two_blades();
    d.lower_links[1].length_mm += 0.5;
    d.upper_links[1].length_mm += 0.5;
    for (const FaultKind kind : {FaultKind::swapped_lower, FaultKind::swapped_upper}) {
        const Fault fault = fault_of(kind, d);
        EXPECT_EQ(correction(fault, 0, *head::Head::build(d)).words, "swap them back");
        head::Description swapped = d;
        apply(fault, 0, swapped);
        auto& links = links_of(swapped, head::part_of(fault.part)->role);
        EXPECT_NE(links[0].length_mm, links_of(d, head::part_of(fault.part)->role)[0].length_mm);
        std::swap(links[0], links[1]);
        const auto sound = head::Head::build(d)->pose(head::Sticks{0.4, 0.2, 0}, 40);
        EXPECT_EQ(head::Head::build(swapped)->pose(head::Sticks{0.4, 0.2, 0}, 40)->pitch_deg, sound->pitch_deg);
    }
}

}  // namespace
}  // namespace swashwright::studies
