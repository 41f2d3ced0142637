// What a tolerance study says in words. The studies here are made up, so that each sentence has its case.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/studies/pitch/tolerance.h"

namespace swashwright::studies {
namespace {

using ::testing::Contains;
using ::testing::EndsWith;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

Share share(const char* label, const char* path, double of_split, double tightened) {
    Share out;
    out.tolerance.number.label = label;
    out.tolerance.number.path = path;
    out.tolerance.number.part = std::string(path).substr(0, std::string(path).find("].") + 1);
    out.tolerance.number.unit = head::Unit::mm;
    out.tolerance.plus_minus = 0.1;
    out.of_split = of_split;
    out.tightened = tightened;
    return out;
}

ToleranceStudy study() {
    ToleranceStudy out;
    out.request.samples = 400;
    out.pitch_deg.resize(2);
    out.split_deg.nominal = 0.3;
    out.split_95 = 0.5;
    out.shares = {share("upper link 1, length", "upper_link[1].length_mm", 0.75, 0.1),
                  share("upper link 2, length", "upper_link[2].length_mm", 0.25, 0.1)};
    return out;
}

TEST(ToleranceAnswer, NamesWhatMattersMost) {
    const Answer a = answer(study());
    EXPECT_EQ(a.text,
              "95 of 100 heads built so have blades within 0.50 deg of one another; what matters most: upper link 1, "
              "length (75 % of it).");
    EXPECT_EQ(a.tone, Tone::calm);
    EXPECT_THAT(a.notes[0], HasSubstr("400 heads drawn (seed 1)"));
    ASSERT_EQ(a.tables.size(), 2U);
    EXPECT_EQ(a.tables[0].rows.size(), 3U);  // two blades and the split
    EXPECT_EQ(a.tables[1].parts[1], "upper_link[2]");
    EXPECT_EQ(a.tables[1].columns.back().key, "of_split_percent");
    for (const Table& table : a.tables)
        for (const auto& row : table.rows) EXPECT_EQ(row.size(), table.columns.size()) << table.key;
}

TEST(ToleranceAnswer, BlamesNothingWhereNothingSplits) {
    ToleranceStudy s = study();
    s.split_95 = 0;
    for (Share& each : s.shares) each.of_split = 0;
    EXPECT_EQ(answer(s).text, "95 of 100 heads built so have blades within 0.00 deg of one another.");
}

TEST(ToleranceAnswer, SaysThatAWantedSplitIsHeld) {
    ToleranceStudy s = study();
    s.request.wanted_split_deg = 0.6;
    s.keeping = s.keeping_tightened = 0.97;
    EXPECT_THAT(answer(s).text, EndsWith("; the wanted 0.60 deg is held."));
    EXPECT_EQ(answer(s).tone, Tone::calm);
    EXPECT_EQ(answer(s).tables[1].rows[0].back(), Cell());  // nothing is needed
}

TEST(ToleranceAnswer, CountsWhatMustBeTightened) {
    ToleranceStudy s = study();
    s.request.wanted_split_deg = 0.4;
    s.split_95_tightened = 0.39;
    s.keeping = 0.8;
    s.keeping_tightened = 0.95;
    s.shares[0].tightened = 0.06;
    const Answer one = answer(s);
    EXPECT_THAT(one.text, EndsWith("; to hold 0.40 deg, 1 tolerance must be tightened as the column 'needed' says."));
    EXPECT_EQ(one.tone, Tone::notice);
    EXPECT_EQ(one.tables[1].columns.back().key, "needed");
    EXPECT_EQ(one.tables[1].rows[0].back(), Cell(0.06));
    EXPECT_EQ(one.tables[1].rows[1].back(), Cell());
    EXPECT_THAT(one.notes, Contains(HasSubstr("come within 0.390 deg, drawn again")));
    s.shares[1].tightened = 0.09;
    EXPECT_THAT(answer(s).text, HasSubstr("2 tolerances must be tightened"));
}

TEST(ToleranceAnswer, SaysThatNoToleranceHoldsWhatIsSplitAlready) {
    ToleranceStudy s = study();
    s.request.wanted_split_deg = 0.2;
    s.split_95_tightened = 0.31;
    s.keeping_tightened = 0.1;
    s.shares[0].tightened = 0;
    EXPECT_THAT(answer(s).text, EndsWith("; 0.20 deg cannot be held by tolerances: the head as described is split by "
                                         "0.30 deg already."));
    EXPECT_EQ(answer(s).tone, Tone::notice);
}

TEST(ToleranceAnswer, HeadlineCountsHeadsThatCannotBeAssembled) {
    ToleranceStudy s = study();
    EXPECT_THAT(answer(s).notes, Not(Contains(HasSubstr("assembled"))));
    s.failed = 132;
    const Answer a = answer(s);
    EXPECT_THAT(a.text, StartsWith("33 in 100 heads built so cannot be assembled; 95 of 100 of the others have blades "
                                   "within 0.50 deg of one another; what matters most: upper link 1"));
    EXPECT_EQ(a.tone, Tone::notice);
    EXPECT_THAT(a.tables[0].title, HasSubstr("the heads that can be assembled"));
    EXPECT_THAT(a.notes, Contains(StartsWith("132 of the heads drawn cannot be assembled")));
    s.failed = 3;
    EXPECT_THAT(answer(s).text, StartsWith("3 of 400 heads built so cannot be assembled;"));
    s.failed = 399;
    EXPECT_THAT(answer(s).text, StartsWith("399 of 400 heads"));
    s.failed = 400;
    EXPECT_EQ(answer(s).text, "100 in 100 heads built so cannot be assembled.");
}

TEST(ToleranceAnswer, NeverCallsHeldWhatCannotBeBuilt) {
    ToleranceStudy s = study();
    s.request.wanted_split_deg = 0.6;
    s.failed = s.failed_tightened = 132;
    s.keeping = s.keeping_tightened = 0.66;
    EXPECT_THAT(answer(s).text, EndsWith("; 0.60 deg cannot be held: first set tolerances with which the heads can be "
                                         "assembled."));
    s.failed_tightened = 0;
    s.keeping_tightened = 0.95;
    s.shares[0].tightened = 0.06;
    EXPECT_THAT(answer(s).text, EndsWith("; to hold 0.60 deg, 1 tolerance must be tightened as the column 'needed' "
                                         "says."));
    s.shares[0].tightened = 0.1;
    s.failed = s.failed_tightened = 8;
    s.keeping = s.keeping_tightened = 0.965;
    EXPECT_THAT(answer(s).text, EndsWith("; 96 in 100 of all can be assembled and keep the wanted 0.60 deg."));
}

TEST(ToleranceAnswer, ShowsAsManyRowsAsAsked) {
    EXPECT_EQ(answer(study(), 1).tables[1].rows.size(), 1U);
    EXPECT_EQ(answer(study(), 1).tables[1].title, "The 1 of 2 tolerances that matter most to the split");
    EXPECT_EQ(answer(study(), 9).tables[1].rows.size(), 2U);
}

}  // namespace
}  // namespace swashwright::studies
