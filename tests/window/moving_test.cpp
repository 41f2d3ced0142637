// Coming closer, hiding, distances, dragging parts and saving the picture, on the real window. Needs Xvfb and xdotool.
#include <gmock/gmock.h>

#include <cmath>

#include "tests/support/demo_head.h"
#include "tests/window/driven_window.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

using Spot = std::pair<double, double>;

class Moving : public ::testing::Test {
protected:
    void SetUp() override { ASSERT_TRUE(screen_.there()) << "Xvfb did not start: apt-get install xvfb xdotool"; }

    static std::string note_at(DrivenWindow& window, const Spot& spot) {
        window.move_to("picture", spot.first, spot.second);
        pause(0.35);  // it has to rest
        const nlohmann::json note = window.value("note");
        return note.is_string() ? note.get<std::string>() : std::string();
    }
    /// A place of the picture where a part of this name is seen.
    /// `from`: how far down the picture to begin; each place takes a moment.
    static std::optional<Spot> find(DrivenWindow& window, const std::string& part, double from = 0.3) {
        for (double down = from; down < 0.75; down += 0.06)
            for (double across = 0.3; across < 0.7; across += 0.02)
                if (note_at(window, {across, down}).starts_with(part)) return Spot(across, down);
        return std::nullopt;
    }
    static bool hidden(const DrivenWindow& window, std::size_t count) {
        return window.wait_until([&](const nlohmann::json& now) { return now["values"]["hidden"].size() == count; });
    }
    static void choose(DrivenWindow& window, const Spot& spot) {
        window.click("picture", spot.first, spot.second);
        EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["values"].contains("selected"); }));
    }
    /// Holds a handle; moves that come in the frame of the press do not count.
    static void grab(DrivenWindow& window, const std::string& handle) {
        EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) { return now["widgets"].contains(handle); }));
        window.press(handle, 0.5, 0.5);
        EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["values"]["drag"] != ""; }));
        pause(0.2);
    }
    static double distance(const DrivenWindow& window) { return window.value("camera")["distance_mm"]; }

    Screen screen_;
    Folder folder_;
};

TEST_F(Moving, TheWheelKeepsThePartUnderThePointerAndADoubleClickFramesIt) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto at = find(window, "upper link");
    ASSERT_TRUE(at);
    const std::string note = note_at(window, *at);
    const double far = distance(window);
    for (int step = 0; step < 6; ++step) {
        window.xdotool({"click", "4"});
        pause(0.1);
    }
    EXPECT_TRUE(window.wait_until(
        [&](const nlohmann::json& now) { return now["values"]["camera"]["distance_mm"].get<double>() < 0.6 * far; }));
    EXPECT_EQ(note_at(window, *at), note);
    window.key("f");
    pause(0.6);
    note_at(window, *at);
    // Both presses must come in frames of their own, and soon enough for one double click.
    for (int tries = 0; tries < 5 && distance(window) > 0.75 * far; ++tries) {
        window.xdotool({"click", "--repeat", "2", "--delay", "120", "1"});
        pause(1);
    }
    EXPECT_LT(distance(window), 0.75 * far);
    EXPECT_THAT(note, HasSubstr(window.value("selected").get<std::string>()));
}

TEST_F(Moving, AHiddenPartIsToldNotPickedAndComesBack) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto at = find(window, "upper link");
    ASSERT_TRUE(at);
    const std::string note = note_at(window, *at);
    choose(window, *at);
    window.key("e");
    EXPECT_TRUE(hidden(window, 1));
    EXPECT_EQ(window.value("hidden")[0], window.value("selected"));
    EXPECT_NE(note_at(window, *at), note);
    window.click("show all");
    EXPECT_TRUE(hidden(window, 0));
    window.move_to("picture", at->first, at->second);
    EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) { return now["values"]["note"] == note; }));
    choose(window, *at);
    window.click("part alone");
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["values"]["hidden"].size() > 15; }));
    window.key("a");
    EXPECT_TRUE(hidden(window, 0));
    // The menu of a right click that is no drag.
    note_at(window, *at);
    window.xdotool({"click", "3"});
    pause(0.4);
    window.click("menu hide");
    EXPECT_TRUE(hidden(window, 1));
}

TEST_F(Moving, DistancesByNameAndByClickFollowThePose) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    window.key("d");
    window.xdotool({"type", "--delay", "30", "inner ball 1"});
    window.key("Return");
    window.xdotool({"type", "--delay", "30", "axis shaft main"});
    window.key("Return");
    ASSERT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["values"]["distances"].size() == 1; }));
    const std::string first = window.value("distances")[0];
    EXPECT_THAT(first, HasSubstr("centre to axis"));
    window.click("mark guide pin");
    window.click("mark tilt centre of the ring");
    ASSERT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["values"]["distances"].size() == 2; }));
    EXPECT_THAT(window.value("distances")[1].get<std::string>(), HasSubstr("point to point"));
    pause(0.5);  // the list has grown
    window.click("close distances");
    window.type_into("aileron_number", "0.6");
    EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) { return now["values"]["distances"][0] != first; }));
    window.type_into("aileron_number", "0");
    EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) { return now["values"]["distances"][0] == first; }));
    window.key("shift+d");
    window.key("shift+d");
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["values"]["distances"].empty(); }));
}

