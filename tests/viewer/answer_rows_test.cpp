// A row that names a place does what a press on the map does: it lights its parts, sends the camera to them, and brings
// its own way there.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <thread>

#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/questions/map_cell.h"

namespace swashwright::panels {
namespace {

class AnswerRows : public HeldHead {
protected:
    AnswerRows() : HeldHead(state_of(SWASHWRIGHT_SCENES "/two_blade_600.toml"), {1280, 2400}) {
        frame(), frame();
        state_.sheet = Sheet::questions;
        question_ = &*std::ranges::find(state_.questions, "reach", &Question::key);
        question_->open = true;
        do {
            frame();
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        } while (answering(state_.questions));
        frame(), frame();
    }
    bool there(const std::string& widget) { return state_.screen.report.widgets().contains(widget); }
    const studies::Table& checks() {
        return *std::ranges::find((*question_->inquiry.outcome())->answer.tables, "checks", &studies::Table::key);
    }
    double cell(std::size_t row, const std::string& key) {
        const auto column = std::ranges::find(checks().columns, key, &studies::Column::key);
        return std::get<double>(checks().rows[row][static_cast<std::size_t>(column - checks().columns.begin())]);
    }

    Question* question_ = nullptr;
};

TEST_F(AnswerRows, ThatNameAPlaceBringTheirWayThereInPlaceOfTheMaps) {
    click("envelope map");
    frame();
    ASSERT_TRUE(there("map stand"));
    for (const std::size_t row : {0U, 2U}) {
        SCOPED_TRACE(row);
        state_.view.fit = Fit::moving;
        frame(), frame();
        click("reach checks row " + std::to_string(row + 1));
        EXPECT_EQ(state_.selection.pair, checks().parts[row]);
        ASSERT_TRUE(state_.selection.place);
        frame(), frame();
        EXPECT_FALSE(there("map stand"));
        ASSERT_TRUE(there("reach checks stand"));
        const auto& boxes = state_.screen.report.widgets();
        const auto &own = boxes.at("reach checks row " + std::to_string(row + 1)),
                   &next = boxes.at("reach checks row " + std::to_string(row + 2));
        EXPECT_GE(boxes.at("reach checks stand").y, own.w - 1);
        EXPECT_LE(boxes.at("reach checks stand").w, next.y + 1);
        click("reach checks stand");
        const head::Sticks& sticks = state_.bench.controls.sticks;
        EXPECT_NEAR(sticks.collective, cell(row, "collective"), 1e-12);
        EXPECT_NEAR(sticks.aileron, cell(row, "aileron"), 1e-12);
        EXPECT_NEAR(sticks.elevator, cell(row, "elevator"), 1e-12);
        EXPECT_NEAR(std::remainder(state_.bench.controls.azimuth_deg - cell(row, "azimuth_deg"), 360), 0, 1e-9);
    }
    click("envelope map");
    frame();
    EXPECT_TRUE(there("map stand"));
    EXPECT_FALSE(there("reach checks stand"));
}

}  // namespace
}  // namespace swashwright::panels
