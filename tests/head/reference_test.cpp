// Plain heads against poses from an independent solver: see tests/data/reference/README.md.

#include <gtest/gtest.h>

#include "kinematics/head/solver.h"
#include "tests/support/reference_head.h"

namespace swashwright::head {
namespace {

using testing::reference_heads;
using testing::sticks_of;

TEST(ReferenceHeads, PitchHeightAndTiltAreWithinATenMillionth) {
    const auto heads = reference_heads("reference");
    ASSERT_EQ(heads.size(), 6u);
    for (const auto& [file, head, poses] : heads) {
        for (const auto& wanted : poses) {
            const auto pose = head.pose(sticks_of(wanted), wanted["azimuth_deg"]);
            ASSERT_TRUE(pose.has_value()) << file << ": " << pose.error().message;
            for (std::size_t j = 0; j < pose->horn_deg.size(); ++j)
                EXPECT_NEAR(pose->horn_deg[j], wanted["horns_deg"][j], 1e-9);
            EXPECT_NEAR(pose->height_mm, wanted["height_mm"], 1e-7) << file;
            EXPECT_NEAR(pose->tilt_deg, wanted["tilt_deg"], 1e-7) << file;
            EXPECT_GT(pose->tilt_deg, 0.1) << "an azimuth can be compared";
            EXPECT_NEAR(pose->lowest_azimuth_deg, wanted["lowest_azimuth_deg"], 1e-5) << file;
            for (std::size_t k = 0; k < pose->pitch_deg.size(); ++k)
                EXPECT_NEAR(pose->pitch_deg[k], wanted["pitch_deg"][k], 1e-7) << file;
            EXPECT_LT(pose->residual_mm, 1e-10) << file;
        }
    }
}

TEST(ReferenceHeads, PitchPerMillimetreOfEveryLinkIsWithinAHundredThousandth) {
    int compared = 0;
    for (const auto& [file, head, poses] : reference_heads("reference")) {
        Solver solver(head);
        Slopes slopes;
        for (const auto& wanted : poses) {
            if (!wanted.contains("pitch_deg_per_mm")) continue;
            ASSERT_TRUE(solver.pose(sticks_of(wanted), wanted["azimuth_deg"]));
            ASSERT_TRUE(solver.linearise());
            for (const Number& parameter : numbers(head.description())) {
                const bool lower = parameter.kind == NumberKind::lower_length;
                if (!lower && parameter.kind != NumberKind::upper_length) continue;
                solver.slopes_by(parameter, slopes);
                const auto& row =
                    wanted["pitch_deg_per_mm"][(lower ? "lower " : "upper ") + std::to_string(parameter.index + 1)];
                for (std::size_t k = 0; k < slopes.pitch_deg.size(); ++k)
                    EXPECT_NEAR(slopes.pitch_deg[k], row[k], 1e-5) << file << " " << parameter.path;
                ++compared;
            }
        }
    }
    EXPECT_GT(compared, 30);
}

}  // namespace
}  // namespace swashwright::head
