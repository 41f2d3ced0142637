// What the map says of a cell is what the head does there: each value is looked up again at the pose.
#include "viewer/panels/questions/map_cell.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/head/solver.h"
#include "kinematics/studies/envelope/reach.h"
#include "tests/viewer/opened.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;

TEST(MapCells, SayWhatStandsWorstThereAndNothingMovesUntilItIsAsked) {
    State state = state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    Bench& bench = state.bench;
    const auto head = head::Head::build(bench.head());
    const studies::Checkers checkers = studies::checkers_of(*head, /*clearance=*/true);
    const auto envelope = studies::envelope(
        *head, checkers, {.collective_steps = 2, .cyclic_steps = 2, .directions = 6, .azimuths = 6, .refine = false});
    ASSERT_TRUE(envelope);
    int told = 0;
    for (std::size_t c = 0; c < envelope->collective.size(); ++c)
        for (std::size_t r = 0; r < envelope->cyclic.size(); ++r) {
            const MapCell cell{c, r};
            const std::string words = cell_words(*envelope, cell, /*inches=*/false);
            if (!can_stand(*envelope, cell)) continue;
            bench.controls = {};
            show_cell(state.selection, *envelope, cell);
            EXPECT_EQ(bench.controls.sticks, head::Sticks{});
            EXPECT_TRUE(state.selection.selected && state.selection.look_at);
            stand_in_cell(bench, *envelope, cell);
            const std::size_t check = *nearest(*envelope, c, r).check;
            head::Solver solver(*head);
            ASSERT_TRUE(solver.pose(bench.controls.sticks, bench.controls.azimuth_deg));
            std::size_t first = 0;
            for (const auto& family : checkers) {
                const std::size_t count = family->checks().size();
                if (check >= first && check < first + count && family->look(solver)) {
                    EXPECT_THAT(words, HasSubstr(fmt::format(" {:.2f}", family->value(check - first)))) << words;
                    EXPECT_THAT(words, HasSubstr(family->checks()[check - first].words));
                    ++told;
                }
                first += count;
            }
        }
    EXPECT_GT(told, 4);
}

TEST(MapCells, AreThoseNearestToASpotOfTheMap) {
    studies::Envelope envelope;
    envelope.collective = {-1, 0, 1};
    envelope.cyclic = {0, 0.5, 1};
    EXPECT_EQ(cell_at(envelope, 0.1, 0.6), (MapCell{1, 1}));
    EXPECT_EQ(cell_at(envelope, -3, 2), (MapCell{0, 2}));
}

}  // namespace
}  // namespace swashwright::panels
