#include "kinematics/studies/diagnosis/practice_play.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/diagnosis/correction.h"
#include "kinematics/studies/diagnosis/diagnose.h"
#include "kinematics/studies/diagnosis/fault_words.h"
#include "kinematics/studies/questions/practice_places.h"
#include "kinematics/studies/questions/question.h"
#include "tests/support/demo_head.h"

namespace swashwright::studies {
namespace {

using testing::demo_head;
using ::testing::HasSubstr;
using ::testing::Not;

HiddenFault hidden_in(const std::string& file, std::uint64_t number) {
    return hide_fault(demo_head(file), number).value();
}

Readings places_of(std::vector<PitchReading> pitch) {
    Readings out;
    out.pitch = std::move(pitch);
    out.gauge = practice_gauge();
    return out;
}

bool is_named(const HiddenFault& hidden, const std::string& key) {
    const auto keys = keys_of(hidden.what());
    return std::ranges::find(keys, key) != keys.end();
}

// Measured over 60 numbers of each of five demo heads: one of 300 is named wrong.
TEST(OwnPlay, FindsThePartOrOneThatNoLongSittingTellsFromIt) {
    int rounds = 0, right = 0, exact = 0;
    std::size_t readings = 0;
    for (const char* file : {"two_blade_600.toml", "three_blade_700.toml", "tail_600.toml"})
        for (std::uint64_t number = 1; number <= 20; ++number, ++rounds) {
            const HiddenFault hidden = hidden_in(file, number);
            const auto own = own_play(hidden);
            ASSERT_TRUE(own) << own.error().message;
            EXPECT_TRUE(own->settled) << file << " " << number;
            EXPECT_LE(own->readings.pitch.size(), most_own_readings);
            readings += own->readings.pitch.size();
            exact += is_named(hidden, own->key);
            right += explains_as_well(hidden, long_sitting(hidden, own->readings), own->key);
        }
    EXPECT_GE(right, rounds - 2);
    EXPECT_GE(exact, rounds * 4 / 5);
    EXPECT_LE(static_cast<double>(readings) / rounds, 5.0);
}

// Each place is the one that the diagnosis of the readings before advises: nothing of the fault but what was read.
TEST(OwnPlay, ReadsOnlyWhereItsDiagnosisSaysAndSeesOnlyReadings) {
    const HiddenFault hidden = hidden_in("two_blade_600.toml", 8);
    const auto own = own_play(hidden), again = own_play(hidden);
    ASSERT_TRUE(own && again);
    EXPECT_EQ(own->key, again->key);
    ASSERT_EQ(own->readings.pitch.size(), again->readings.pitch.size());
    const auto read = read_hidden(hidden, own->readings);
    for (std::size_t i = 0; i < own->readings.pitch.size(); ++i)
        EXPECT_EQ(own->readings.pitch[i].reading_deg, read->pitch[i].reading_deg);
    // Another fault that reads the same so far is read at the same places: the first one is the same for all.
    const auto other = own_play(hidden_in("two_blade_600.toml", 5));
    EXPECT_EQ(other->readings.pitch[0].sticks, own->readings.pitch[0].sticks);
    EXPECT_EQ(other->readings.pitch[0].azimuth_deg, own->readings.pitch[0].azimuth_deg);
}

// Who reads nothing and names any part is right about as often as he hits the part.
TEST(PracticeScore, IsFairToWhoGuesses) {
    std::size_t accepted = 0, parts = 0;
    for (std::uint64_t number = 1; number <= 15; ++number) {
        const HiddenFault hidden = hidden_in("two_blade_600.toml", number);
        const Readings sitting = long_sitting(hidden, own_play(hidden)->readings);
        for (const PartToName& part : parts_to_name(hidden.described.description())) {
            const bool well = explains_as_well(hidden, sitting, part.key);
            accepted += well, ++parts;
            EXPECT_TRUE(well || !is_named(hidden, part.key)) << part.key;
        }
    }
    EXPECT_LT(accepted, 2 * parts / 14);  // of 14 parts fewer than two, the right one among them
}

// A blade offset on its grip and a pitch arm turned on it are one and the same to a gauge, and one part; an upper link
// that is a little long turns its blade by nearly as much everywhere.
TEST(PracticeScore, CountsWhatNoReadingTellsApartAsRightAndSaysSo) {
    const HiddenFault hidden = hidden_in("two_blade_600.toml", 2);  // pitch arm 1 turned on its grip
    ASSERT_TRUE(is_named(hidden, "grip[1]"));
    const Readings places = places_of({{0, {1, 0, 0}, 0}, {1, {-1, 0.5, 0}, 120}});
    const auto right = practice_score(hidden, places, "grip[1]"),
               as_well = practice_score(hidden, places, "upper_link[1]"),
               wrong = practice_score(hidden, places, "mixing"), given_up = practice_score(hidden, places, "");
    ASSERT_TRUE(right && as_well && wrong && given_up);
    EXPECT_EQ(right->verdict, Verdict::right);
    EXPECT_EQ(as_well->verdict, Verdict::as_well);
    EXPECT_EQ(wrong->verdict, Verdict::wrong);
    EXPECT_EQ(given_up->verdict, Verdict::given_up);
    const std::string what = fault_words(hidden.what(), hidden.size);
    EXPECT_THAT(answer(*right, hidden).text, HasSubstr("Right: " + what + "."));
    EXPECT_THAT(answer(*as_well, hidden).text, HasSubstr("tell that from upper link 1."));
    EXPECT_THAT(answer(*wrong, hidden).text, HasSubstr("Not the transmitter's mix. Hidden was: " + what));
    EXPECT_THAT(answer(*given_up, hidden).text, HasSubstr("Given up. Hidden was: " + what));
    for (const auto* score : {&*right, &*as_well, &*wrong, &*given_up}) {
        const std::string text = answer(*score, hidden).text;
        EXPECT_THAT(text, HasSubstr(correction(hidden.what(), hidden.size, hidden.described).words));
        EXPECT_THAT(text, HasSubstr("Your reading 1 shows it best"));
    }
    // What a reading shows of the fault is the head with it less the head without, by `pose`.
    const PitchReading& first = right->readings.pitch[0];
    const double by = hidden.real.pose(first.sticks, first.azimuth_deg)->pitch_deg[0] -
                      hidden.described.pose(first.sticks, first.azimuth_deg)->pitch_deg[0];
    EXPECT_NEAR(right->by_fault[0] * first.uncertainty_deg, by, 1e-9);
    EXPECT_FALSE(practice_score(hidden, places, "wings"));
}

// More readings than it takes, as many, and fewer.
TEST(PracticeScore, SaysInWordsHowManyReadingsWouldDo) {
    const HiddenFault hidden = hidden_in("two_blade_600.toml", 1);
    const auto own = own_play(hidden);
    ASSERT_TRUE(own);
    const std::size_t would_do = own->readings.pitch.size();
    ASSERT_GT(would_do, 1U);
    std::vector<PitchReading> places;
    for (std::size_t i = 0; i <= would_do; ++i) places.push_back({0, {1, 0, 0}, 30.0 * static_cast<double>(i)});
    const auto said = [&](std::size_t count) {
        const auto score =
            practice_score(hidden, places_of({places.begin(), places.begin() + static_cast<std::ptrdiff_t>(count)}),
                           keys_of(hidden.what()).front());
        return answer(*score, hidden).text;
    };
    EXPECT_THAT(said(would_do + 1),
                HasSubstr(fmt::format("You needed {} readings; {} would do.", would_do + 1, would_do)));
    EXPECT_THAT(said(would_do), HasSubstr("and so does the program."));
    EXPECT_THAT(said(1), HasSubstr(fmt::format("You needed 1 reading; the program takes {} to be sure.", would_do)));
    EXPECT_THAT(said(0), HasSubstr("You named it without a reading"));
}

// Nothing of what is hidden stands in any form of the answer until a part is named.
TEST(Practice, TellsNothingOfTheFaultBeforeAPartIsNamed) {
    const auto practice = std::ranges::find(all_questions(), "practice", &Question::verb);
    ASSERT_NE(practice, all_questions().end());
    for (std::uint64_t number = 1; number <= 12; ++number) {
        const HiddenFault hidden = hidden_in("two_blade_600.toml", number);
        Asked asked{demo_head("two_blade_600.toml"), {}, Values(practice->options)};
        asked.values.set("number", static_cast<std::int64_t>(number));
        asked.values.set("read", std::vector<std::string>{"blade=1,azimuth=0,collective=1", "ball=2"});
        const auto before = practice->run(asked), again = practice->run(asked);
        ASSERT_TRUE(before && again);
        const std::string text = as_text(before->answer) + as_csv(before->answer);
        EXPECT_THAT(text, Not(HasSubstr(fault_words(hidden.what(), hidden.size))));
        EXPECT_THAT(text, Not(HasSubstr(correction(hidden.what(), hidden.size, hidden.described).words)));
        EXPECT_THAT(text, Not(HasSubstr(fmt::format("{:.2f} {}", std::abs(hidden.size), hidden.what().unit) + " ")));
        EXPECT_EQ(as_csv(before->answer), as_csv(again->answer));
        const double read = std::get<double>(before->answer.tables[0].rows[0][1]);
        asked.values.set("name", std::vector<std::string>{keys_of(hidden.what()).front()});
        const auto after = practice->run(asked);
        ASSERT_TRUE(after);
        EXPECT_THAT(after->answer.text, HasSubstr("Right: " + fault_words(hidden.what(), hidden.size)));
        EXPECT_EQ(std::get<double>(after->answer.tables[0].rows[0][1]), read);
        ASSERT_EQ(after->answer.tables.size(), before->answer.tables.size());
    }
}

TEST(Practice, RefusesWhatCannotBeMeant) {
    const auto practice = std::ranges::find(all_questions(), "practice", &Question::verb);
    const auto why = [&](const char* key, std::vector<std::string> texts) {
        Asked asked{demo_head("two_blade_600.toml"), {}, Values(practice->options)};
        asked.values.set(key, std::move(texts));
        const auto outcome = practice->run(asked);
        return outcome ? std::string() : outcome.error().why;
    };
    EXPECT_THAT(why("read", {"wing=1"}), HasSubstr("nothing is called wing"));
    EXPECT_THAT(why("read", {"blade"}), HasSubstr("= and a number"));
    EXPECT_THAT(why("read", {"blade=1,ball=1"}), HasSubstr("a blade or a ball"));
    EXPECT_THAT(why("read", {""}), HasSubstr("no place to read"));
    EXPECT_THAT(why("read", {"blade=1.5"}), HasSubstr("counted from 1"));
    EXPECT_THAT(why("read", {"blade=1,collective=2"}), HasSubstr("from -1 to 1"));
    EXPECT_THAT(why("read", {"blade=1,blade=2"}), HasSubstr("twice"));
    EXPECT_THAT(why("read", {"blade=1,azimuth=nan"}), HasSubstr("wants a number"));
    EXPECT_THAT(why("read", {"blade=9"}), HasSubstr("blade 9"));
    EXPECT_THAT(why("name", {"wings"}), HasSubstr("no part wings"));
    EXPECT_THAT(why("name", {"mixing", "guide"}), HasSubstr("one part"));
}

TEST(PracticePlaces, AreWrittenAsTheyAreRead) {
    const PitchReading pitch{1, {0.25, -0.1, 1}, 123.456};
    const RingHeightReading height{2, 0, 0, {.rudder = -0.5}};
    Readings read;
    ASSERT_TRUE(add_place(read, place_text(pitch)));
    ASSERT_TRUE(add_place(read, place_text(height)));
    EXPECT_EQ(read.pitch[0].blade, 1);
    EXPECT_EQ(read.pitch[0].sticks, pitch.sticks);
    EXPECT_EQ(read.pitch[0].azimuth_deg, pitch.azimuth_deg);
    EXPECT_EQ(read.ring_height[0].ball, 2);
    EXPECT_EQ(read.ring_height[0].sticks, height.sticks);
}

}  // namespace
}  // namespace swashwright::studies
