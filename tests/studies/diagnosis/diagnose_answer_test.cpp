// What a diagnosis says in words.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

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

/// Its answer where pitch readings were taken on a gauge zeroed on the shaft.
Answer answered(Diagnosis& d) {
    d.gauge.zeroed_on = ZeroedOn::shaft;
    return answer(d, {});
}

const Table& table_of(const Answer& a, const std::string& key) {
    const auto table = std::ranges::find(a.tables, key, &Table::key);
    if (table == a.tables.end()) throw std::out_of_range("no table " + key);
    return *table;
}

TEST(DiagnosisAnswer, IsCalmWhereNothingIsWrong) {
    Diagnosis d = made_up({}, {});
    EXPECT_EQ(answered(d).text, "Nothing wrong shows in these 12 readings (probability 80 %).");
    EXPECT_EQ(answered(d).tone, Tone::calm);
    d.ranked[0].probability = 0.999;
    EXPECT_THAT(answered(d).text, HasSubstr("(probability over 99 %)"));
    EXPECT_EQ(table_of(answered(d), "explanations").rows[0][1], Cell("nothing wrong"));
}

// 95 % of a normal distribution lie within 1.96 deviations: 0.20 for one of 0.1.
TEST(DiagnosisAnswer, TellsBothOfAPairWithTheirSpread) {
    Diagnosis d = made_up({0, 0}, {-0.4, 2.5});
    d.ranked[0].fit.faults = {index_of(d, FaultKind::upper_link, 1), index_of(d, FaultKind::trim)};
    const Answer a = answered(d);
    EXPECT_EQ(
        a.text,
        "Most probable: upper link 2 is 0.40 mm too short (± 0.20 mm, 95 %), and servo left: trim is 2.50 deg too "
        "far anticlockwise, seen on the horn's face "
        "(± 0.20 deg, 95 %); probability 80 %.");
    EXPECT_EQ(a.tone, Tone::notice);
    ASSERT_EQ(table_of(a, "explanations").rows.size(), 2U);
    EXPECT_EQ(table_of(a, "explanations").rows[1][0], Cell());  // one rank for both
    EXPECT_EQ(table_of(a, "explanations").parts[1], "servo[1]");
}

TEST(DiagnosisAnswer, TellsAnEndPointAsASentence) {
    Diagnosis d = made_up({0}, {8});
    d.ranked[0].fit.faults = {index_of(d, FaultKind::end_point)};
    EXPECT_THAT(answered(d).text, HasSubstr("servo left: end point downwards is 8.00 % too far (± "));
    d.ranked[0].fit.size[0] = -8;
    EXPECT_THAT(answered(d).text, HasSubstr("is 8.00 % too near (± "));
}

// The answer solves nothing: it has no head to ask.
TEST(DiagnosisAnswer, TellsTheCorrectionsThatTheDiagnosisHolds) {
    Diagnosis d = made_up({0}, {0.3});
    EXPECT_TRUE(table_of(answered(d), "corrections").rows.empty());
    d.ranked[0].corrections = {{"lower_link[1]", "2 half turns shorter", -0.3, -0.75}};
    const Table table = table_of(answered(d), "corrections");
    ASSERT_EQ(table.rows.size(), 1U);
    EXPECT_EQ(table.rows[0], (std::vector<Cell>{1.0, "lower link 1", -0.3, -0.75, "2 half turns shorter"}));
    EXPECT_EQ(table.parts[0], "lower_link[1]");
}

TEST(DiagnosisAnswer, AFaultWithoutASizeHasNone) {
    Diagnosis d = made_up({0}, {0});
    d.ranked[0].fit.faults = {index_of(d, FaultKind::horn_tooth)};
    EXPECT_EQ(answered(d).text,
              "Most probable: servo left: horn 2 teeth clockwise, seen on the horn's face; probability 80 %.");
    EXPECT_EQ(table_of(answered(d), "explanations").rows[0][2], Cell());
}

TEST(DiagnosisAnswer, NamesWhatCannotBeToldApartAndCountsTheRest) {
    Diagnosis d = made_up({0}, {0.3});
    for (const int f : {1, 2, 3, 4}) d.stand_ins.push_back({f, 0, 1.5});
    EXPECT_EQ(answered(d).text,
              "Not told yet which part it is. Most probable: lower link 1 is 0.30 mm too long (± 0.20 mm, 95 %), one "
              "of five that these readings "
              "cannot tell apart; probability 80 %. It may instead be: lower link 2, lower link 3, "
              "upper link 1, upper link 2.");
    d.stand_ins.push_back({index_of(d, FaultKind::trim), 0, 2});
    EXPECT_THAT(answered(d).text, HasSubstr("one of six that"));
    EXPECT_THAT(answered(d).text, EndsWith("upper link 2 and 1 more."));
    const Table table = table_of(answered(d), "not_told_apart");
    EXPECT_EQ(table.rows.size(), 5U);
    EXPECT_EQ(table.rows[0][1], Cell("lower link 1"));
    EXPECT_EQ(table.rows[0][3], Cell());
}

