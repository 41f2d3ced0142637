#include "kinematics/studies/answer/answer.h"

#include <gtest/gtest.h>

#include <sstream>

namespace swashwright::studies {
namespace {

Answer sample_answer() {
    Answer out;
    out.study = "sample";
    out.text = "The blades differ.";
    out.tables = {{"blades",
                   "Blades",
                   {{"blade", "blade", "", 0}, {"pitch_deg", "pitch", "deg", 2, true}, {"what", "what", ""}},
                   {{1.0, 0.5, "higher"}, {2.0, -0.004, Cell()}},
                   {}}};
    out.notes = {"A note."};
    return out;
}

TEST(AnswerText, AlignsFiguresToTheRightAndWordsToTheLeft) {
    EXPECT_EQ(as_text(sample_answer()),
              "The blades differ.\n"
              "\n"
              "Blades\n"
              "  blade  pitch  what\n"
              "           deg\n"
              "      1  +0.50  higher\n"
              "      2   0.00  -\n"
              "\n"
              "Note: A note.\n");
}

TEST(AnswerText, LeavesTheLineOfUnitsOutWhereThereAreNone) {
    Answer answer = sample_answer();
    answer.tables[0].columns[1].unit.clear();
    EXPECT_EQ(as_text(answer).find("deg"), std::string::npos);
    EXPECT_NE(as_text(answer).find("what\n      1"), std::string::npos);
}

// A letter of two bytes takes one column, so what stands behind it must not move.
TEST(AnswerText, CountsLettersNotBytes) {
    Answer answer = sample_answer();
    answer.tables[0].columns = {{"servo", "servo", ""}, {"x_mm", "x", "", 0}};
    answer.tables[0].rows = {{"h\xC3\xB6her", 7.0}, {"lower", 8.0}};
    EXPECT_NE(as_text(answer).find("  h\xC3\xB6her  7\n  lower  8\n"), std::string::npos) << as_text(answer);
}

TEST(AnswerText, BreaksAtSpacesAndIndentsNotesThatGoOn) {
    Answer answer;
    answer.text = "One two three four five six.";
    answer.notes = {"Seven eight nine ten."};
    EXPECT_EQ(as_text(answer, 14),
              "One two three\n"
              "four five six.\n"
              "\n"
              "Note: Seven\n"
              "  eight nine\n"
              "  ten.\n");
}

TEST(AnswerText, WordsInTheLastColumnGoOnBelowThemselves) {
    Answer answer = sample_answer();
    answer.tables[0].columns = {{"blade", "blade", "", 0}, {"do", "do", ""}};
    answer.tables[0].rows = {{1.0, "one two three four five six seven eight"}, {2.0, "nine"}};
    const std::string text = as_text(answer, 33);
    EXPECT_NE(text.find("      1  one two three four five\n         six seven eight\n      2  nine\n"),
              std::string::npos)
        << text;
}

// RFC 4180, section 2: lines end with CRLF (rule 1); fields with line breaks, quotes or commas are enclosed in quotes
// (rule 6), and a quote inside is doubled (rule 7: "aaa","b""bb","ccc").
TEST(AnswerCsv, FollowsTheStandard) {
    Answer answer = sample_answer();
    answer.tables.push_back({"words",
                             "Words",
                             {{"a", "a", ""}, {"b", "b", ""}, {"c", "c", ""}, {"d", "d", ""}},
                             {{"aaa", "b\"bb", "c,c", "two\nlines"}},
                             {}});
    EXPECT_EQ(as_csv(answer),
              "blade,pitch_deg,what\r\n"
              "1,0.5,higher\r\n"
              "2,-0.004,\r\n"
              "\r\n"
              "a,b,c,d\r\n"
              "aaa,\"b\"\"bb\",\"c,c\",\"two\nlines\"\r\n");
}

TEST(AnswerCsv, KeepsEveryBitOfANumberButNoMinusBeforeZero) {
    Answer answer;
    answer.tables = {{"t", "T", {{"x_mm", "x", "mm", 1}}, {{1.0 / 3}, {-0.0}}, {}}};
    std::istringstream lines(as_csv(answer));
    std::string key, third, zero;
    lines >> key >> third >> zero;
    EXPECT_EQ(key, "x_mm");
    EXPECT_EQ(std::stod(third), 1.0 / 3);
    EXPECT_EQ(zero, "0");
}

}  // namespace
}  // namespace swashwright::studies
