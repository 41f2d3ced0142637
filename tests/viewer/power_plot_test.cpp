// The plot of power over pitch, and where the build sheet has it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/studies/power/power.h"
#include "tests/support/demo_head.h"
#include "viewer/sheet/compose.h"
#include "viewer/sheet/plots.h"
#include "viewer/sheet/print.h"

namespace swashwright::sheet {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

TEST(PowerPlot, HasTheStudysNumbersTheEnginesLineAndThePitchNow) {
    const head::Head head = testing::demo_head("two_blade_600.toml");
    const studies::Power power =
        studies::power(head, {.sticks = {0.5, 0, 0}, .mass_kg = 3.8, .engine_w = 1500}).value();
    const Plot plot = power_plot(power, "now", power.now_deg);
    ASSERT_EQ(plot.lines.size(), 4U);
    ASSERT_EQ(plot.lines[0].x.size(), power.curve.size());
    for (std::size_t i = 0; i < power.curve.size(); ++i) {
        EXPECT_EQ(plot.lines[0].x[i], power.curve[i].pitch_deg);
        EXPECT_EQ(plot.lines[0].y[i], power.curve[i].standing_w);
        EXPECT_EQ(plot.lines[1].y[i], power.curve[i].climb.power_w);
    }
    EXPECT_EQ(plot.lines[2].y, (std::vector<double>{1275, 1275}));
    EXPECT_EQ(plot.lines[3].x, (std::vector<double>{power.now_deg, power.now_deg}));
    EXPECT_GT(power.now_deg, 5);
    EXPECT_EQ(y_range(plot).low, 0);
    for (const Line& line : plot.lines)
        for (std::size_t i = 0; i < line.x.size(); ++i) {
            EXPECT_GE(line.x[i], plot.x_low);
            EXPECT_LE(line.x[i], plot.x_high);
            EXPECT_LE(line.y[i], y_range(plot).high);
        }
    EXPECT_THAT(svg(plot).value(), HasSubstr("<svg"));
    const studies::Power unknown = studies::power(head, {.sticks = {-1, 0, 0}}).value();
    EXPECT_EQ(power_plot(unknown, "now", unknown.now_deg).lines.size(), 3U);  // no engine's line
    EXPECT_EQ(power_plot(unknown, "now", unknown.now_deg).lines.back().x.front(), -unknown.now_deg);
}

TEST(PowerPlot, StandsOnTheSheetOfAModelOfKnownMass) {
    head::Description d = testing::two_blades();
    Wishes plain;
    plain.picture = false;
    const auto text = [&] { return as_text(compose(head::Head::build(d).value(), "", plain).value()); };
    EXPECT_THAT(text(), Not(HasSubstr("How much pitch the engine can carry")));
    d.flight.model_mass_kg = 3.8;
    d.flight.power_w = 1500;
    EXPECT_THAT(text(), HasSubstr("How much pitch the engine can carry"));
    EXPECT_THAT(text(), HasSubstr("no limit to fly to"));
}

}  // namespace
}  // namespace swashwright::sheet
