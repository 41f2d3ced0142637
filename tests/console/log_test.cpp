// `log`: put in twice, compare, take out; a broken log and a full disk cost nothing.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "tests/console/program.h"

namespace swashwright::testing {
namespace {

using ::testing::HasSubstr;

class LogVerb : public ::testing::Test {
protected:
    LogVerb() {
        folder_ = temporary("log");
        std::filesystem::create_directories(folder_);
        scene_ = folder_ + "/head.toml";
        log_ = folder_ + "/head.log.toml";
        std::filesystem::copy_file(SWASHWRIGHT_SCENES "/small_two_blade_250.toml", scene_);
    }
    ~LogVerb() override { std::filesystem::remove_all(folder_); }
    Outcome log(const std::string& options) const { return run_program(fmt::format("log '{}' {}", scene_, options)); }

    std::string folder_, scene_, log_;
};

TEST_F(LogVerb, PutsInListsComparesAndTakesOut) {
    const std::string before = file_text(scene_);
    EXPECT_THAT(log("").out, HasSubstr("Nothing is in the log"));
    EXPECT_FALSE(std::filesystem::exists(log_));
    EXPECT_EQ(log("--note 'as built' --date 2026-03-01").exit_code, 0);
    EXPECT_EQ(log("--note 'link 2 longer' --date 2026-04-01 --with upper_link[2].error_mm=0.2").exit_code, 0);
    const Outcome list = log("");
    EXPECT_THAT(list.out, HasSubstr("2 states in the log"));
    EXPECT_THAT(list.out, HasSubstr("as built"));
    EXPECT_THAT(list.out, HasSubstr("1 number differs"));
    const Outcome compared = log("--between 1 2");
    EXPECT_EQ(compared.exit_code, 0) << compared.err;
    EXPECT_THAT(compared.out, HasSubstr("0.2"));
    const std::string out = folder_ + "/old.toml";
    const Outcome taken = log("--take 2 '" + out + "'");
    EXPECT_EQ(taken.exit_code, 0) << taken.err;
    EXPECT_THAT(run_program("compare '" + out + "' '" + scene_ + "'").out, HasSubstr("upper link 2"));
    EXPECT_EQ(file_text(scene_), before);
}

TEST_F(LogVerb, LeavesABrokenLogAlone) {
    const std::string broken = "format = 1\n[[state]]\ndate = \"2026-01-01\"\n";
    std::ofstream(log_) << broken;
    for (const char* options : {"", "--note x", "--between 1 1", "--take 1 y.toml"}) {
        const Outcome outcome = log(options);
        EXPECT_EQ(outcome.exit_code, 2) << options;
        EXPECT_THAT(outcome.err, HasSubstr("head.log.toml:2:")) << options;
    }
    EXPECT_EQ(file_text(log_), broken);
}

TEST_F(LogVerb, AFullDiskKeepsTheOldLog) {
    EXPECT_EQ(log("--note one --date 2026-03-01").exit_code, 0);
    const std::string before = file_text(log_);
    std::filesystem::permissions(folder_, std::filesystem::perms::owner_read | std::filesystem::perms::owner_exec);
    const Outcome outcome =
        run_shell(fmt::format("ulimit -f 0; trap '' XFSZ; '{}' log '{}' --note two", SWASHWRIGHT_PROGRAM, scene_));
    std::filesystem::permissions(folder_, std::filesystem::perms::owner_all);
    EXPECT_NE(outcome.exit_code, 0);
    EXPECT_EQ(file_text(log_), before);
}

TEST_F(LogVerb, ANoteThatCouldNotBeReadAgainLeavesTheLogAsItIs) {
    EXPECT_EQ(log("--note one --date 2026-03-01").exit_code, 0);
    const std::string before = file_text(log_);
    for (const char* note : {"a\tb", "a\rb", "M\xFCller"}) {
        const Outcome outcome = log(fmt::format("--note '{}'", note));
        EXPECT_EQ(outcome.exit_code, 2);
        EXPECT_THAT(outcome.err, HasSubstr("a note is one line"));
        EXPECT_EQ(file_text(log_), before);
    }
    EXPECT_EQ(log("").exit_code, 0);
}

TEST_F(LogVerb, SaysWhatIsWrong) {
    EXPECT_THAT(log("--between 1 2").err, HasSubstr("state 1 is not in the log"));
    EXPECT_EQ(log("--note x --date tomorrow").exit_code, 2);
    EXPECT_THAT(log("--take 1 y.toml").err, HasSubstr("state 1"));
    EXPECT_EQ(log("--note x").exit_code, 0);
    EXPECT_THAT(log("--take 1 y.txt").err, HasSubstr(".toml"));
    EXPECT_THAT(log("--take one y.toml").err, HasSubstr("number"));
    EXPECT_EQ(log("--take 1 '" + scene_ + "'").exit_code, 2);
    EXPECT_EQ(log("--take 1 '" + log_ + "'").exit_code, 2);
    EXPECT_EQ(log("--note x --take 1 y.toml").exit_code, 2);
}

}  // namespace
}  // namespace swashwright::testing
