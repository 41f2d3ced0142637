// Lines of text as the window breaks them.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <imgui.h>

#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {
namespace {

class Wrapped : public ::testing::Test {
protected:
    Wrapped() {
        ImGui::CreateContext();
        ImGui::GetIO().IniFilename = nullptr;
        ImGui::GetIO().DisplaySize = {800, 600};
        ImGui::GetIO().Fonts->AddFontDefault();  // every letter as wide
        ImGui::GetIO().Fonts->Build();
        ImGui::NewFrame();
    }
    ~Wrapped() override {
        ImGui::EndFrame();
        ImGui::DestroyContext();
    }
    static std::string in_letters(const std::string& text, int letters) {
        return wrapped(text, ImGui::CalcTextSize("m").x * static_cast<float>(letters) + 0.5F);
    }
};

TEST_F(Wrapped, BreaksAtTheLastBlankThatFits) {
    EXPECT_EQ(in_letters("one two three", 7), "one two\nthree");
    EXPECT_EQ(in_letters("one two three", 6), "one\ntwo\nthree");
    EXPECT_EQ(in_letters("three", 2), "three");
}

// Common practice in print: a number and its unit stand in one line.
TEST_F(Wrapped, KeepsANumberAndItsUnitTogether) {
    EXPECT_EQ(in_letters("long by 0.30 mm, so", 14), "long by\n0.30 mm, so");
    EXPECT_EQ(in_letters("up to 19.1 N mm here", 12), "up to\n19.1 N mm\nhere");
    EXPECT_EQ(in_letters("takes 3.2 deg (\xC2\xB1 0.6) of", 16), "takes 3.2 deg\n(\xC2\xB1 0.6) of");
    EXPECT_EQ(in_letters("upper link 1 (25 % of it)", 16), "upper link 1\n(25 % of it)");
    EXPECT_EQ(in_letters("at 1500 \xC2\xB5s it rests", 7), "at\n1500 \xC2\xB5s\nit\nrests");
    EXPECT_EQ(in_letters("19.1 N mm", 5), "19.1\nN mm");  // no room for all of it: cut it is not
    EXPECT_EQ(in_letters("19.1 N mm", 4), "19.1\nN mm");
    EXPECT_EQ(in_letters("19.1 N mm", 2), "19.1\nN\nmm");
    EXPECT_EQ(in_letters("holds 0.33 N m here", 13), "holds\n0.33 N m here");
    EXPECT_EQ(in_letters("pitch of blade 2, +1", 15), "pitch of\nblade 2, +1");
    EXPECT_EQ(in_letters("shallblade 2, +1", 12), "shallblade\n2, +1");
    EXPECT_EQ(in_letters("links 3 men turn", 7), "links 3\nmen\nturn");  // "men" is no metre
}

TEST_F(Wrapped, LosesNothingAndIsNeverTooWideAtAnyWidth) {
    const std::vector<std::string> texts{
        "Blade 2 takes 0.31 deg more pitch than blade 1: upper link 2 is 0.30 mm long, 12 N mm at 50 % and 1520 us.",
        "95 of 100 heads built so have blades within 1.12 deg (\xC2\xB1 0.10 deg) of one another; 3 in 100 do not."};
    const std::regex parted("[0-9]\n(mm|deg|N|%|us)\\b|\xC2\xB1\n|N\nmm");
    for (const std::string& text : texts)
        for (int letters = 12; letters < 90; ++letters) {
            const std::string out = in_letters(text, letters);
            EXPECT_FALSE(std::regex_search(out, parted)) << out;
            EXPECT_LE(ImGui::CalcTextSize(out.c_str()).x, ImGui::CalcTextSize("m").x * static_cast<float>(letters) + 1)
                << out;
            std::string one_line = out;
            std::ranges::replace(one_line, '\n', ' ');
            EXPECT_EQ(one_line, text);
        }
}

}  // namespace
}  // namespace swashwright::panels
