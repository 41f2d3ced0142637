// Standard output that takes nothing: each verb says so on standard error and ends with exit code 1.
#include <gmock/gmock.h>

#include <filesystem>

#include "tests/console/every_verb.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

const std::string program = "'" SWASHWRIGHT_PROGRAM "' ";

struct Sink {
    std::string name, before, after, reason;
};

/// What is said of each is the system's own reason, except for the closed one.
std::vector<Sink> sinks() {
    return {{"full disk", "", " >/dev/full", "No space left on device"},
            {"closed", "", " >&-", "it is closed"},
            // The reader is gone before anything is written.
            {"closed pipe", "set -o pipefail; { sleep 0.05; ", "; } | :", "Broken pipe"}};
}

Outcome into(const Sink& sink, const std::string& arguments) {
    const std::string command = sink.before + program + arguments + sink.after;
    return run_shell("bash -c \"" + command + "\"");
}

void expect_told(const Sink& sink, const std::string& arguments) {
    const Outcome outcome = into(sink, arguments);
    EXPECT_EQ(outcome.exit_code, 1) << sink.name << ": " << arguments;
    EXPECT_THAT(outcome.err, HasSubstr("swashwright: standard output")) << sink.name << ": " << arguments;
    EXPECT_THAT(outcome.err, HasSubstr(sink.reason)) << sink.name << ": " << arguments;
}

TEST(EveryVerb, is_used_here) {
    const auto uses = every_use();
    const auto verbs = verbs_told();
    EXPECT_GE(verbs.size(), 18U);
    for (const std::string& verb : verbs)
        EXPECT_NE(std::ranges::find(uses, verb, &Use::verb), uses.end()) << verb << " is missing in every_verb.h";
    for (const Use& use : uses)  // and what is said of it is so
        if (use.kinds == "all" || use.verb == "pose") {
            EXPECT_THAT(run_program(use.verb + " --help").out, HasSubstr("--json")) << use.verb;
        }
}

TEST(StandardOutput, that_takes_no_answer_is_told_by_every_verb_in_every_form) {
    const auto all = sinks();
    std::size_t turn = 0;
    for (const Use& use : every_use())
        for (const std::string& form : use.forms()) {
            // Each with two of the three: over the verbs every form meets every sink.
            expect_told(all[turn++ % all.size()], use.command() + form);
            expect_told(all[turn % all.size()], use.command() + form);
        }
}

TEST(StandardOutput, that_takes_no_help_and_no_version_is_told) {
    auto verbs = verbs_told();
    for (const Sink& sink : sinks()) {
        expect_told(sink, "--version");
        expect_told(sink, "--help");
    }
    for (const std::string& verb : verbs) expect_told(sinks()[verb.size() % 3], verb + " --help");
}

// A file that is opened gets the lowest free number, and would get what is printed too.
TEST(StandardOutput, that_is_closed_leaves_the_file_that_is_written_alone) {
    const TemporaryFolder folder("closed");
    const std::string readings = SWASHWRIGHT_SCENES "/readings/two_blade_600.measured.toml";
    const std::string usual = folder / "usual.toml", closed = folder / "closed.toml";
    EXPECT_EQ(run_program("measured '" + readings + "' --out '" + usual + "'").exit_code, 0);
    EXPECT_EQ(run_shell(program + "measured '" + readings + "' --out '" + closed + "' <&- >&-").exit_code, 1);
    EXPECT_FALSE(file_text(usual).empty());
    EXPECT_EQ(file_text(closed), file_text(usual));
    // What prints nothing misses nothing.
    const std::string model = folder / "head.glb";
    EXPECT_EQ(run_shell(program + "model " + usual_scene + " --out '" + model + "' >&-").exit_code, 0);
    EXPECT_TRUE(file_text(model).starts_with("glTF"));
}

TEST(StandardError, that_takes_nothing_ends_no_run) {
    for (const std::string sink : {" 2>/dev/full", " 2>&-"}) {
        EXPECT_EQ(run_shell(program + "pose /nowhere.toml" + sink).exit_code, 2) << sink;
        EXPECT_EQ(run_shell(program + "pose " + usual_scene + " --horns 46,0,0" + sink).exit_code, 0) << sink;
        EXPECT_EQ(run_shell(program + "pose " + usual_scene + " >/dev/full" + sink).exit_code, 1) << sink;
        EXPECT_THAT(run_shell(program + "/nowhere.toml" + sink).exit_code, ::testing::AnyOf(1, 2));  // the window
    }
}

}  // namespace
}  // namespace swashwright::testing
