// Starts the real program and uses it as a person would. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "kinematics/scene/scene.h"
#include "tests/support/demo_head.h"
#include "tests/window/column.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

const std::string error_of_link_2 = "Upper links, link 2, error_mm";

class Window : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    /// A demo head after a change, as a file.
    std::string spoilt(const std::function<void(head::Description&)>& spoil) {
        scene::Scene scene = *scene::load(two_blade_file);
        spoil(scene.head);
        std::ofstream(folder_.at("spoilt.toml")) << scene::write(scene);
        return folder_.at("spoilt.toml");
    }
    /// What the program prints, and its exit code, when it is run to its end.
    std::pair<std::string, int> run(const std::vector<std::string>& arguments, const std::string& display) {
        const std::string out = folder_.at("out.txt");
        std::vector<std::string> words{"sh", "-c", "out=$1; shift; exec \"$@\" >\"$out\" 2>&1",
                                       "sh", out,  SWASHWRIGHT_PROGRAM};
        words.insert(words.end(), arguments.begin(), arguments.end());
        Process process(words, {display, "XDG_STATE_HOME=" + folder_.at("state"), "ASAN_OPTIONS=detect_leaks=0"});
        const int code = process.wait();
        std::ifstream file(out);
        return {(std::stringstream() << file.rdbuf()).str(), code};
    }

    Screen screen_;
    Folder folder_;
};

TEST_F(Window, DraggingTheCollectiveChangesThePitch) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    EXPECT_NEAR(window.value("pitch_deg")[0].get<double>(), 0, 0.01);
    window.drag("collective", 0.5, 0.1);
    EXPECT_NEAR(window.value("collective").get<double>(), 0.8, 0.03);
    EXPECT_GT(window.value("pitch_deg")[0].get<double>(), 5);
    EXPECT_THAT(window.sentence(), HasSubstr("Up stick raises the ring"));
}

TEST_F(Window, ThePadMovesTheCyclicStickAndADoubleClickCentresIt) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.drag("pad", 0.75, 0.5);
    EXPECT_NEAR(window.value("aileron").get<double>(), 0.5, 0.03);
    EXPECT_THAT(window.sentence(), HasSubstr("lowest towards the right"));
    window.key("Up");
    EXPECT_GT(window.value("elevator").get<double>(), 0.01);
    window.wheel_up("collective");
    EXPECT_NEAR(window.value("collective").get<double>(), 0.02, 1e-9);
    window.key("Home");
    EXPECT_EQ(window.value("aileron").get<double>(), 0.0);
    EXPECT_EQ(window.value("collective").get<double>(), 0.0);
}

TEST_F(Window, TypingAnErrorSplitsTheBladesAndSaysWhy) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.type_into(error_of_link_2, "0.3");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"]; }));
    EXPECT_NEAR(window.value("split_deg").get<double>(), 0.67, 0.02);
    EXPECT_THAT(window.sentence(),
                HasSubstr("Blade 2 takes 0.67 deg more pitch than blade 1: upper link 2 is 0.30 mm too long."));
    window.key("ctrl+z");
    EXPECT_NEAR(window.value("split_deg").get<double>(), 0, 1e-6);
    EXPECT_FALSE(window.value("unsaved"));
    window.key("ctrl+shift+z");
    EXPECT_NEAR(window.value("split_deg").get<double>(), 0.67, 0.02);
}

TEST_F(Window, TheKeyboardReachesTheLedger) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.key("Tab");  // the first number in sight: the length of lower link 1
    window.type("35.4");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"]; }));
    EXPECT_THAT(window.sentence(), HasSubstr("The ring leans"));
}

TEST_F(Window, OpensASceneThatDoesNotClose) {
    DrivenWindow window(screen_, folder_, spoilt([](auto& d) { d.upper_links[1].length_mm = 30; }));
    EXPECT_FALSE(window.value("closes"));
    EXPECT_THAT(window.sentence(), HasSubstr("Upper link 2 is"));
    EXPECT_THAT(window.sentence(), HasSubstr("too short to reach"));
    window.type_into("Upper links, link 2, length_mm", "61");
    EXPECT_TRUE(window.wait_until([](const auto& report) { return report["values"]["closes"]; }));
}

