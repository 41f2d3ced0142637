// The same exit code for the same reason, whichever verb: 2 for arguments and files that cannot be meant, 1 for a head
// that does not close.
#include <gmock/gmock.h>

#include "tests/console/every_verb.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

std::string with_out(const Use& use, const TemporaryFolder& folder) {
    return use.ending.empty() ? "" : " --out '" + (folder / ("out" + use.ending)) + "'";
}

TEST(ExitCode, is_2_for_arguments_that_this_head_cannot_be_asked) {
    const TemporaryFolder folder("codes");
    const auto readings = [&](const std::string& name, const std::string& rows) {
        return "diagnose " + usual_scene + " --readings '" + folder.put(name, "format = 1\n" + rows) + "'";
    };
    const std::vector<std::pair<std::string, std::string>> cases{
        {"loads " + usual_scene + " --volts 6", "servo left has no rated_volts"},
        {"power " + usual_scene + " --before 2000", "by two head speeds"},
        {"power " + usual_scene + " --before 2000 --climbing 1900 --speed 2000", "both the head speed"},
        {"stiff " + usual_scene + " --link foo=3", "--link foo=3: expected a link of this head"},
        {"stiff " + usual_scene + " --link 'upper_link[3]=3'", "--link upper_link[3]=3"},
        {"stiff " + usual_scene + " --link 'upper_link[1]=-3'", "--link upper_link[1]=-3"},
        {"stiff " + usual_scene + " --link 'upper_link[1]=1e6'", "from 0 to 1000"},
        {"stiff " + usual_scene + " --link 'upper_link[1]=nan'", "from 0 to 1000"},
        {"tolerance " + usual_scene + " --set foo=1", "--set foo=1: expected a number of the scene"},
        {"tolerance " + usual_scene + " --set upper_link.length_mm=1e300", "from 0 to 1000"},
        {"tolerance " + usual_scene + " --set upper_link.length_mm=inf", "from 0 to 1000"},
        {"tolerance " + usual_scene + " --set upper_link.length_mm", "--set upper_link.length_mm"},
        {"lengths " + usual_scene + " --free foo", "--free foo: expected links"},
        {"lengths " + usual_scene + " --free holes", "--free holes"},
        {"lengths " + usual_scene + " --range -11,nan", "from -90 to 90"},
        {"lengths " + usual_scene + " --range -11,1e9", "from -90 to 90"},
        {"folded " + usual_scene + " --fold 1 --seen 999", "cannot differ by more"},
        {"pose " + usual_scene + " --horns 0,0,1e9", "from -3600 to 3600"},
        {"picture " + usual_scene + " --show 'grip[7]' --out '" + (folder / "x.png") + "'", "grip[7]"},
        {readings("blade.toml", "[[pitch]]\nblade = 3\nazimuth_deg = 0\nreading_deg = 0\n"),
         "blade.toml:3:9: [[pitch]] 1 blade: expected a whole number from 1 to 2, found 3"},
        {readings("ball.toml", "[[ring_height]]\nball = 4\nreading_mm = 40\n"),
         "ball.toml:3:8: [[ring_height]] 1 ball: expected a whole number from 1 to 3, found 4"},
    };
    for (const auto& [command, reason] : cases) {
        const Outcome outcome = run_program(command);
        EXPECT_EQ(outcome.exit_code, 2) << command;
        EXPECT_EQ(outcome.out, "") << command;
        EXPECT_THAT(outcome.err, HasSubstr(reason)) << command;
    }
}

TEST(ExitCode, is_2_for_files_that_are_none_with_every_verb) {
    const TemporaryFolder folder("none");
    const std::string empty = folder.put("empty.toml", "");
    for (const Use& use : every_use())
        for (const std::string& file : {std::string("/nowhere.toml"), empty, std::string("/")}) {
            const Outcome outcome = run_program(use.command(file) + with_out(use, folder));
            EXPECT_EQ(outcome.exit_code, 2) << use.verb << " " << file;
            EXPECT_EQ(outcome.out, "") << use.verb << " " << file;
            EXPECT_THAT(outcome.err, HasSubstr(file + ":")) << use.verb;
        }
    for (const std::string& file : {std::string("/nowhere.toml"), empty, std::string("/")}) {
        EXPECT_EQ(run_program("compare " + usual_scene + " '" + file + "'").exit_code, 2) << file;
        EXPECT_EQ(run_program("diagnose " + usual_scene + " --readings '" + file + "'").exit_code, 2) << file;
    }
}

TEST(ExitCode, is_1_for_a_head_that_does_not_close_with_every_verb) {
    const TemporaryFolder folder("short");
    for (const Use& use : every_use()) {
        // Read no head; mends such a head; lists what stands beside it.
        if (use.verb == "measured" || use.verb == "lengths" || use.verb == "log") continue;
        std::string text = file_text(SWASHWRIGHT_SCENES "/" + use.subject);
        // The first upper link a third as long.
        const std::size_t link = text.find("[[upper_link]]"), at = text.find("length_mm = ", link);
        ASSERT_NE(at, std::string::npos) << use.subject;
        const double length = std::stod(text.substr(at + 12));
        text.insert(at, fmt::format("error_mm = {}\n", -0.66 * length));
        const std::string scene = folder.put("short.toml", text);
        const Outcome outcome = run_program(use.command(scene) + with_out(use, folder));
        EXPECT_EQ(outcome.exit_code, 1) << use.verb << outcome.err;
        EXPECT_THAT(outcome.err, HasSubstr("upper link 1 is ")) << use.verb;
    }
    const std::string scene = folder / "short.toml";
    EXPECT_EQ(run_program("compare " + usual_scene + " '" + scene + "'").exit_code, 1);
    EXPECT_EQ(run_program("compare '" + scene + "' '" + scene + "'").exit_code, 1);
    EXPECT_EQ(run_program("lengths '" + scene + "' --room 30").exit_code, 0);
    // What can be told all the same is.
    EXPECT_THAT(run_program("compare " + usual_scene + " '" + scene + "' --csv").out,
                HasSubstr("\"upper link 1, error\""));
}

// The first line of each mistake still names its place.
TEST(ExitCode, of_a_head_that_does_not_close_comes_with_the_place_in_the_file) {
    const TemporaryFolder folder("place");
    std::string text = file_text(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    text.replace(text.find("length_mm = 61.0"), 16, "length_mm = 21.0");
    const std::string scene = folder.put("short.toml", text);
    for (const char* verb : {"pose", "range", "stiff"})
        EXPECT_THAT(run_program(std::string(verb) + " '" + scene + "'").err,
                    HasSubstr("short.toml:90:13: upper link 1 is "))
            << verb;
}

TEST(ExitCode, is_1_for_readings_of_a_head_that_does_not_close) {
    const TemporaryFolder folder("measured");
    std::string text = file_text(SWASHWRIGHT_SCENES "/readings/two_blade_600.measured.toml");
    const std::size_t at = text.find("mm = ", text.find("what = \"upper_link\""));
    ASSERT_NE(at, std::string::npos);
    text.insert(at + 5, "4");  // a slip of the keyboard: 48.2 becomes 448.2
    const Outcome outcome = run_program("measured '" + folder.put("slip.toml", text) + "'");
    EXPECT_EQ(outcome.exit_code, 1) << outcome.out << outcome.err;
    EXPECT_THAT(outcome.err, HasSubstr("upper link"));
    EXPECT_THAT(outcome.out, HasSubstr("does not close"));
}

}  // namespace
}  // namespace swashwright::testing
