#include "kinematics/studies/lengths/lengths.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <sstream>

#include "kinematics/head/solver.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using testing::Draw;

bool usual(const Description& d) {
    return d.levers.empty() && d.links.empty() && d.pins.empty() && d.servos.size() == 3;
}

/// The demos of the usual head, each horn linked straight to the ring, and the reference heads.
std::vector<std::string> scene_files() {
    std::vector<std::string> out;
    for (const char* folder : {SWASHWRIGHT_SCENES, SWASHWRIGHT_TEST_DATA "/reference"})
        for (const auto& entry : std::filesystem::directory_iterator(folder))
            if (entry.path().extension() == ".toml" && usual(testing::loaded(entry.path().string())))
                out.push_back(entry.path().string());
    return out;
}

void disturb(Description& d, Draw& draw, double by) {
    for (auto* links : {&d.lower_links, &d.upper_links})
        for (head::Link& link : *links) link.length_mm += draw.between(-by, by);
}

/// Level at nominal height and zero pitch all round the turn, by a head built anew and posed from neutral.
void expect_level_and_zero(const Description& d, double tolerance) {
    const auto head = head::Head::build(d);
    ASSERT_TRUE(head) << head.error().message;
    for (int azimuth = 0; azimuth < 360; azimuth += 40) {
        const auto pose = head->pose(head::Sticks{}, azimuth);
        ASSERT_TRUE(pose) << pose.error().message;
        EXPECT_NEAR(pose->height_mm, d.swashplate.neutral_height_mm, tolerance);
        EXPECT_NEAR(pose->tilt_deg, 0, tolerance);
        for (const double pitch : pose->pitch_deg) EXPECT_NEAR(pitch, 0, tolerance);
    }
}

TEST(LinkLengths, LevelsAndZeroesEveryHeadFromLinksDisturbedByThreeMillimetres) {
    std::mt19937_64 bits(3);
    Draw draw(bits);
    for (const std::string& file : scene_files())
        for (int i = 0; i < 8; ++i) {
            SCOPED_TRACE(file);
            Description d = testing::loaded(file);
            disturb(d, draw, 3.0);
            const auto found = link_lengths(d, {.wishes = {}, .free = free_links(d)});
            ASSERT_TRUE(found) << found.error();
            for (const WishOutcome& wish : found->wishes) EXPECT_TRUE(wish.met()) << wish.words << " " << wish.exact;
            expect_level_and_zero(found->exact, 1e-6);
            EXPECT_LE(found->left_set, found->left_set_each);
        }
}

TEST(LinkLengths, SquaresTheHornsWithNeutralAnglesFree) {
    std::mt19937_64 bits(4);
    Draw draw(bits);
    for (const std::string& file : scene_files())
        for (int i = 0; i < 4; ++i) {
            SCOPED_TRACE(file);
            Description d = testing::loaded(file);
            disturb(d, draw, 3.0);
            LengthsRequest request{.wishes = {.square_horns = true}, .free = free_links(d)};
            for (const FreeNumber& free : free_neutrals(d)) request.free.push_back(free);
            const auto found = link_lengths(d, request);
            ASSERT_TRUE(found) << found.error();
            expect_level_and_zero(found->exact, 1e-6);
            const auto head = head::Head::build(found->exact);
            ASSERT_TRUE(head);
            const auto pose = head->pose(head::Sticks{}, 0);
            ASSERT_TRUE(pose);
            for (std::size_t j = 0; j < 3; ++j) {  // seen from the skeleton: horn along x of its body
                const Vec3 link = pose->skeleton.inner_balls[j] - pose->skeleton.horn_balls[j];
                const double cosine = pose->skeleton.horns[j].turn.col(0).dot(link.normalized());
                EXPECT_NEAR(std::asin(cosine) / degree, 0, 1e-6);
            }
        }
}

// Central differences at 1e-5 of the number leave errors of about 1e-9 in slopes of order 1.
TEST(LinkLengths, SlopesOfEveryWishAgreeWithDifferences) {
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        const Description d = testing::random_head(seed);
        const Wishes wishes{.square_horns = true, .range_deg = std::array{-10.0, 11.0}};
        const auto rows = wish_rows(d, wishes);
        const auto numbers = head::numbers(d);
        const auto at = [&](const Description& changed, std::span<const head::Number> by) {
            const auto head = head::Head::build(changed);
            EXPECT_TRUE(head);
            return wish_values(*head, wishes, rows, by);
        };
        const auto here = at(d, numbers);
        if (!here) continue;  // a random head may not reach full collective
        for (std::size_t p = 0; p < numbers.size(); ++p) {
            Description more = d, less = d;
            constexpr double step = 1e-5;
            head::value(more, numbers[p]) += step;
            head::value(less, numbers[p]) -= step;
            const auto up = at(more, {}), down = at(less, {});
            ASSERT_TRUE(up && down);
            const Eigen::VectorXd slope = (up->off - down->off) / (2 * step);
            const double worst = (slope - here->slopes.col(static_cast<Eigen::Index>(p))).cwiseAbs().maxCoeff();
            EXPECT_LT(worst, 2e-6) << numbers[p].path << " seed " << seed;
        }
    }
}