TEST_F(Window, KeepsTheLastPoseWhenTheLoopOpens) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.drag("collective", 0.5, 0.1);
    const double pitch = window.value("pitch_deg")[0];
    window.type_into("Upper links, link 1, length_mm", "20");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return !report["values"]["closes"]; }));
    EXPECT_EQ(window.value("pitch_deg")[0].get<double>(), pitch);
}

TEST_F(Window, SavesUnderATypedName) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.type_into(error_of_link_2, "-0,25");  // a decimal comma
    window.key("ctrl+s");
    window.type(folder_.at("mine.toml"));
    ASSERT_TRUE(window.wait_until([](const auto& report) { return !report["values"]["unsaved"]; }));
    const auto saved = scene::load(folder_.at("mine.toml"));
    ASSERT_TRUE(saved);
    EXPECT_EQ(saved->head.upper_links[1].error_mm, -0.25);
}

TEST_F(Window, EnterNeverThrowsUnsavedWorkAway) {
    constexpr int none = 0, open = 3, save = 4, unsaved = 5;
    const std::string path = folder_.at("mine.toml"), other = folder_.at("other.toml");
    std::filesystem::copy_file(two_blade_file, path);
    std::filesystem::copy_file(SWASHWRIGHT_SCENES "/three_blade_700.toml", other);
    DrivenWindow window(screen_, folder_, path);
    const auto dialog_is = [&](int dialog) {
        return window.wait_until([&](const auto& report) { return report["values"]["dialog"] == dialog; });
    };
    const auto error_on_disk = [&] { return scene::load(path)->head.upper_links[1].error_mm; };
    const auto go_to_the_field = [&] {
        pause(1);  // the rows of another head find their places
        window.click(error_of_link_2);
    };
    for (const double error : {0.3, 0.4}) {
        go_to_the_field();
        window.type(fmt::format("{}", error));
        ASSERT_TRUE(
            window.wait_until([](const auto& report) { return report["values"]["last_edit"] == error_of_link_2; }));
        window.key("ctrl+o");
        ASSERT_TRUE(dialog_is(open));
        window.key("Return");  // the open head's own name stands there
        ASSERT_TRUE(dialog_is(unsaved));
        window.key("Escape");
        ASSERT_TRUE(dialog_is(none));
        EXPECT_TRUE(window.value("unsaved").get<bool>());
        window.key("ctrl+o");
        window.type(other);
        ASSERT_TRUE(dialog_is(unsaved));
        window.key("Return");  // saves first
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["blades"] == 3; }));
        EXPECT_EQ(error_on_disk(), error);
        window.key("ctrl+o");
        window.type(path);
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["blades"] == 2; }));
    }
    // A number that is being typed counts; Save writes the open file, Save as asks.
    go_to_the_field();
    window.key("ctrl+a");
    window.key("5");
    window.key("ctrl+s");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"] == false; }));
    EXPECT_EQ(window.value("dialog"), none);
    EXPECT_EQ(error_on_disk(), 5);
    window.key("ctrl+shift+s");
    ASSERT_TRUE(dialog_is(save));
    window.type(other);
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["dialog_error"] != ""; }));
    window.key("Return");  // once more: only a press on Save replaces another file
    ASSERT_TRUE(dialog_is(save));
    EXPECT_EQ(scene::load(other)->head.rotor.blades, 3);
    window.click("do");
    ASSERT_TRUE(dialog_is(none));
    EXPECT_EQ(scene::load(other)->head.rotor.blades, 2);
    // Leaving, too.
    go_to_the_field();
    window.key("ctrl+a");
    window.key("6");
    window.key("ctrl+q");
    ASSERT_TRUE(dialog_is(unsaved));
    window.click("cancel");
    ASSERT_TRUE(dialog_is(none));
    window.key("ctrl+q");
    window.key("Return");
    for (int tries = 0; tries < tries_to_wait && window.running(); ++tries) pause(0.05);
    EXPECT_FALSE(window.running());
    EXPECT_EQ(scene::load(other)->head.upper_links[1].error_mm, 6);
}

