// Heads of every kind of linkage, drawn at random, and sticks to pose them with.
#pragma once

#include <vector>

#include "kinematics/head/head.h"
#include "tests/support/random_linkage.h"

namespace swashwright::testing {

/// Heads of every kind, and a plain one with a second driver pin, each moved a little.
inline std::vector<head::Head> heads_of_every_kind(std::uint64_t seed, int of_each) {
    std::mt19937_64 bits(seed);
    std::vector<head::Description> kinds = linkages();
    kinds.push_back(random_head(bits));
    kinds.push_back(random_head(bits));
    head::Polar other = kinds.back().swashplate.driver_pins[0];
    other.angle_deg += 180;
    kinds.back().swashplate.driver_pins.push_back(other);
    kinds.back().swashplate.driver_pins_as_list = true;
    std::vector<head::Head> out;
    for (const head::Description& kind : kinds)
        for (int i = 0; i < of_each; ++i) {
            const auto built = head::Head::build(moved_a_little(kind, bits));
            EXPECT_TRUE(built) << kind.name;
            if (built && !built->neutral_failure()) out.push_back(*built);
        }
    EXPECT_GT(out.size(), kinds.size() * static_cast<std::size_t>(of_each) * 3 / 4);
    return out;
}

inline head::Sticks some_sticks(Draw& draw) {
    return {draw.between(-0.7, 0.7), draw.between(-0.5, 0.5), draw.between(-0.5, 0.5), draw.between(-0.7, 0.7)};
}

}  // namespace swashwright::testing
