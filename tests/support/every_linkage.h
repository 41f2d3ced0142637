// All linkages of tests/data/linkages for tests of studies, and what is seen of them in a pose: points and placements
// of `Skeleton` alone.
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/answer/answer.h"
#include "tests/support/random_linkage.h"

namespace swashwright::testing {

/// All that can be built and closes: those of the folder, and each moved a little.
inline std::vector<head::Head> heads() {
    std::vector<head::Head> out;
    std::mt19937_64 bits(77);
    for (const head::Description& d : linkages())
        for (const head::Description& one : {d, moved_a_little(d, bits)}) {
            auto head = head::Head::build(one);
            if (head && !head->neutral_failure()) out.push_back(*head);
        }
    EXPECT_GE(out.size(), 12U);
    return out;
}

/// Somewhere off the middle.
inline head::Sticks some_sticks(const head::Description& d) {
    return d.kind == head::Kind::tail ? head::Sticks{.rudder = 0.35}
                                      : head::Sticks{.collective = 0.3, .aileron = -0.2, .elevator = 0.25};
}

struct Rod {
    std::string path;
    std::array<head::BallName, 2> ends;
    head::Link made;
};

inline std::vector<Rod> rods_of(const head::Description& d) {
    std::vector<Rod> out;
    for (const head::PartName& link : links_of(d)) out.push_back({path_of(link), *ends_of(d, link), *link_of(d, link)});
    return out;
}

/// A ball in the head frame: where it is, which way its stud points by the scene's defaults, and its part.
struct Seen {
    Vec3 at, stud;
    Placement part;
};

inline Seen seen(const head::Description& d, const head::Skeleton& s, const head::BallName& name) {
    const auto i = static_cast<std::size_t>(name.index), b = static_cast<std::size_t>(name.ball);
    const auto on_ring = [](const Placement& ring, const Vec3& at) {
        const Vec3 normal = ring.turn.col(2), arm = at - ring.origin;
        return Seen{at, (arm - arm.dot(normal) * normal).normalized(), ring};
    };
    switch (name.of) {
        case head::BallName::Of::servo:
            return {s.horn_balls[i], s.horns[i].turn.col(2), s.horns[i]};
        case head::BallName::Of::inner_ball:
            return on_ring(s.inner_ring, s.inner_balls[i]);
        case head::BallName::Of::outer_ball:
            return on_ring(s.outer_ring, s.outer_balls[i]);
        case head::BallName::Of::grip:
            return {s.grip_balls[i], s.grips[i].turn.col(0) * (d.grips[i].pitch_arm.lead_mm < 0 ? -1 : 1), s.grips[i]};
        case head::BallName::Of::lever:
            return {s.lever_balls[i][b], s.levers[i].turn.col(2), s.levers[i]};
        case head::BallName::Of::slider:
            return {s.slider_balls[i][b], s.sliders[i].turn.col(2), s.sliders[i]};
        case head::BallName::Of::fixed_ball:
            break;
    }
    EXPECT_EQ(d.fixed_balls[i].on.on, head::Carrier::On::frame);  // all that the folder has
    return {s.fixed_balls[i], Vec3::UnitZ(), {}};
}

/// Pitch of every blade with one number of the head changed, mixer kept.
inline std::vector<double> pitch_with(const head::Head& head, const head::Number& number, double by,
                                      const head::Sticks& sticks, double azimuth_deg) {
    head::Description d = head::mixer_kept(head);
    head::value(d, number) += by;
    const auto changed = head::Head::build(d);
    EXPECT_TRUE(changed) << number.path;
    const auto pose = changed->pose(sticks, azimuth_deg);
    EXPECT_TRUE(pose) << number.path;
    return pose ? pose->pitch_deg : std::vector<double>{};
}

inline void expect_finite(const studies::Answer& answer) {
    EXPECT_FALSE(answer.text.empty()) << answer.study;
    std::string all = answer.text;
    for (const std::string& note : answer.notes) all += note;
    for (const char* word : {"nan", "inf "})
        EXPECT_THAT(all, ::testing::Not(::testing::HasSubstr(word))) << answer.study;
    for (const studies::Table& table : answer.tables)
        for (const auto& row : table.rows) {
            EXPECT_EQ(row.size(), table.columns.size()) << answer.study << " " << table.key;
            for (const studies::Cell& cell : row)
                if (const double* number = std::get_if<double>(&cell)) {
                    EXPECT_TRUE(std::isfinite(*number)) << answer.study << " " << table.key;
                }
        }
}

}  // namespace swashwright::testing
