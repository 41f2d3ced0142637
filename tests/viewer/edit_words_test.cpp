// What is said of edits and refusals has no key of the file's format in it.
#include "viewer/panels/ledger/edit_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/demo_head.h"
#include "tests/viewer/held_panels.h"
#include "tests/viewer/linkage_files.h"
#include "tests/viewer/opened.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/ledger/ledger_rows.h"
#include "viewer/panels/ledger/part_form.h"

namespace swashwright::panels {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

TEST(EditWords, OfANumberAreThoseOfABuilder) {
    EXPECT_EQ(edit_words("Upper links, link 1, length_mm"), "Upper links, link 1, length");
    EXPECT_EQ(edit_words("Servo pivots, left, pivot_mm x"), "Servo pivots, left, forward");
    EXPECT_EQ(edit_words("Levers, bellcrank, ball 2, balls_mm y"), "Levers, bellcrank, ball 2, balls y");
    EXPECT_EQ(edit_words("servo 3, pulse_deg_per_us"), "servo 3, angle for each \xC2\xB5s");
    EXPECT_EQ(edit_words("the head, solid[2].at_mm"), "the head, shape 2, at");
    EXPECT_EQ(edit_words("reverse a servo"), "reverse a servo");
}

TEST(EditWords, HaveNoKeyInThemForAnyNumberOrField) {
    std::vector<std::string> paths = testing::linkage_files();
    paths.push_back(testing::two_blade_file);
    for (const std::string& path : paths) {
        const scene::Scene scene = *scene::load(path);
        const auto expect_words = [&](const std::string& name) {
            for (const char* key : {"_", "[", "mm"}) EXPECT_THAT(edit_words(name), Not(HasSubstr(key))) << path;
        };
        for (const Section& section : ledger_sections(scene.head))
            for (const Row& row : section.rows) {
                for (const Cell& cell : row.cells) expect_words("a section, a row, " + cell.name);
                for (const Field& field : fields_of(scene.head, row.part)) expect_words("a part, " + field.key);
            }
    }
}

TEST(EditWords, OfARefusalHaveUnitsAndNoKey) {
    State state = state_of(testing::two_blade_file);
    const auto refused = [&](const char* name, auto change) {
        scene::Scene next = state.bench.document().scene();
        change(next.head);
        EXPECT_FALSE(try_edit(state.screen, state.bench, std::move(next), name));
        return refusal_words(state.screen.entry.refused, state.screen.entry.why);
    };
    EXPECT_EQ(refused("servo 3, pulse_centre_us", [](auto& d) { d.servos[2].pulse_centre_us = 3; }),
              "Expected a pulse from 100 \xC2\xB5s to 5000 \xC2\xB5s, found 3 \xC2\xB5s.");
    EXPECT_EQ(refused("Lower links, link 1, length_mm", [](auto& d) { d.lower_links[0].length_mm = 0; }),
              "Expected a length from 0.01 mm to 10000 mm, found 0 mm.");
    EXPECT_EQ(refused("another place", [](auto& d) { d.servos[2].pulse_centre_us = 3; }),
              "Servo 3 pulse centre: expected a pulse from 100 \xC2\xB5s to 5000 \xC2\xB5s, found 3 \xC2\xB5s.");
}

TEST(EditWords, StandInWhatIsTakenBack) {
    State state = state_of(testing::two_blade_file);
    scene::Scene next = state.bench.document().scene();
    next.head.upper_links[0].length_mm = 60;
    ASSERT_TRUE(try_edit(state.screen, state.bench, std::move(next), "Upper links, link 1, length_mm"));
    undo(state);
    EXPECT_EQ(state.screen.notice, "Taken back: Upper links, link 1, length");
    redo(state);
    EXPECT_EQ(state.screen.notice, "Done again: Upper links, link 1, length");
}

class SoftBreaks : public ::testing::Test, protected HeldPanels {};

TEST_F(SoftBreaks, AreNoPartOfTheText) {
    ImGui::NewFrame();
    const std::string text =
        "An invented head: it is for trying the program\nand has a second line, and a blank \nor two";
    const float width = 150;
    const std::string broken = soft_broken(text, width);
    EXPECT_NE(broken, text);
    EXPECT_LE(ImGui::CalcTextSize(broken.c_str()).x, width + ImGui::CalcTextSize(" ").x);
    EXPECT_EQ(without_soft_breaks(broken), text);
    EXPECT_EQ(soft_broken(text, 5000), text);
    // Typed at the end of a line that is broken so, and Enter there.
    EXPECT_EQ(without_soft_breaks("th\re.X\nprogram"), "the.X program");
    EXPECT_EQ(without_soft_breaks("th\re\n\nprogram"), "the \nprogram");
    EXPECT_EQ(without_soft_breaks("t\nh\re\nprogram"), "t\nhe program");
    ImGui::EndFrame();
}

}  // namespace
}  // namespace swashwright::panels