TEST_F(Window, ShowsTheSafetyNoteUntilItIsRead) {
    constexpr int safety = 1, none = 0;
    {
        DrivenWindow window(screen_, folder_, two_blade_file, /*safety_read=*/false);
        EXPECT_EQ(window.value("dialog"), safety);
        window.click("read");
        EXPECT_EQ(window.value("dialog"), none);
    }
    DrivenWindow window(screen_, folder_, two_blade_file, /*safety_read=*/false);
    EXPECT_EQ(window.value("dialog"), none);
}

TEST_F(Window, AClickInThePictureLightsThePartThere) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.click("picture");
    EXPECT_TRUE(window.wait_until([](const auto& report) { return report["values"].contains("selected"); }));
}

TEST_F(Window, ALinkIsSetByHalfTurns) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.type_into("Lower links, link 2, length_mm", "35");
    window.click("Lower links, turn longer");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"]; }));
    EXPECT_THAT(window.sentence(), HasSubstr("The ring leans"));
    window.click("Lower links, turn shorter");
    EXPECT_TRUE(window.wait_until([](const auto& report) {
        return report["sentence"].template get<std::string>().find("leans") == std::string::npos;
    }));
}

TEST_F(Window, AQuestionIsAnsweredAndItsRowsLightTheirParts) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.click("questions");
    window.click("question sensitivity");
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"].contains("answers"); }));
    EXPECT_THAT(window.value("answers")["sensitivity"].get<std::string>(), HasSubstr("upper link"));
    window.click("sensitivity effects row 3");  // a servo's neutral: the rows are sorted by effect
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"].contains("selected"); }));
    EXPECT_THAT(window.value("selected").get<std::string>(), HasSubstr("servo"));
}

TEST_F(Window, ReadingsAreTypedAndExplained) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.click("questions");
    window.click("question diagnose");
    const char* readings[] = {"0.7", "0", "0.7", "0"};
    for (int i = 0; i < 4; ++i) {
        window.click("Add pitch reading");
        window.type_into(fmt::format("pitch reading {} reads", i + 1), readings[i]);
    }
    ASSERT_TRUE(window.wait_until([](const auto& report) {
        const auto& values = report["values"];
        return values.contains("answers") &&
               values["answers"]["diagnose"].template get<std::string>().find("lade 1") != std::string::npos;
    })) << window.value("answers").dump();
}

TEST_F(Window, TheEnvelopeIsMappedAndTwoPressesGoThere) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.click("questions");
    window.click("question reach");
    ASSERT_TRUE(window.wait_until([](const auto& report) {  // in full: with what may touch
        const auto& values = report["values"];
        return values.contains("answers") && values["answers"].contains("reach") &&
               values["answers"]["reach"].template get<std::string>().find("All 95 checks") != std::string::npos;
    }));
    EXPECT_EQ(window.value("collective").get<double>(), 0);
    const auto camera = window.value("camera");
    window.click("envelope map");  // its middle: collective 0, cyclic about the middle too
    ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"].contains("selected"); }));
    EXPECT_TRUE(window.wait_until([&](const auto& report) { return report["values"]["camera"] != camera; }));
    EXPECT_EQ(window.value("aileron").get<double>(), 0);  // it is looked at; nothing has moved
    EXPECT_EQ(window.value("elevator").get<double>(), 0);
    window.click("map stand");
    ASSERT_TRUE(window.wait_until([](const auto& report) {
        const auto& values = report["values"];
        return std::hypot(values["aileron"].template get<double>(), values["elevator"].template get<double>()) > 0.2;
    }));
    EXPECT_TRUE(window.value("selected").is_string());
}

TEST_F(Window, PowerIsPlottedAndFollowsWhatIsGiven) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.click("questions");
    window.click("question power");
    const auto says = [](const char* words) {
        return [words](const auto& report) {
            const auto& values = report["values"];
            return values.contains("answers") &&
                   values["answers"].value("power", std::string()).find(words) != std::string::npos;
        };
    };
    ASSERT_TRUE(window.wait_until(says("is not given")));
    press(window, "power, Another power");
    EXPECT_TRUE(window.wait_until(says("For maximum pitch start at")));
    scroll_to(window, "power plot");
}

TEST_F(Window, LoadsArePlottedAroundTheTurn) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.click("questions");
    window.click("question loads");
    ASSERT_TRUE(window.wait_until([](const auto& report) {
        const auto& values = report["values"];
        return values.contains("answers") &&
               values["answers"].value("loads", std::string()).find("must hold") != std::string::npos;
    }));
    scroll_to(window, "loads plot");
}

