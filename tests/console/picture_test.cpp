// Pictures and films by the real program.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdint>
#include <filesystem>
#include <set>

#include "tests/console/program.h"
#include "tests/support/demo_head.h"

namespace swashwright::testing {
namespace {

bool no_picture(const Outcome& outcome) {
    return outcome.err.find("no picture can be drawn") != std::string::npos;
}

TEST(PictureVerb, DrawsWhatIsAskedFor) {
    const std::string plain = temporary("plain.png"), more = temporary("more.png");
    const Outcome first = run_program("picture " + two_blade_file + " --size 320x240 --out " + plain);
    if (no_picture(first)) GTEST_SKIP() << first.err;
    EXPECT_EQ(first.exit_code, 0) << first.err;
    for (const char* option : {"--section", "--section-at 90", "--traces", "--show 'upper_link[2]'"}) {
        const Outcome second =
            run_program(fmt::format("picture {} --size 320x240 {} --out {}", two_blade_file, option, more));
        EXPECT_EQ(second.exit_code, 0) << option << second.err;
        EXPECT_NE(file_text(plain), file_text(more)) << option;
    }
    std::remove(plain.c_str());
    std::remove(more.c_str());
}

TEST(PictureVerb, RefusesAPartThatTheHeadLacks) {
    const Outcome outcome = run_program("picture " + two_blade_file + " --show 'upper_link[3]' --out unused.png");
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_NE(outcome.err.find("upper_link[3]"), std::string::npos);
}

TEST(PictureVerb, DrawsEveryKindOfLinkageFromEverySide) {
    const std::string out = temporary("linkage.png");
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_TEST_DATA "/linkages")) {
        if (entry.path().extension() != ".toml") continue;
        for (const char* options : {"--labels --section", "--view front --traces", "--view side --ghost --night",
                                    "--view top --labels --whole-blades", "--traces --section-at 40 --exaggerate 5"}) {
            const Outcome drawn =
                run_program(fmt::format("picture {} --size 240x200 {} --out {}", entry.path().string(), options, out));
            if (no_picture(drawn)) GTEST_SKIP() << drawn.err;
            EXPECT_EQ(drawn.exit_code, 0) << entry.path() << options << drawn.err;
        }
    }
    std::remove(out.c_str());
}

TEST(PictureVerb, LightsLeversSlidersAndOtherLinksByTheirPaths) {
    const std::string scene = SWASHWRIGHT_TEST_DATA "/linkages/stabiliser_bar_01.toml", out = temporary("lit.png");
    std::set<std::string> pictures;
    for (const char* show :
         {"", "--show 'lever[2]'", "--show 'slider[1]'", "--show 'link[5]'", "--show 'link[5]' --view link"}) {
        const Outcome drawn = run_program(fmt::format("picture {} --size 320x240 {} --out {}", scene, show, out));
        if (no_picture(drawn)) GTEST_SKIP() << drawn.err;
        EXPECT_EQ(drawn.exit_code, 0) << show << drawn.err;
        pictures.insert(file_text(out));
    }
    EXPECT_EQ(pictures.size(), 5U);
    std::remove(out.c_str());
    const Outcome refused = run_program("picture " + scene + " --show 'lever[7]' --out unused.png");
    EXPECT_EQ(refused.exit_code, 2);
    EXPECT_NE(refused.err.find("lever[1], slider[1], link[1]"), std::string::npos) << refused.err;
}

TEST(TurnVerb, WritesAWebPFilmOfAsManyPictures) {
    const std::string path = temporary("turn.webp");
    const Outcome outcome =
        run_program("turn " + two_blade_file + " --aileron 0.5 --frames 6 --width 160 --height 160 --out " + path);
    if (no_picture(outcome)) GTEST_SKIP() << outcome.err;
    EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
    // RFC 9649, sections 2.3 and 2.7.1: RIFF header, form type, the animation flag, one ANMF chunk a picture.
    const std::string bytes = file_text(path);
    ASSERT_GT(bytes.size(), 30U);
    EXPECT_EQ(bytes.substr(0, 4), "RIFF");
    EXPECT_EQ(bytes.substr(8, 8), "WEBPVP8X");
    EXPECT_NE(static_cast<std::uint8_t>(bytes[20]) & 2U, 0U);
    int pictures = 0;
    for (std::size_t at = bytes.find("ANMF"); at != std::string::npos; at = bytes.find("ANMF", at + 4)) ++pictures;
    EXPECT_EQ(pictures, 6);
    std::remove(path.c_str());
}

TEST(WithoutAScreen, TheStartScriptTellsAndDrawsASoundAndAFaultyHead) {
    const std::string folder = temporary("pictures"), out = temporary("told");
    for (int time = 0; time < 2; ++time) {  // what the first leaves is in nobody's way
        const std::string command = "'" SWASHWRIGHT_SCENES "/../viewer/without_screen.sh' '" SWASHWRIGHT_PROGRAM "' '" +
                                    two_blade_file + "' '" + folder + "' >'" + out + "' 2>&1";
        const int status = std::system(command.c_str());
        const std::string told = file_text(out);
        std::remove(out.c_str());
        // First the pose as it is, then with the fault; the split is the link's error over the arm's slope there, as
        // in the README's tour.
        const std::size_t sound = told.find("both blades take 0.00 deg of pitch");
        const std::size_t faulty = told.find("Blade 2 takes 0.67 deg more pitch than blade 1: upper link 2 is 0.30 mm");
        EXPECT_NE(sound, std::string::npos) << told;
        EXPECT_NE(faulty, std::string::npos) << told;
        EXPECT_LT(sound, faulty);
        if (told.find("no picture can be drawn") != std::string::npos) GTEST_SKIP() << told;
        EXPECT_EQ(status, 0) << told;
        std::string pictures[2];
        for (int i = 0; i < 2; ++i) {
            const std::string path = folder + (i == 0 ? "/1_as_it_is.png" : "/2_upper_link_2_too_long.png");
            EXPECT_NE(told.find(path), std::string::npos) << told;
            pictures[i] = file_text(path);
            EXPECT_EQ(pictures[i].substr(0, 4), "\x89PNG");
        }
        EXPECT_NE(pictures[0], pictures[1]);
    }
    std::filesystem::remove_all(folder);
}

TEST(Help, TellsWhatIsTakenIfNothingIsGiven) {
    const std::string stiff = run_program("stiff --help").out, turn = run_program("turn --help").out;
    for (const char* number : {"--ball NUMBER=1 ", "--bearing NUMBER=0.5 ", "--servo NUMBER=100 "})
        EXPECT_NE(stiff.find(number), std::string::npos) << stiff;
    for (const char* number : {"--frames NUMBER=60 ", "--seconds NUMBER=4 ", "--width NUMBER=800 ",
                               "--height NUMBER=600 ", "--exaggerate NUMBER=1 "})
        EXPECT_NE(turn.find(number), std::string::npos) << turn;
}

TEST(TurnVerb, RefusesAnotherKindOfFile) {
    const Outcome outcome = run_program("turn " + two_blade_file + " --out turn.gif");
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_NE(outcome.err.find(".webp"), std::string::npos);
}

}  // namespace
}  // namespace swashwright::testing
