// The log of the open head on the page that compares: states are put in, compared and told apart by head.
#include "viewer/panels/questions/head_log_sheet.h"

#include <gmock/gmock.h>

#include <filesystem>

#include "tests/viewer/held_panels.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/window/files.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;

/// A head in a folder of its own, with no log yet.
std::string copied_head() {
    const std::filesystem::path folder = ::testing::TempDir() + "/swashwright_head_log_" +
                                         ::testing::UnitTest::GetInstance()->current_test_info()->name();
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    std::filesystem::copy_file(SWASHWRIGHT_SCENES "/two_blade_600.toml", folder / "head.toml");
    return (folder / "head.toml").string();
}

class HeadLogPage : public HeldHead {
protected:
    HeadLogPage() : HeldHead(state_of(copied_head())) {
        state_.sheet = Sheet::compare;
        state_.compare.with = CompareSheet::With::log;
        frame();
        frame();
    }
    const HeadLogSheet& log() const { return state_.compare.log; }
};

TEST_F(HeadLogPage, TakesTheHeadInAndComparesItWithWhatComesLater) {
    for (const std::size_t count : {1U, 2U}) {
        scene::Scene next = state_.bench.document().scene();
        next.head.upper_links[0].length_mm += 1;
        ASSERT_TRUE(try_edit(state_.screen, state_.bench, std::move(next), "Upper links, link 1, length_mm"));
        frame();
        click("log put in");
        EXPECT_EQ(log().states.states.size(), count) << log().said;
        ASSERT_NE(compared_with(state_.bench, state_.compare), nullptr);
        EXPECT_EQ(compared_with(state_.bench, state_.compare)->upper_links[0].length_mm,
                  state_.bench.head().upper_links[0].length_mm);
    }
}

TEST_F(HeadLogPage, TheLogOfOneHeadIsNotComparedWithAnother) {
    click("log put in");
    ASSERT_NE(compared_with(state_.bench, state_.compare), nullptr);
    show_new(state_, state_.bench.document().scene());  // in no file, so it has no log
    state_.sheet = Sheet::compare;
    frame();
    EXPECT_EQ(compared_with(state_.bench, state_.compare), nullptr);
    EXPECT_TRUE(log().states.states.empty());
}

}  // namespace
}  // namespace swashwright::panels
