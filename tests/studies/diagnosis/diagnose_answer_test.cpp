// What a diagnosis says in words.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "kinematics/studies/diagnosis/diagnose.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using ::testing::Contains;
using ::testing::EndsWith;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;
using testing::two_blades;

/// A diagnosis made up so that each sentence has its case: these suspects, with these sizes.
Diagnosis made_up(const std::vector<int>& chosen, const std::vector<double>& sizes) {
    head::Description d = two_blades();
    Diagnosis out;
    out.suspects = faults(d);
    out.readings = 12;
    const auto n = static_cast<Eigen::Index>(chosen.size());
    Hypothesis best;
    best.fit.faults = chosen;
    best.fit.size = Eigen::Map<const Eigen::VectorXd>(sizes.data(), n);
    best.fit.covariance = Eigen::MatrixXd::Identity(n, n) * 0.01;  // a deviation of 0.1
    best.fit.chi_square = 10;
    best.probability = 0.8;
    out.ranked = {best};
    return out;
}

int index_of(const Diagnosis& d, FaultKind kind, int index = 0) {
    for (std::size_t f = 0; f < d.suspects.size(); ++f)
        if (d.suspects[f].kind == kind && d.suspects[f].index == index) return static_cast<int>(f);
    ADD_FAILURE() << "no such suspect";
    return 0;
}

TEST(DiagnosisAnswer, IsCalmWhereNothingIsWrong) {
    Diagnosis d = made_up({}, {});
    EXPECT_EQ(answer(d).text, "Nothing wrong shows in these 12 readings (probability 80 %).");
    EXPECT_EQ(answer(d).tone, Tone::calm);
    d.ranked[0].probability = 0.999;
    EXPECT_THAT(answer(d).text, HasSubstr("(probability over 99 %)"));
    EXPECT_EQ(answer(d).tables[0].rows[0][1], Cell("nothing wrong"));
}

// 95 % of a normal distribution lie within 1.96 deviations: 0.20 for one of 0.1.
TEST(DiagnosisAnswer, TellsBothOfAPairWithTheirSpread) {
    Diagnosis d = made_up({0, 0}, {-0.4, 2.5});
    d.ranked[0].fit.faults = {index_of(d, FaultKind::upper_link, 1), index_of(d, FaultKind::trim)};
    const Answer a = answer(d);
    EXPECT_EQ(a.text,
              "Most probable: upper link 2 is 0.40 mm too short (+/- 0.20 mm, 95 %), and servo left: trim, +2.50 deg "
              "(+/- 0.20 deg, 95 %); probability 80 %.");
    EXPECT_EQ(a.tone, Tone::notice);
    ASSERT_EQ(a.tables[0].rows.size(), 2U);
    EXPECT_EQ(a.tables[0].rows[1][0], Cell());  // one rank for both
    EXPECT_EQ(a.tables[0].parts[1], "servo[1]");
    EXPECT_EQ(a.tables[1].key, "corrections");
}

// The answer solves nothing: it has no head to ask.
TEST(DiagnosisAnswer, TellsTheCorrectionsThatTheDiagnosisHolds) {
    Diagnosis d = made_up({0}, {0.3});
    EXPECT_TRUE(answer(d).tables[1].rows.empty());
    d.ranked[0].corrections = {{"lower_link[1]", "2 half turns shorter", -0.3, -0.75}};
    const Table table = answer(d).tables[1];
    ASSERT_EQ(table.rows.size(), 1U);
    EXPECT_EQ(table.rows[0], (std::vector<Cell>{1.0, "lower link 1", -0.3, -0.75, "2 half turns shorter"}));
    EXPECT_EQ(table.parts[0], "lower_link[1]");
}

TEST(DiagnosisAnswer, AFaultWithoutASizeHasNone) {
    Diagnosis d = made_up({0}, {0});
    d.ranked[0].fit.faults = {index_of(d, FaultKind::horn_tooth)};
    EXPECT_EQ(answer(d).text,
              "Most probable: servo left: horn 2 teeth clockwise, seen on the horn's face; probability 80 %.");
    EXPECT_EQ(answer(d).tables[0].rows[0][2], Cell());
}

TEST(DiagnosisAnswer, NamesWhatCannotBeToldApartAndCountsTheRest) {
    Diagnosis d = made_up({0}, {0.3});
    for (const int f : {1, 2, 3, 4}) d.stand_ins.push_back({f, 0, 1.5});
    EXPECT_THAT(answer(d).text,
                EndsWith("These readings cannot tell it from: lower link 2, lower link 3, upper link 1, "
                         "upper link 2."));
    d.stand_ins.push_back({index_of(d, FaultKind::trim), 0, 2});
    EXPECT_THAT(answer(d).text, EndsWith("upper link 2 and 1 more."));
    const Answer a = answer(d);
    const auto table = std::ranges::find(a.tables, "not_told_apart", &Table::key);
    ASSERT_NE(table, a.tables.end());
    EXPECT_EQ(table->rows.size(), 5U);
    EXPECT_EQ(table->rows[0][1], Cell("lower link 1"));
}

// With 11 readings to spare chi-square is 11 on average with a deviation of the root of 22: beyond 11 + 3 x 4.7 = 25
// something else is wrong.
TEST(DiagnosisAnswer, DoubtsAFitThatLeavesTooMuch) {
    Diagnosis d = made_up({0}, {0.3});
    d.ranked[0].fit.chi_square = 25;
    EXPECT_THAT(answer(d).notes, Not(Contains(StartsWith("Even the best explanation"))));
    d.ranked[0].fit.chi_square = 25.2;
    EXPECT_THAT(answer(d).notes, Contains(StartsWith("Even the best explanation")));
}

TEST(DiagnosisAnswer, NotesWhatTheReadingsDoNotShow) {
    Diagnosis d = made_up({0}, {0.3});
    d.unseen = {1, 3};
    EXPECT_THAT(answer(d).notes, Contains("These readings do not show: lower link 2, upper link 1."));
    d.in_question = {d.suspects[0], d.suspects[1]};
    EXPECT_THAT(answer(d).notes, Contains(StartsWith("The suspects in question together are more, or more alike")));
    d.observability.inverse_condition = 0.02;
    d.observability.smallest = 3.5;
    EXPECT_THAT(answer(d).notes, Contains(::testing::AllOf(HasSubstr("moves the readings 3.5 uncertainties"),
                                                           HasSubstr("condition number 50 "))));
}

}  // namespace
}  // namespace swashwright::studies