// Zeroed on the shaft already, only a zero that is checked can tell; zeroed on level, both.
TEST(DiagnosisAnswer, SaysWhatOfTheGaugeWouldTellThemApart) {
    Diagnosis d = made_up({0}, {0.3});
    d.stand_ins = {{1, 0, 1.5, true}, {the_stand, 0, 2, true}};
    d.gauge.zeroed_on = ZeroedOn::level;
    EXPECT_THAT(answer(d, {}).text, EndsWith("It may instead be: lower link 2, the gauge's zero and "
                                             "the shaft's lean; zeroing the gauge on the shaft would tell."));
    for (StandIn& s : d.stand_ins) s.told_by_shaft = false, s.told_by_known_zero = true;
    EXPECT_THAT(answer(d, {}).text, EndsWith("; zeroing the gauge on the shaft and checking its zero would tell."));
    EXPECT_THAT(answered(d).text, EndsWith("lower link 2, the gauge's zero; checking the gauge's zero would tell."));
    d.stand_ins[0].told_by_known_zero = false;
    EXPECT_THAT(answered(d).text,
                EndsWith("lower link 2, the gauge's zero; checking the gauge's zero would tell one of "
                         "them."));
    const Table table = table_of(answered(d), "not_told_apart");
    EXPECT_EQ(table.rows[0][3], Cell());
    EXPECT_EQ(table.rows[1][3], Cell("checking the gauge's zero"));
}

// With 11 readings to spare chi-square is 11 on average with a deviation of the root of 22: beyond 11 + 3 x 4.7 = 25
// something else is wrong.
TEST(DiagnosisAnswer, DoubtsAFitThatLeavesTooMuch) {
    Diagnosis d = made_up({0}, {0.3});
    d.ranked[0].fit.chi_square = 25;
    EXPECT_THAT(answered(d).notes, Not(Contains(StartsWith("Even the best explanation"))));
    d.ranked[0].fit.chi_square = 25.2;
    EXPECT_THAT(answered(d).notes, Contains(StartsWith("Even the best explanation")));
}

TEST(DiagnosisAnswer, TellsWhatTheReadingsCouldNotShowAndWhatOneMoreBuys) {
    Diagnosis d = made_up({}, {});
    d.unseen = {1, 3};
    d.next_readings = {
        {.where = {.blade = 1, .sticks = {.collective = 1}, .azimuth_deg = 90}, .gain = 1.2, .rival_deg = {}},
        {.where = {}, .gain = 0.4, .rival_deg = {}, .shows = {3}},
        {.where = {}, .gain = 0.1, .rival_deg = {}}};
    d.next_step = {NextStep::What::read_on, 0, 1.2};
    EXPECT_EQ(
        answered(d).text,
        "Nothing wrong shows in these 12 readings (probability 80 %). These readings could not have shown, of the " +
            std::to_string(d.suspects.size()) +
            " faults weighed: lower link 2, upper link 1. Read next: blade 2, full collective, azimuth 90 deg; it "
            "settles a lot.");
    d.next_readings[0].shows = {1};
    EXPECT_THAT(answered(d).text, EndsWith("it settles a lot and would show lower link 2."));
    const Answer a = answered(d);
    const Table& table = table_of(a, "not_shown");
    ASSERT_EQ(table.rows.size(), 2U);
    EXPECT_EQ(table.rows[0], (std::vector<Cell>{"lower link 2", "row 1 of what to read next"}));
    EXPECT_EQ(table.rows[1][1], Cell("row 2 of what to read next"));
    const Table& next = table_of(a, "next_readings");
    for (const auto& [row, words] : {std::pair(0U, "a lot"), std::pair(1U, "some"), std::pair(2U, "little")})
        EXPECT_EQ(next.rows[row].back(), Cell(words));
    EXPECT_THAT(as_text(a), Not(HasSubstr("1.20"))) << "how much, in nats, is for programs";
    EXPECT_THAT(as_csv(a), HasSubstr("gain_nats"));
}