/// What is said of a length that was dragged is what the console says of the file then, each time anew.
TEST_F(Window, ALengthIsDraggedBesideTheMap) {
    const std::string file = spoilt([](head::Description&) {});
    DrivenWindow window(screen_, folder_, file);
    window.click("Upper links, link 2, length_mm");
    window.click("questions");
    window.click("question reach");
    const auto worked_out = [](const nlohmann::json& report) {
        const nlohmann::json reach = report["values"]["asked"]["reach"];
        return reach["whole"] == true && reach["stale"] == false ? reach["says"].get<std::string>() : std::string();
    };
    std::string says;
    ASSERT_TRUE(window.wait_until([&](const auto& report) { return !(says = worked_out(report)).empty(); }));
    for (const double to : {0.1, 0.3}) {  // far too short, another length is the nearest to its bound
        const std::string before = says;
        window.drag("Upper links, link 2, error_mm, line", to, 0.5);
        ASSERT_TRUE(window.wait_until([&](const auto& report) {
            says = worked_out(report);
            return !says.empty() && says != before;
        })) << before;
        EXPECT_TRUE(window.value("unsaved").get<bool>());
        window.key("ctrl+s");
        ASSERT_TRUE(window.wait_until([](const auto& report) { return report["values"]["unsaved"] == false; }));
        std::string printed = run({"reach", file}, "DISPLAY=").first;
        std::ranges::replace(printed, '\n', ' ');
        EXPECT_EQ(printed.substr(0, says.size()), says);
    }
}

TEST_F(Window, TurnsAndStops) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.key("space");
    EXPECT_TRUE(window.wait_until([](const auto& report) { return report["values"]["azimuth_deg"] > 10; }));
    window.key("space");
    const double azimuth = window.value("azimuth_deg");
    pause(0.3);
    EXPECT_EQ(window.value("azimuth_deg").get<double>(), azimuth);
}

TEST_F(Window, RestsWhenNothingHappens) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto cpu_ticks = [&] {
        std::ifstream file(fmt::format("/proc/{}/stat", window.id()));
        std::string word;
        long user = 0, system = 0;
        for (int field = 1; field <= 13; ++field) file >> word;  // the program's name holds no space
        file >> user >> system;
        return user + system;
    };
    pause(1);
    const long before = cpu_ticks();
    constexpr double seconds = 3;
    pause(seconds);
    const double share =
        static_cast<double>(cpu_ticks() - before) / static_cast<double>(::sysconf(_SC_CLK_TCK)) / (patience * seconds);
    EXPECT_LT(share, 0.05);
}

TEST_F(Window, HeapDoesNotGrowFrameByFrame) {
    if (patience > 1) GTEST_SKIP() << "the sanitizer keeps a heap of its own";
    // The driver takes blocks of its own now and then; a leak of ours grows in every quarter: 41 bytes a frame would
    // show.
    const auto [out, code] = run({two_blade_file, "--frames", "1600"}, screen_.variable());
    EXPECT_EQ(code, 0) << out;
    const std::size_t at = out.find("quietest quarter by ");
    ASSERT_NE(at, std::string::npos) << out;
    EXPECT_LT(std::stol(out.substr(at + 20)), 16 * 1024) << out;
}

TEST_F(Window, SaysWhatToDoWithoutAScreen) {
    const auto [out, code] = run({two_blade_file}, "DISPLAY=");
    EXPECT_EQ(code, 1);
    EXPECT_THAT(out, HasSubstr("no window can be opened here"));
    EXPECT_THAT(out, HasSubstr("swashwright picture " + two_blade_file + " --out "));
}

TEST_F(Window, RefusesASceneThatCannotBeRead) {
    std::ofstream(folder_.at("bad.toml")) << "format = 1\nnonsense = 2\n";
    const auto [out, code] = run({folder_.at("bad.toml")}, screen_.variable());
    EXPECT_EQ(code, 2);
    EXPECT_THAT(out, HasSubstr("bad.toml:2:1: "));
}

}  // namespace
}  // namespace swashwright::testing
