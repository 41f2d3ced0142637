// Linkages of the trade against poses and slopes from an independent solver: see tests/data/linkages/README.md.

#include <gtest/gtest.h>

#include "kinematics/head/numbers.h"
#include "kinematics/head/solver.h"
#include "tests/support/reference_head.h"

namespace swashwright::head {
namespace {

using testing::reference_heads;
using testing::sticks_of;

std::vector<double> hands_of(const Head& head, const nlohmann::json& pose) {
    std::vector<double> out;
    for (const Parts::Hand& hand : head.parts().hands) {
        const auto i = static_cast<std::size_t>(hand.lever);
        const std::string name = "lever[" + std::to_string(i + 1) + "]";
        out.push_back(pose.contains("hand") && pose["hand"].contains(name) ? double(pose["hand"][name])
                                                                           : head.description().levers[i].angle_deg);
    }
    return out;
}

TEST(ReferenceLinkages, PosesAreWithinATenMillionth) {
    const auto linkages = reference_heads("linkages");
    ASSERT_EQ(linkages.size(), 7u);
    for (const auto& [file, head, poses] : linkages) {
        for (const auto& wanted : poses) {
            // Where closures share, the reference itself is good to a hundred thousandth.
            const double within = wanted.contains("misfit_mm") ? 1e-5 : 1e-7;
            const auto pose = head.pose(sticks_of(wanted), wanted["azimuth_deg"], hands_of(head, wanted));
            ASSERT_TRUE(pose.has_value()) << file << ": " << pose.error().message;
            for (std::size_t j = 0; j < pose->horn_deg.size(); ++j)
                EXPECT_NEAR(pose->horn_deg[j], wanted["horns_deg"][j], 1e-9) << file;
            EXPECT_NEAR(pose->height_mm, wanted["height_mm"], within) << file;
            EXPECT_NEAR(pose->tilt_deg, wanted["tilt_deg"], within) << file;
            for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
                EXPECT_NEAR(pose->pitch_deg[k], wanted["pitch_deg"][k], within) << file;
            EXPECT_LT(pose->residual_mm, 1e-10) << file;
            EXPECT_EQ(pose->misfit_mm.has_value(), wanted.contains("misfit_mm")) << file;
            EXPECT_NEAR(pose->misfit_mm.value_or(0), wanted.value("misfit_mm", 0.0), within) << file;
            std::size_t levers = 0, sliders = 0;
            for (const auto& part : wanted["parts"]) {
                const bool turns = part.contains("angle_deg");
                const double found = turns ? pose->lever_deg[levers++] : pose->slider_mm[sliders++];
                EXPECT_NEAR(found, part[turns ? "angle_deg" : "place_mm"], within) << file;
            }
        }
    }
}

TEST(ReferenceLinkages, PitchPerMillimetreOfEveryLinkIsWithinAHundredThousandth) {
    int compared = 0;
    for (const auto& [file, head, poses] : reference_heads("linkages")) {
        Solver solver(head);
        Slopes slopes;
        const auto all = numbers(head.description());
        for (const auto& wanted : poses) {
            if (!wanted.contains("pitch_deg_per_mm")) continue;
            const auto hands = hands_of(head, wanted);
            for (std::size_t i = 0; i < hands.size(); ++i) solver.set_hand(i, hands[i]);
            ASSERT_TRUE(solver.pose(sticks_of(wanted), wanted["azimuth_deg"])) << file;
            ASSERT_TRUE(solver.linearise()) << file;
            for (const auto& [part, row] : wanted["pitch_deg_per_mm"].items()) {
                const Number* number = find_number(all, part + ".length_mm");
                ASSERT_NE(number, nullptr) << part;
                solver.slopes_by(*number, slopes);
                for (std::size_t k = 0; k < slopes.pitch_deg.size(); ++k) {
                    const double found = slopes.pitch_deg[k], expected = row[k];
                    // The reference's own differences: 1e-5, of the slope where it is large.
                    EXPECT_NEAR(found, expected, 1e-5 * std::max(1.0, std::abs(expected))) << file << " " << part;
                }
                ++compared;
            }
        }
    }
    EXPECT_GT(compared, 40);
}

}  // namespace
}  // namespace swashwright::head