TEST(DiagnosisAnswer, NotesHowWellTheSuspectsAreTold) {
    Diagnosis d = made_up({0}, {0.3});
    d.in_question = {d.suspects[0], d.suspects[1]};
    EXPECT_THAT(answered(d).notes, Contains(StartsWith("The suspects in question together are more, or more alike")));
    d.observability.inverse_condition = 0.02;
    d.observability.smallest = 3.5;
    EXPECT_THAT(answered(d).notes, Contains(::testing::AllOf(HasSubstr("moves the readings 3.5 uncertainties"),
                                                             HasSubstr("condition number 50 "))));
}

// 1.96 deviations of 0.05 are 0.10; a zero within two deviations of 0 is none.
TEST(DiagnosisAnswer, TellsAZeroThatIsOff) {
    Diagnosis d = made_up({}, {});
    d.ranked[0].stand.zero_deg = {0.39, 0.05};
    EXPECT_EQ(answered(d).text,
              "Nothing wrong shows in these 12 readings (probability 80 %); the gauge reads 0.39 deg high (± 0.10 deg, "
              "95 %): its zero, or how the model stands.");
    EXPECT_EQ(answered(d).tone, Tone::notice);
    const Table table = table_of(answered(d), "stand");
    ASSERT_EQ(table.rows.size(), 1U);
    EXPECT_EQ(table.rows[0][0], Cell("the gauge's zero"));
    EXPECT_EQ(table.rows[0][3], Cell("yes"));
    d.ranked[0].stand.zero_deg = {-0.09, 0.05};
    EXPECT_EQ(answered(d).text, "Nothing wrong shows in these 12 readings (probability 80 %).");
    EXPECT_EQ(answered(d).tone, Tone::calm);
    d.ranked[0].stand.zero_deg = {-0.39, 0.05};
    d.gauge.zeroed_on = ZeroedOn::blade;  // that is how the blade stood
    EXPECT_THAT(answer(d, {}).text, Not(HasSubstr("the gauge reads")));
    Diagnosis wrong = made_up({0}, {0.3});
    wrong.ranked[0].stand.zero_deg = {-0.39, 0.05};
    EXPECT_THAT(answered(wrong).text, StartsWith("The gauge reads 0.39 deg low (± 0.10 deg, 95 %): its zero, or how "
                                                 "the model stands. Most probable: lower link 1"));
}

// To the left is 90 deg from the nose; the spread along the lean is that of the angle to the right.
TEST(DiagnosisAnswer, TellsALeanAndThatTheRingMayLeanInstead) {
    Diagnosis d = made_up({}, {});
    d.gauge.zeroed_on = ZeroedOn::level;
    d.ranked[0].stand.lean_right_deg = {-1, 0.1};
    d.ranked[0].stand.lean_forward_deg = {0, 0.4};
    EXPECT_THAT(answer(d, {}).text,
                StartsWith("The shaft leans 1.0 deg (± 0.20 deg, 95 %) towards the left, or the ring does: a gauge "
                           "zeroed on level cannot tell; zero it on the shaft. Beside that nothing wrong "
                           "shows in these"));
    EXPECT_EQ(answer(d, {}).tone, Tone::notice);
    EXPECT_EQ(table_of(answer(d, {}), "stand").rows.size(), 2U);
    d.ranked[0].stand.lean_right_deg = {0, 0.1};
    d.ranked[0].stand.lean_forward_deg = {1, 0.2};
    EXPECT_THAT(answer(d, {}).text, HasSubstr("towards the nose"));
}

TEST(DiagnosisAnswer, AsksForADoubtfulReadingAgain) {
    Diagnosis d = made_up({}, {});
    Readings readings;
    readings.pitch = {{0, {}, 0, 0.1}, {1, {.collective = 1, .aileron = -1}, 90, -3.2}};
    readings.ring_height.resize(1);
    readings.ring_height[0].ball = 2;
    d.checked = {{0.1, 0.12, 0.01}, {-3.2, 3.1, 0.97, Misreading::sign}, {40, 45, 0.6, Misreading::anything}};
    d.gauge.zeroed_on = ZeroedOn::shaft;
    const Answer a = answer(d, readings);
    EXPECT_EQ(a.text,
              "Take reading 2 (blade 2, full collective, full left aileron, azimuth 90 deg) again: it looks as if its "
              "sign were typed wrong (reads -3.2, expected +3.1; wrong with 97 %). Take ring height 1 (ball 3, mid "
              "collective) again: it does not fit the others (reads +40.0, expected +45.0; wrong with 60 %). Beside "
              "that nothing wrong shows in these 12 readings (probability 80 %).");
    EXPECT_EQ(a.tone, Tone::notice);
    EXPECT_EQ(readings_to_take_again(d), (std::vector<std::size_t>{1, 2}));
    const Table& table = table_of(a, "readings");
    ASSERT_EQ(table.rows.size(), 3U);
    EXPECT_EQ(table.rows[0].back(), Cell("")) << "a chance of 1 % is not worth a word";
    EXPECT_EQ(table.rows[1].back(), Cell("sign wrong"));
    EXPECT_EQ(table.rows[2][1], Cell("ball 3"));
    d.checked[1].how = Misreading::blade;
    d.checked[1].blade = 0;
    EXPECT_THAT(answer(d, readings).text, HasSubstr("it looks as if it were of blade 1 (reads"));
}

