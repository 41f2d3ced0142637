// The plot of what servos hold around the turn.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/studies/live/live_value.h"
#include "kinematics/studies/loads/loads.h"
#include "tests/support/demo_head.h"
#include "viewer/sheet/plots.h"
#include "viewer/sheet/print.h"

namespace swashwright::sheet {
namespace {

using ::testing::HasSubstr;

TEST(LoadsPlot, HasALineForEachServoThatComesBackAndTheAzimuthNow) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    const head::Sticks sticks{0.7, 0.2, -0.3};
    studies::Flying flying(head, studies::usual_flight(head.description()));
    const auto turn = studies::load_turn(flying, sticks);
    ASSERT_TRUE(turn);
    const Plot plot = loads_plot(*turn, sticks, 75, head.description());
    ASSERT_EQ(plot.lines.size(), 4U);
    studies::LoadsOptions options;
    options.sticks = sticks;
    const studies::Loads whole = studies::loads(head, options).value();
    for (std::size_t j = 0; j < 3; ++j) {
        const Line& line = plot.lines[j];
        EXPECT_EQ(line.x.back(), 360);
        EXPECT_EQ(line.y.back(), line.y.front());
        EXPECT_EQ(line.index, static_cast<int>(j));
        const auto [least, most] = std::ranges::minmax(line.y);
        EXPECT_NEAR(std::max(-least, most), std::abs(whole.horns[j].here_nmm), 1e-9);  // as the table has it
        for (std::size_t i = 0; i < line.x.size(); i += 5) {
            const auto live = studies::live_value(head, sticks, line.x[i], fmt::format("servo[{}].load_nmm", j + 1));
            ASSERT_TRUE(live);
            EXPECT_NEAR(line.y[i], *live, 1e-6 * (most - least)) << line.name << " at " << line.x[i];
        }
    }
    EXPECT_EQ(plot.lines[3].x, (std::vector<double>{75, 75}));
    EXPECT_LE(y_range(plot).low, 0);
    EXPECT_GE(y_range(plot).high, 0);
    EXPECT_THAT(plot.title, HasSubstr("collective +0.70, aileron +0.20, elevator -0.30"));
    EXPECT_THAT(svg(plot).value(), HasSubstr("<svg"));
}

// With no cyclic all servos of an even head hold as much: one line, told once.
TEST(LoadsPlot, TellsServosThatHoldTheSameInOneLine) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    studies::Flying flying(head, studies::usual_flight(head.description()));
    const Plot plot = loads_plot(studies::load_turn(flying, {0.7, 0, 0}).value(), {0.7, 0, 0}, 0, head.description());
    ASSERT_EQ(plot.lines.size(), 2U);
    EXPECT_EQ(plot.lines[0].name, "servo left, servo right, servo rear");
    EXPECT_EQ(plot.numbers.rows.size(), 3U);
    EXPECT_LE(y_range(plot).low, 0);  // not only the little round 95 N mm
}

}  // namespace
}  // namespace swashwright::sheet