// The same of four servos, by lengths and places alike; a misfit's slope is at most 1 mm per mm.
TEST(LinkLengths, SlopesOfAMisfitAgreeWithDifferences) {
    Description d = testing::demo("four_servos_700.toml");
    d.lower_links[1].error_mm = 0.4;
    const auto rows = wish_rows(d, {});
    ASSERT_EQ(std::ranges::count(rows, WishKind::misfit, &WishRow::kind), 4);
    const auto numbers = head::numbers(d);
    const auto at = [&](const Description& changed) {
        return wish_values(*head::Head::build(changed), {}, rows, numbers).value();
    };
    const WishValues here = at(d);
    for (std::size_t p = 0; p < numbers.size(); ++p) {
        Description more = d, less = d;
        constexpr double step = 1e-5;
        head::value(more, numbers[p]) += step;
        head::value(less, numbers[p]) -= step;
        const Eigen::VectorXd slope = (at(more).off - at(less).off) / (2 * step);
        EXPECT_LT((slope - here.slopes.col(static_cast<Eigen::Index>(p))).cwiseAbs().maxCoeff(), 2e-6)
            << numbers[p].path;
    }
}

TEST(LinkLengths, SaysWhichWishCannotBeMetAndByHowMuch) {
    Description d = testing::demo("two_blade_600.toml");
    d.lower_links[0].length_mm += 0.5;
    LengthsRequest request;
    for (const FreeNumber& free : free_links(d))
        if (free.number.kind == head::NumberKind::upper_length) request.free.push_back(free);
    const auto found = link_lengths(d, request);
    ASSERT_TRUE(found) << found.error();
    const auto pose = head::Head::build(found->exact)->pose(head::Sticks{}, 0);
    ASSERT_TRUE(pose);
    ASSERT_EQ(found->wishes.size(), 3U);
    EXPECT_FALSE(found->wishes[1].met());
    EXPECT_NEAR(found->wishes[1].exact, pose->tilt_deg, 1e-9);
    EXPECT_NE(answer(*found).text.find("Cannot be met"), std::string::npos);
}

/// What a head shows round the turn, posed from neutral at every degree.
struct Shown {
    double tilt_deg = 0, pitch_deg = 0;  // the most
};

Shown shown(const Description& d) {
    Shown out;
    const auto head = head::Head::build(d);
    for (int azimuth = 0; azimuth < 360; ++azimuth) {
        const auto pose = head->pose(head::Sticks{}, azimuth);
        EXPECT_TRUE(pose);
        out.tilt_deg = std::max(out.tilt_deg, pose->tilt_deg);
        for (const double pitch : pose->pitch_deg) out.pitch_deg = std::max(out.pitch_deg, std::abs(pitch));
    }
    return out;
}

/// What is left comes up to all that a pose shows. Half a degree, between two of its places, is 4e-5 of a swing of a
/// few degrees, sixteen times that of one four times a turn: 0.002 deg.
void expect_worst_shown(const Lengths& found) {
    const auto left = [&](WishKind kind, auto value) {
        return (*std::ranges::find(found.wishes, kind, &WishOutcome::kind)).*value;
    };
    const auto expect = [](double told, double seen) {
        EXPECT_GE(told, seen - 1e-8);
        EXPECT_LE(told, seen + 0.002);
    };
    const Shown exact = shown(found.exact), set = shown(found.set);
    expect(left(WishKind::level, &WishOutcome::exact), exact.tilt_deg);
    expect(left(WishKind::level, &WishOutcome::set), set.tilt_deg);
    expect(left(WishKind::pitch, &WishOutcome::exact), exact.pitch_deg);
    expect(left(WishKind::pitch, &WishOutcome::set), set.pitch_deg);
}

