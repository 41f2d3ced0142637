#include "kinematics/scene/comments.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <fstream>
#include <sstream>

#include "tests/scene/scenes.h"

namespace swashwright::scene {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

std::string demo() {
    std::ifstream file(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    return (std::stringstream() << file.rdbuf()).str();
}

std::string written_anew(const std::string& text) {
    const auto scene = parse(text, "x.toml");
    EXPECT_TRUE(scene) << scene.error().text();
    return with_comments_of(text, write(*scene));
}

TEST(Comments, StayBesideAndAboveTheirLines) {
    std::string text = demo();
    text.replace(text.find("[[servo]]"), 9, "# The left one was new in May.\n[[servo]]");
    text += "\n# Nothing follows.\n";
    const std::string out = written_anew(text);
    EXPECT_TRUE(out.starts_with("# Lengths in mm, angles in degrees.")) << out;
    EXPECT_THAT(out, HasSubstr("\n# The left one was new in May.\n[[servo]]  "));
    EXPECT_THAT(out, HasSubstr("axis = [0.0, 1.0, 0.0]              # the output shaft points left\n"));
    EXPECT_TRUE(out.ends_with("# Nothing follows.\n")) << out;
    EXPECT_EQ(written_anew(out), out);
}

TEST(Comments, OfTheSecondOfTwoTablesStayThere) {
    std::string text = demo();
    const std::size_t second = text.find("length_mm", text.find("[[upper_link]]", text.find("[[upper_link]]") + 1));
    text.insert(text.find('\n', second), "  # turned on Sunday");
    const std::string out = written_anew(text);
    EXPECT_GT(out.find("turned on Sunday"), out.find("[[upper_link]]", out.find("[[upper_link]]") + 1));
}

TEST(Comments, AreToldFromTextThatLooksLikeThem) {
    std::string text = demo();
    const std::size_t at = text.find("name = ");
    text.replace(at, text.find('\n', at) - at, R"(name = "a \" # b" # c)");
    EXPECT_THAT(written_anew(text), HasSubstr("\nname = \"a \\\" # b\" # c\n"));
    text = demo();
    text.replace(text.find("name = "), 7, "name = '''\n# no comment'''\n# above\nnote = ");
    const std::size_t note = text.find("note = \"An");
    text.erase(note, text.find('\n', note) - note);
    EXPECT_THAT(written_anew(text), HasSubstr("name = \"# no comment\"\n# above\nnote = "));
}

TEST(Comments, InsideAListStayWithTheirLine) {
    std::string text = demo();
    const std::size_t list = text.find("inner_balls = [");
    const std::size_t line = text.find('\n', text.find('{', list));
    text.insert(line, " # the left ball");
    const std::string out = written_anew(text);
    EXPECT_LT(out.find("the left ball"), out.find(']', out.find("inner_balls")));
}

TEST(Comments, OfALineThatIsGoneGoWithIt) {
    std::string text = demo();
    text.insert(text.find("[mixing]"), "[blade]\nmass_g = 120.0 # weighed\n");
    auto scene = parse(text, "x.toml");
    ASSERT_TRUE(scene);
    scene->head.blade.mass_g.reset();
    EXPECT_THAT(with_comments_of(text, write(*scene)), Not(HasSubstr("weighed")));
}

RC_GTEST_PROP(CommentsProperty, HarmNoSceneWhateverWasThereBefore, ()) {
    static const std::string plain = write(*parse(demo(), "x.toml"));
    const auto pieces = *rc::gen::container<std::vector<std::string>>(
        rc::gen::element<std::string>("#", "\"", "'''", "[[servo]]", "\n", "name = ", "x", "{", "]", "\\", "\r", " "));
    std::string before;
    for (const std::string& piece : pieces) before += piece;
    const auto back = parse(with_comments_of(before, plain), "x.toml");
    RC_ASSERT(back.has_value());
    RC_ASSERT(write(*back) == plain);
}

}  // namespace
}  // namespace swashwright::scene