/// Width and height of a PNG file (ISO/IEC 15948, 11.2.2); none if it is none.
std::optional<std::pair<int, int>> png_size(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::string head(24, '\0');
    file.read(head.data(), 24);
    if (!file || head.substr(1, 3) != "PNG") return std::nullopt;
    const auto number = [&](std::size_t at) {
        int out = 0;
        for (std::size_t i = at; i < at + 4; ++i) out = 256 * out + static_cast<unsigned char>(head[i]);
        return out;
    };
    return std::pair(number(16), number(20));
}

TEST_F(Moving, ThePictureIsSavedAsLargeAsInTheWindowOrTwiceAsLarge) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const nlohmann::json box = window.report()["widgets"]["picture"];
    const int width = static_cast<int>(std::lround(box[2].get<double>() - box[0].get<double>()));
    const int height = static_cast<int>(std::lround(box[3].get<double>() - box[1].get<double>()));
    for (const int times : {1, 2}) {
        const std::string path = folder_.at("picture" + std::to_string(times) + ".png");
        pause(0.5);  // the field of the last dialog takes no keys any more
        window.key("s");
        EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["widgets"].contains("path"); }));
        if (times == 2) window.click("Twice as large");
        if (times == 2) window.click("path");
        pause(0.5);
        window.type(path);
        ASSERT_TRUE(window.wait_until([&](const nlohmann::json& now) { return now["values"]["dialog"] == 0; }));
        const auto size = png_size(path);
        ASSERT_TRUE(size) << path;
        EXPECT_EQ(size->first, times * width);
        EXPECT_GT(size->second, times * height);  // the title stands below
        EXPECT_LT(size->second, times * (height + 90));
    }
    EXPECT_TRUE(window.running());
    window.click("collective", 0.5, 0.2);  // and the window goes on
    EXPECT_GT(window.value("collective").get<double>(), 0.2);
}

TEST_F(Moving, ABladeIsDraggedAndTheCollectiveFollows) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto at = find(window, "blade");
    ASSERT_TRUE(at);
    choose(window, *at);
    const std::string blade = window.value("selected");
    const std::string handle = "handle leading edge of " + blade;
    const std::size_t index = blade.back() == '1' ? 0 : 1;
    const nlohmann::json camera = window.value("camera");
    const double pitch = window.value("pitch_deg")[index];
    grab(window, handle);
    window.xdotool({"mousemove_relative", "--", "0", "-12"});
    EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) {
        return now["values"]["pitch_deg"][index].get<double>() > pitch + 1 && now["values"]["collective"] > 0.02;
    }));
    EXPECT_THAT(window.value("drag").get<std::string>(), HasSubstr("collective +"));
    window.xdotool({"mousemove_relative", "--", "0", "-200"});
    EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) {
        return now["values"]["drag"].get<std::string>().find("collective stick is at its end") != std::string::npos;
    }));
    EXPECT_EQ(window.value("collective"), 1);
    window.key("Escape");
    EXPECT_EQ(window.value("collective"), 0);
    window.release();
    pause(0.3);
    EXPECT_EQ(window.value("camera"), camera);  // nobody walked round meanwhile
    EXPECT_EQ(window.value("selected"), blade);
    // Once more, and it stays where it was let go.
    grab(window, handle);
    window.xdotool({"mousemove_relative", "--", "0", "10"});
    pause(0.3);
    window.release();
    EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) { return now["values"]["collective"] < -0.02; }));
}

TEST_F(Moving, ARimTiltsTheRingAndAHornTellsItsSticks) {
    DrivenWindow window(screen_, folder_, two_blade_file);
    const auto at = find(window, "outer ring");
    ASSERT_TRUE(at);
    choose(window, *at);
    grab(window, "handle rim at the nose");
    window.xdotool({"mousemove_relative", "--", "0", "-6"});
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) { return now["values"]["elevator"] < -0.02; }));
    EXPECT_NEAR(window.value("collective").get<double>(), 0, 1e-9);
    window.release();
    pause(0.3);
    window.key("Home");
    const auto horn = find(window, "servo", 0.66);
    ASSERT_TRUE(horn);
    choose(window, *horn);
    std::string handle;
    EXPECT_TRUE(window.wait_until([&](const nlohmann::json& now) {
        for (const auto& [name, box] : now["widgets"].items())
            if (name.starts_with("handle horn")) handle = name;
        return !handle.empty();
    }));
    grab(window, handle);
    window.xdotool({"mousemove_relative", "--", "0", "-5"});
    EXPECT_TRUE(window.wait_until([](const nlohmann::json& now) {
        return now["values"]["drag"].get<std::string>().find("the other horns stay") != std::string::npos;
    }));
    window.release();
}

}  // namespace
}  // namespace swashwright::testing