TEST(LinkLengths, WhatIsLeftIsTheWorstThatAPoseShowsAllRoundTheTurn) {
    std::vector<Description> heads;
    for (const std::string& file : scene_files()) heads.push_back(testing::loaded(file));
    for (std::uint64_t seed = 1; seed <= 40; ++seed) heads.push_back(testing::random_head(seed));
    std::mt19937_64 bits(5);
    Draw draw(bits);
    int tilted = 0;
    for (Description& d : heads) {
        disturb(d, draw, 1.0);
        LengthsRequest request;
        for (const FreeNumber& free : free_links(d))  // the ring stays as tilted as it is
            if (free.number.kind == head::NumberKind::upper_length) request.free.push_back(free);
        const auto found = link_lengths(d, request);
        ASSERT_TRUE(found) << found.error();
        expect_worst_shown(*found);
        tilted += !found->wishes.back().met();
        request.free = free_links(d);
        const auto all = link_lengths(d, request);
        ASSERT_TRUE(all) << all.error();
        expect_worst_shown(*all);
    }
    EXPECT_GT(tilted, 40);
}

// Mean pitch at the ends, by poses from neutral at every third degree.
TEST(LinkLengths, WhatIsLeftOfARangeIsWhatTheMeansOverATurnShow) {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const Description d = testing::random_head(seed, {.misfit_mm = 1.0});
        const std::array wanted{-8.0, 8.0};
        const auto found = link_lengths(d, {.wishes = {.range_deg = wanted}, .free = free_links(d)});
        if (!found) continue;  // a random head may not reach full collective
        const auto head = head::Head::build(found->exact);
        double most = 0;
        for (int k = 0; k < d.rotor.blades; ++k)
            for (const int end : {0, 1}) {
                double mean = 0;
                for (int i = 0; i < 120; ++i)
                    mean += head->pose({.collective = end == 0 ? -1.0 : 1.0}, 3.0 * i)->pitch_deg[std::size_t(k)] / 120;
                most = std::max(most, std::abs(mean - wanted[std::size_t(end)]));
            }
        ASSERT_EQ(found->wishes.back().kind, WishKind::range);
        EXPECT_NEAR(found->wishes.back().exact, most, 1e-7) << seed;
    }
}

TEST(LinkLengths, BringsTogetherAHeadThatDoesNotClose) {
    for (const std::string& file : scene_files()) {
        SCOPED_TRACE(file);
        Description d = testing::loaded(file);
        for (head::Link& link : d.upper_links) link.length_mm += 60;  // no grip reaches so far
        ASSERT_NE(head::Head::build(d)->neutral_failure(), nullptr);
        LengthsRequest request{.wishes = {}, .free = free_links(d)};
        for (FreeNumber& free : request.free) free.least -= 60;
        const auto found = link_lengths(d, request);
        ASSERT_TRUE(found) << found.error();
        EXPECT_TRUE(found->carried_over);
        expect_level_and_zero(found->exact, 1e-6);
    }
}

TEST(LinkLengths, SaysWhyAHeadCannotBeBroughtTogether) {
    Description d = testing::demo("two_blade_600.toml");
    for (head::Link& link : d.upper_links) link.length_mm += 60;
    const auto found = link_lengths(d, {.wishes = {}, .free = free_neutrals(d)});
    ASSERT_FALSE(found);
    EXPECT_NE(found.error().find("upper link"), std::string::npos) << found.error();
}

TEST(LinkLengths, ReachesAWantedRangeByTheMixingOrByTheHoles) {
    Description d = testing::demo("three_blade_700.toml");
    LengthsRequest request{.wishes = {.range_deg = std::array{-11.0, 11.0}}, .free = free_links(d)};
    for (const head::Number& p : head::numbers(d))
        if (p.path == "mixing.collective_deg") request.free.push_back(free_number(d, p));
    const auto found = link_lengths(d, request);
    ASSERT_TRUE(found) << found.error();
    const auto head = head::Head::build(found->exact);
    double low = 0, high = 0;
    for (const int azimuth : {0, 120, 240}) {
        low += head->pose({.collective = -1}, azimuth)->pitch_deg[0] / 3;
        high += head->pose({.collective = 1}, azimuth)->pitch_deg[0] / 3;
    }
    EXPECT_NEAR(high - low, 22, 0.05);  // a lever is not quite even up and down: both ends share what is left

    for (head::Servo& servo : d.servos) servo.horn_holes_mm = {14, 16, 18, 20};
    request.free = free_links(d);
    for (const FreeNumber& free : free_horns(d)) request.free.push_back(free);
    const auto holes = link_lengths(d, request);
    ASSERT_TRUE(holes) << holes.error();
    for (const head::Servo& servo : holes->set.servos)
        EXPECT_NE(std::ranges::find(servo.horn_holes_mm, servo.horn_mm), servo.horn_holes_mm.end()) << servo.horn_mm;
}

