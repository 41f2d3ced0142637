// Files that verbs make: never one that was read, and never under the name of another kind of file.
#include <gmock/gmock.h>

#include <filesystem>

#include "tests/console/every_verb.h"

namespace swashwright::testing {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

/// The verbs that make files.
std::vector<Use> makers() {
    std::vector<Use> out;
    for (const Use& use : every_use())
        if (!use.ending.empty()) out.push_back(use);
    return out;
}

void expect_no_file(const std::string& command, const std::string& words) {
    const Outcome outcome = run_program(command);
    EXPECT_EQ(outcome.exit_code, 2) << command << outcome.err;
    EXPECT_EQ(outcome.out, "") << command;
    EXPECT_THAT(outcome.err, HasSubstr(words)) << command;
}

TEST(OutFile, is_made_by_every_verb_whose_help_tells_of_it) {
    const auto known = makers();
    for (const std::string& verb : verbs_told())
        for (const OptionTold& option : options_told(verb))
            if (option.name == "--out") {
                EXPECT_NE(std::ranges::find(known, verb, &Use::verb), known.end()) << verb;
            }
}

TEST(OutFile, is_never_one_that_was_read) {
    for (const Use& use : makers()) {
        const TemporaryFolder folder("inputs");
        const std::string text = file_text(SWASHWRIGHT_SCENES "/" + use.subject);
        // A scene may have any name, so also that of a picture.
        const std::string input = folder.put("head" + use.ending, text);
        fs::create_directory(folder / "within");
        fs::create_symlink(input, folder / ("symbolic" + use.ending));
        fs::create_hard_link(input, folder / ("hard" + use.ending));
        for (const std::string other : {"head", "within/../head", "symbolic", "hard"}) {
            const std::string out = folder / (other + use.ending);
            expect_no_file(use.command(input) + " --out '" + out + "'", "which was read to make it");
            EXPECT_EQ(file_text(input), text) << use.verb << " " << other;
            EXPECT_EQ(file_text(out), text) << use.verb << " " << other;
        }
    }
}

TEST(OutFile, is_no_mesh_that_the_scene_names) {
    const std::string stl =
        "solid one\nfacet normal 0 0 1\nouter loop\nvertex 90 0 0\nvertex 91 0 0\nvertex 90 1 0\nendloop\nendfacet\n"
        "endsolid one\n";
    for (const Use& use : makers()) {
        if (use.verb == "measured") continue;  // reads no scene
        const TemporaryFolder folder("mesh");
        const std::string scene =
            folder.put("head.toml", file_text(SWASHWRIGHT_SCENES "/" + use.subject) +
                                        "\n[[solid]]\npart = \"frame\"\nshape = \"mesh\"\nfile = \"plate.stl\"\n");
        const std::string mesh = folder.put("plate.stl", stl), out = folder / ("plate" + use.ending);
        fs::create_symlink("plate.stl", out);
        expect_no_file(use.command(scene) + " --out '" + out + "'", "plate.stl, which was read");
        EXPECT_EQ(file_text(mesh), stl);
    }
}

TEST(OutFile, is_no_scene_that_the_window_shows) {
    const TemporaryFolder folder("report");
    const std::string scene = folder.put("head.toml", file_text(SWASHWRIGHT_SCENES "/two_blade_600.toml"));
    expect_no_file("'" + scene + "' --frames 1 --report '" + scene + "'", "which was read");
}

TEST(OutFile, has_the_name_of_its_kind) {
    for (const Use& use : makers()) {
        const TemporaryFolder folder("kinds");
        for (const std::string ending : {".png", ".jpg", ".svg", ".pdf", ".txt", ".glb", ".webp", ".toml", ""}) {
            if (ending == use.ending) continue;
            const std::string out = folder / ("head" + ending);
            expect_no_file(use.command() + " --out '" + out + "'", "let the file's name end in " + use.ending);
            EXPECT_FALSE(fs::exists(out)) << use.verb << ending;
        }
        expect_no_file(use.command() + " --out ''", "found no name");
    }
}

TEST(OutFile, may_have_its_ending_in_capitals_and_may_be_a_device) {
    const TemporaryFolder folder("capitals");
    const std::string model = "model '" SWASHWRIGHT_SCENES "/two_blade_600.toml' --out ";
    EXPECT_EQ(run_program(model + "'" + (folder / "HEAD.GLTF") + "'").exit_code, 0);
    EXPECT_TRUE(file_text(folder / "HEAD.GLTF").starts_with("{"));
    EXPECT_TRUE(run_program(model + "/dev/stdout").out.starts_with("glTF"));
}

TEST(OutFile, that_cannot_be_written_is_exit_code_1_of_every_verb) {
    for (const Use& use : makers()) {
        for (const std::string folder : {"/nowhere/head", "/proc/head"}) {
            const Outcome outcome = run_program(use.command() + " --out " + folder + use.ending);
            EXPECT_EQ(outcome.exit_code, 1) << use.verb;
            EXPECT_THAT(outcome.err, HasSubstr(folder + use.ending + " was not saved")) << use.verb;
        }
        const Outcome full = run_program(use.command() + " --out /dev/full");
        EXPECT_EQ(full.exit_code, 1) << use.verb;
        EXPECT_THAT(full.err, HasSubstr("No space left on device")) << use.verb;
    }
}

}  // namespace
}  // namespace swashwright::testing
