#include "kinematics/bench_files/calliper.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/demo_head.h"
#include "tests/support/random_linkage.h"

namespace swashwright::scene {
namespace {

using studies::CalliperReading;
using studies::Jaws;
using studies::SceneNumbers;
using ::testing::HasSubstr;

const head::Head& demo_head() {
    static const head::Head head = *head::Head::build(swashwright::testing::demo("two_blade_600.toml"));
    return head;
}

constexpr const char* calliper_sample = R"(format = 1
scene = "two_blade_600.toml"
note = "invented"
numbers = "known"

[sizes]
shaft_mm = 10

[[reading]]
place = "upper_link[2]"
mm = 56.5
jaws = "between"
sd = 0.02

[[reading]]
place = "inner_ball[2] to inner_ball[1]"
mm = 45.03

[[reading]]
place = "inner_ball[1] to shaft"
mm = 33
jaws = "over"
)";

/// The sample with one text in place of another.
std::string with(const std::string& old, const std::string& text) {
    std::string out = calliper_sample;
    out.replace(out.find(old), old.size(), text);
    return out;
}

TEST(CalliperFile, IsReadWithItsDefaults) {
    const auto file = parse_calliper(calliper_sample, "c.toml", &demo_head());
    ASSERT_TRUE(file) << file.error().text();
    EXPECT_EQ(file->scene_file, "two_blade_600.toml");
    EXPECT_EQ(file->note, "invented");
    EXPECT_EQ(file->readings.scene, SceneNumbers::known);
    EXPECT_EQ(file->readings.sizes.shaft_mm, 10);
    EXPECT_FALSE(file->readings.sizes.ball_mm);
    ASSERT_EQ(file->readings.list.size(), 3U);
    EXPECT_EQ(file->readings.list[0].jaws, Jaws::between);
    EXPECT_EQ(file->readings.list[0].sd_mm, 0.02);
    EXPECT_EQ(file->readings.list[1].place, "inner_ball[1] to inner_ball[2]");  // named from its other end
    EXPECT_EQ(file->readings.list[1].jaws, Jaws::centres);
    EXPECT_FALSE(file->readings.list[1].sd_mm);
    EXPECT_EQ(parse_calliper(with("numbers = \"known\"\n", ""), "c.toml", &demo_head())->readings.scene,
              SceneNumbers::guessed);
}

TEST(CalliperFile, StandsOnTheSceneBesideIt) {
    const auto loaded = parse_calliper(calliper_sample, SWASHWRIGHT_SCENES "/c.toml");
    ASSERT_TRUE(loaded) << loaded.error().text();
    EXPECT_EQ(loaded->head.description().name, demo_head().description().name);
    const auto fit = studies::calliper_fit(loaded->head, loaded->file.readings);
    ASSERT_TRUE(fit) << fit.error();
    const Scene made = measured_scene(*loaded, *fit);
    EXPECT_EQ(made.note, "Numbers from calliper readings. invented");
    EXPECT_TRUE(parse(write(made), "made.toml"));
    const auto shipped = load_calliper(SWASHWRIGHT_SCENES "/readings/two_blade_600.places.toml");
    ASSERT_TRUE(shipped) << shipped.error().text();
    EXPECT_GT(shipped->file.readings.list.size(), 40U);
}

TEST(CalliperFile, ComesBackToTheLastBit) {
    for (const head::Description& d : swashwright::testing::linkages()) {
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        CalliperFile file{"../" + d.name + ".toml", "of \"" + d.name + "\"", {}};
        file.readings.sizes = {.ball_mm = 1.0 / 3, .boss_mm = 5.1, .shaft_mm = 10, .pin_mm = 2.9};
        double mm = 10.0 / 3;
        const auto places = studies::calliper_places(*head);
        for (const studies::CalliperPlace& place : places) {
            const bool round = half_ends(place, file.readings.sizes).has_value();
            file.readings.list.push_back({place.key, mm += 0.1, round ? Jaws::over : Jaws::centres,
                                          round ? std::optional(0.1 / 3) : std::nullopt});
        }
        const auto again = parse_calliper(write(file, places), "again.toml", &*head);
        ASSERT_TRUE(again) << again.error().text();
        EXPECT_EQ(write(*again, places), write(file, places));
        EXPECT_EQ(write(*parse_calliper(write(file, {}), "again.toml", nullptr), places), write(file, places));
        EXPECT_EQ(again->note, file.note);
        ASSERT_EQ(again->readings.list.size(), file.readings.list.size());
        for (std::size_t i = 0; i < again->readings.list.size(); ++i)
            EXPECT_EQ(again->readings.list[i].mm, file.readings.list[i].mm);
    }
}

/// The one mistake of a text.
std::string mistake_in(const std::string& text) {
    const auto file = parse_calliper(text, "c.toml", &demo_head());
    if (file) return "none";
    EXPECT_EQ(file.error().list.size(), 1U) << file.error().text();
    return file.error().text();
}

TEST(CalliperFile, NamesEveryMistakeWithItsPlace) {
    EXPECT_THAT(mistake_in(with("upper_link[2]", "uper_link[2]")),
                HasSubstr("c.toml:10:9: [[reading]] 1 place: this head has no place \"uper_link[2]\"; did you mean "
                          "\"upper_link[2]\" (upper link 2: ball to ball)?"));
    EXPECT_THAT(
        mistake_in(with("inner_ball[2] to inner_ball[1]", "upper_link[2]")),
        HasSubstr("c.toml:16:9: [[reading]] 2 place: this reading is given twice (upper link 2: ball to ball)"));
    EXPECT_THAT(mistake_in(with("shaft_mm = 10", "")),
                HasSubstr("c.toml:22:8: [[reading]] 3 jaws: the shaft's diameter "
                          "is not known (shaft_mm of [sizes])"));
    EXPECT_THAT(mistake_in(with("\"inner_ball[1] to shaft\"", "\"ring height\"")),
                HasSubstr("c.toml:22:8: [[reading]] 3 jaws: jaws go neither over nor between its ends"));
    EXPECT_THAT(mistake_in(with("jaws = \"over\"", "jaws = \"outside\"")),
                HasSubstr("c.toml:22:8: [[reading]] 3 jaws"));
    EXPECT_THAT(mistake_in(with("mm = 56.5", "mm = \"56,5\"")), HasSubstr("c.toml:11:6: [[reading]] 1 mm"));
    EXPECT_THAT(mistake_in(with("sd = 0.02", "sd = 0")), HasSubstr("c.toml:13:6: [[reading]] 1 sd"));
    EXPECT_THAT(mistake_in(with("sd = 0.02", "uncertainty = 0.02")),
                HasSubstr("c.toml:13:1: [[reading]] 1: unknown key \"uncertainty\""));
    EXPECT_THAT(mistake_in(with("numbers = \"known\"", "numbers = \"right\"")), HasSubstr("c.toml:4:11: numbers"));
    EXPECT_THAT(mistake_in(with("shaft_mm = 10", "shaft_mm = 10\nball_mm = -1")),
                HasSubstr("c.toml:8:11: [sizes] ball_mm"));
    EXPECT_THAT(mistake_in(with("note = \"invented\"", "note = 3")), HasSubstr("c.toml:3:8: note"));
}

TEST(CalliperFile, SaysWhatIsWrongWithItsScene) {
    const auto one = [](const std::string& text) {
        const auto loaded = parse_calliper(text, SWASHWRIGHT_SCENES "/c.toml");
        if (loaded) return std::string("none");
        EXPECT_EQ(loaded.error().list.size(), 1U);
        return loaded.error().text();
    };
    EXPECT_THAT(one(with("two_blade_600.toml", "nowhere.toml")),
                HasSubstr("c.toml:2:9: scene: the scene cannot be read"));
    EXPECT_THAT(one(with("two_blade_600.toml", "readings/two_blade_600.toml")),
                HasSubstr("this is a file of gauge readings, expected a scene"));
    EXPECT_THAT(one("format = 1\n[layout]\nblades = 2\n"), HasSubstr("this is a file of calliper readings, expected"));
}

}  // namespace
}  // namespace swashwright::scene