TEST(LinkLengths, SettingsAreOnWhatCanBeSet) {
    Description d = testing::demo("three_blade_700.toml");
    std::mt19937_64 bits(8);
    Draw draw(bits);
    disturb(d, draw, 3);
    d.upper_links[0].rod = head::Rod::turnbuckle;
    d.upper_links[1].end_faces = head::EndFaces::one_side;
    const auto found = link_lengths(d, {.wishes = {}, .free = free_links(d)});
    ASSERT_TRUE(found);
    for (const Setting& s : found->settings) {
        const bool upper = s.free.number.kind == head::NumberKind::upper_length;
        if (upper && s.free.number.index == 0) continue;                      // set to anything
        const double step = upper && s.free.number.index == 1 ? 0.40 : 0.20;  // M2: whole turns, half turns
        const double steps = (s.set - s.present) / step;
        EXPECT_NEAR(steps, std::round(steps), 1e-9) << s.free.number.label;
    }
}

// Lower links all too long by a little lift the ring; upper links rounded by themselves then cannot make up for it.
TEST(LinkLengths, RoundingTogetherIsNeverWorseAndCanBeMuchBetter) {
    double best_gain = 1, sum_each = 0, sum_set = 0;
    int clearly = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        Description d = testing::random_head(seed, {.misfit_mm = 1.5});
        for (head::Link& link : d.lower_links) link.end_faces = head::EndFaces::one_side;
        const auto found = link_lengths(d, {.wishes = {}, .free = free_links(d)});
        ASSERT_TRUE(found) << found.error();
        EXPECT_LE(found->left_set, found->left_set_each);
        const WishOutcome& pitch = found->wishes.back();
        ASSERT_EQ(pitch.kind, WishKind::pitch);
        sum_each += found->left_set_each;
        sum_set += found->left_set;
        clearly += found->left_set_each > 1.5 * found->left_set;
        best_gain = std::max(best_gain, found->left_set_each / found->left_set);
    }
    RecordProperty("mean_gain", std::to_string(sum_each / sum_set));
    RecordProperty("clearly_better", clearly);
    EXPECT_GT(best_gain, 2.0);
    EXPECT_GT(clearly, 10);
}

TEST(LinkLengths, BoundsAreKeptAndTold) {
    Description d = testing::demo("two_blade_600.toml");
    d.upper_links[1].length_mm += 2;
    LengthsRequest request{.wishes = {}, .free = free_links(d)};
    request.free.back().least = d.upper_links[1].length_mm - 1;
    const auto found = link_lengths(d, request);
    ASSERT_TRUE(found) << found.error();
    EXPECT_TRUE(found->settings.back().at_bound);
    EXPECT_DOUBLE_EQ(found->settings.back().exact, request.free.back().least);
    EXPECT_FALSE(found->wishes.back().met());
    EXPECT_EQ(found->wishes.back().worst.substr(0, 7), "blade 2");
}

TEST(LinkLengths, RefusesWhatMakesNoSense) {
    const Description d = testing::demo("two_blade_600.toml");
    EXPECT_FALSE(link_lengths(d, {.wishes = {}, .free = {}}));
    EXPECT_FALSE(link_lengths(d, {.wishes = {.level_ring = false, .zero_pitch = false}, .free = free_links(d)}));
    std::stop_source stop;
    stop.request_stop();
    EXPECT_FALSE(link_lengths(d, {.wishes = {}, .free = free_links(d)}, {.stop = stop.get_token()}));
}

TEST(LinkLengths, AnswerFitsTheColumns) {
    for (const std::string& file : scene_files()) {
        Description d = testing::loaded(file);
        d.lower_links[0].length_mm += 1;
        LengthsRequest request{.wishes = {.square_horns = true}, .free = free_links(d)};
        for (const FreeNumber& free : free_neutrals(d)) request.free.push_back(free);
        const auto found = link_lengths(d, request);
        ASSERT_TRUE(found);
        const std::string text = as_text(answer(*found));
        for (std::size_t from = 0; from < text.size(); from = text.find('\n', from) + 1)
            EXPECT_LE(text.find('\n', from) - from, 100U) << text.substr(from, text.find('\n', from) - from);
    }
}

TEST(LinkLengths, AnswerFitsTheColumnsOfOtherLinkagesToo) {
    for (const char* scene : {"four_servos_700.toml", "tail_600.toml"}) {
        Description d = testing::demo(scene);
        (d.lower_links.empty() ? d.links : d.lower_links)[0].length_mm += 0.5;
        LengthsRequest request;
        for (const FreeNumber& free : free_links(d))  // nothing else comes right
            if (free.number.kind == head::NumberKind::upper_length) request.free.push_back(free);
        const auto found = link_lengths(d, request);
        ASSERT_TRUE(found) << found.error();
        EXPECT_FALSE(found->wishes[0].met());
        std::istringstream lines(as_text(answer(*found)));
        for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 100U) << line;
    }
}

}  // namespace
}  // namespace swashwright::studies