TEST(DiagnosisAnswer, SaysWhatItTakesWhereTheGaugeIsNotToldOf) {
    Diagnosis d = made_up({}, {});
    Readings readings;
    readings.pitch.resize(1);
    EXPECT_THAT(answer(d, readings).text,
                EndsWith("Nothing is said of what the gauge was zeroed on; the shaft is taken."));
    d.gauge.zeroed_on = ZeroedOn::level;
    EXPECT_THAT(answer(d, readings).text, Not(HasSubstr("Nothing is said")));
}

TEST(DiagnosisAnswer, DoesNotCallAHeadSoundOfWhichItDoubtsThat) {
    Diagnosis d = made_up({}, {}), other = made_up({0}, {0.3});
    d.ranked[0].probability = 0.28;
    d.ranked.push_back(other.ranked[0]);
    d.ranked[1].probability = 0.2;
    EXPECT_EQ(
        answered(d).text,
        "No explanation stands out in these 12 readings: nothing wrong is the likeliest (28 %), then lower link 1 "
        "is 0.30 mm too long (± 0.20 mm, 95 %) (20 %).");
    EXPECT_EQ(answered(d).tone, Tone::notice);
}

TEST(DiagnosisAnswer, NamesTheRivalsOfEachOfAPair) {
    Diagnosis d = made_up({0, 4}, {0.3, 0.2});
    d.stand_ins = {{1, 4, 1.5}};
    EXPECT_THAT(answered(d).text, EndsWith("Instead of " + d.suspects[4].words + " it may be: lower link 2."));
}

TEST(DiagnosisAnswer, SaysWhatAZeroThatIsNotKnownMayHide) {
    Diagnosis d = made_up({}, {});
    d.stand_ins = {{0, the_stand, 2, false, true}, {1, the_stand, 3, false, true}};
    EXPECT_THAT(answered(d).text, EndsWith("With the gauge's zero unknown, a fault may be hidden: lower link 1, lower "
                                           "link 2; checking the gauge's zero would tell."));
}

// Readings of 0.1 deg each.
TEST(DiagnosisAnswer, SaysHowWellTheHeadAsDescribedIsKnown) {
    Diagnosis d = made_up({}, {});
    d.gauge.zeroed_on = ZeroedOn::shaft;
    Readings readings;
    readings.pitch.resize(1);
    d.described_within_deg = 0.09;
    EXPECT_THAT(answer(d, readings).text, Not(HasSubstr("as the scene says")));
    d.described_within_deg = 0.44;
    EXPECT_THAT(answer(d, readings).text,
                EndsWith("This holds if the head was built as the scene says: usual tolerances alone make 0.4 deg (one "
                         "standard deviation), and readings from before would tell."));
}

TEST(DiagnosisAnswer, SaysTheNextStepWhereSomethingIsOpen) {
    Diagnosis d = made_up({0}, {0.3});
    Readings readings;
    readings.pitch.resize(1);
    d.checked.resize(1);
    d.gauge.zeroed_on = ZeroedOn::level;
    d.next_step = {NextStep::What::zero_on_shaft, 0, 2};
    EXPECT_THAT(answer(d, readings).text, HasSubstr("Next, zero the gauge on the shaft and take the same readings"));
    d.next_step = {NextStep::What::repeat, 0, 0};
    EXPECT_THAT(answer(d, readings).text, EndsWith("Next, take reading 1 (blade 1, mid collective, azimuth 0 deg) once "
                                                   "more with nothing changed: a loose part does not read twice the "
                                                   "same."));
    d.next_step = {NextStep::What::take_again, 0, 0};
    EXPECT_THAT(answer(d, readings).text, HasSubstr("Next, take reading 1 (blade 1"));
    d.ranked[0].probability = 0.97;
    EXPECT_THAT(answer(d, readings).text, Not(HasSubstr("Next")));
}

}  // namespace
}  // namespace swashwright::studies
