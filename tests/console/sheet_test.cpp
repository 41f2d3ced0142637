#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "tests/console/program.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

const std::string small_two_blade = SWASHWRIGHT_SCENES "/small_two_blade_250.toml";

TEST(SheetVerb, WritesAPdfAndReplacesItWhole) {
    const std::string path = temporary_file("sheet.pdf", "an old file");
    const Outcome made = run_program("sheet '" + small_two_blade + "' --paper letter --out '" + path + "'");
    EXPECT_EQ(made.exit_code, 0) << made.err;
    EXPECT_EQ(made.out, "");
    EXPECT_TRUE(file_text(path).starts_with("%PDF-"));
    EXPECT_THAT(run_shell("pdfinfo '" + path + "'").out, ::testing::ContainsRegex("Title: .*: Build sheet\n"));
    std::filesystem::remove(path);
}

TEST(SheetVerb, PrintsTheSameContentAsText) {
    const Outcome said = run_program("sheet '" + small_two_blade + "' --text");
    EXPECT_EQ(said.exit_code, 0) << said.err;
    EXPECT_THAT(said.out, HasSubstr("Link gauges in true size"));
    EXPECT_THAT(said.out, HasSubstr("[ ] 1. "));
}

TEST(SheetVerb, WritesACardOfOnePage) {
    for (const char* scene : {"two_blade_600", "four_servos_700", "stabiliser_bar_600", "tail_600"}) {
        const std::string path = temporary("card.pdf");
        const Outcome made =
            run_program(fmt::format("sheet '{}/{}.toml' --card --out '{}'", SWASHWRIGHT_SCENES, scene, path));
        EXPECT_EQ(made.exit_code, 0) << made.err;
        const std::string info = run_shell("pdfinfo '" + path + "'").out;
        EXPECT_THAT(info, ::testing::ContainsRegex("Pages: +1\n")) << scene;
        EXPECT_THAT(info, ::testing::ContainsRegex("Title: .*: Card for the field box\n")) << scene;
        const std::string words = run_shell("pdftotext '" + path + "' -").out;
        EXPECT_THAT(words, HasSubstr("Card for the field box\n")) << scene;
        EXPECT_THAT(words, Not(HasSubstr("Build sheet"))) << scene;
        std::filesystem::remove(path);
    }
    const Outcome said = run_program("sheet '" + small_two_blade + "' --card --text --with upper_link[2].error_mm=0.3");
    EXPECT_THAT(said.out, HasSubstr("upper link 2 is 0.30 mm too long"));
    EXPECT_THAT(said.out, HasSubstr("bare rod"));
    EXPECT_TRUE(said.out.starts_with("Card for the field box: ")) << said.out;
}

TEST(PlotVerb, DrawsEachPlotAsSvg) {
    const std::string path = temporary("plot.svg");
    for (const char* what :
         {"range", "turn --aileron 0.5", "loads --collective 1", "envelope", "power --collective 0.5"}) {
        const Outcome made = run_program(fmt::format("plot '{}' {} --out '{}'", small_two_blade, what, path));
        EXPECT_EQ(made.exit_code, 0) << made.err;
        const std::string svg = file_text(path);
        EXPECT_THAT(svg, HasSubstr("<svg"));
        EXPECT_TRUE(svg.ends_with("</svg>\n")) << what;
    }
    std::filesystem::remove(path);
    EXPECT_EQ(run_program("plot '" + small_two_blade + "' mountain --out x.svg").exit_code, 2);
}

TEST(SheetVerb, SaysWhatIsWrong) {
    const auto expect = [](const std::string& arguments, int code, const std::string& words) {
        const Outcome outcome = run_program("sheet " + arguments);
        EXPECT_EQ(outcome.exit_code, code) << arguments;
        EXPECT_THAT(outcome.err, HasSubstr(words)) << arguments;
    };
    expect("'" + small_two_blade + "'", 2, "--out");
    expect("'" + small_two_blade + "' --out x.pdf --paper a3", 2, "a3");
    expect("'" + small_two_blade + "' --out x.pdf --text", 2, "--text");
    expect("/nowhere.toml --out x.pdf", 2, "/nowhere.toml");
    expect("'" + small_two_blade + "' --out /nowhere/sheet.pdf", 1, "/nowhere/sheet.pdf");
}

}  // namespace
}  // namespace swashwright::testing
