// What nobody would give a program on purpose: every one ends soon, with words, and with little memory.
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <regex>

#include "tests/console/program.h"
#include "tests/support/demo_head.h"

namespace swashwright::testing {
namespace {

namespace fs = std::filesystem;
using ::testing::AnyOf;
using ::testing::HasSubstr;

/// Beyond it something is built that should not be. kB of address space; the program takes about 300 MB of it.
[[maybe_unused]] constexpr int memory_kb = 1'500'000;
constexpr int seconds = 20;  // it should take a few hundredths; sanitizers and loaded machines take longer

Outcome run_bounded(const std::string& arguments) {
    const std::string out = temporary("out"), err = temporary("err");
#if defined(SWASHWRIGHT_SANITIZED)
    const std::string bound;  // shadow memory is terabytes of address space
#else
    const std::string bound = "ulimit -v " + std::to_string(memory_kb) + "; ";
#endif
    const std::string command = bound + "timeout " + std::to_string(seconds) + " '" SWASHWRIGHT_PROGRAM "' " +
                                arguments + " >'" + out + "' 2>'" + err + "'";
    const int status = std::system(command.c_str());
    Outcome outcome{WIFEXITED(status) ? WEXITSTATUS(status) : -1, file_text(out), file_text(err)};
    std::remove(out.c_str());
    std::remove(err.c_str());
    return outcome;
}

std::string demo() {
    return file_text(two_blade_file);
}

/// Refused: exit code 2, and the words name the file.
void expect_refused(const std::string& text, const std::string& words) {
    const std::string path = temporary_file("absurd.toml", text);
    const Outcome outcome = run_bounded("pose '" + path + "'");
    EXPECT_EQ(outcome.exit_code, 2) << outcome.err.substr(0, 500);
    EXPECT_THAT(outcome.err, HasSubstr("absurd.toml"));
    EXPECT_THAT(outcome.err, HasSubstr(words));
    EXPECT_LT(outcome.err.size(), 100'000U);
    fs::remove(path);
}

TEST(Absurd, NumbersOfEveryKeyAreRefusedOrSolved) {
    const std::string text = demo();
    const std::regex number(R"(= (-?[0-9.]+))");
    int tried = 0;
    for (std::sregex_iterator match(text.begin(), text.end(), number), end; match != end; ++match) {
        // Two a key keep the test short; over the keys every number comes with every kind.
        constexpr std::array absurd{"1e300", "-1e300", "4.9e-324", "0", "nan", "inf", "9223372036854775807", "-0.0"};
        for (int k = 0; k < 2; ++k) {
            std::string changed = text;
            changed.replace(static_cast<std::size_t>(match->position(1)), static_cast<std::size_t>(match->length(1)),
                            absurd[static_cast<std::size_t>(3 * tried + k) % absurd.size()]);
            const std::string path = temporary_file("number.toml", changed);
            const Outcome outcome = run_bounded("pose '" + path + "' --json --collective 0.5");
            SCOPED_TRACE(changed.substr(static_cast<std::size_t>(match->position(0)) - 20, 60));
            EXPECT_THAT(outcome.exit_code, AnyOf(0, 1, 2));
            if (outcome.exit_code != 0) {  // no head, or one that cannot close
                EXPECT_THAT(outcome.err, HasSubstr("number.toml"));
            } else {
                EXPECT_TRUE(nlohmann::json::accept(outcome.out)) << outcome.out;
                EXPECT_THAT(outcome.out, ::testing::Not(AnyOf(HasSubstr("nan"), HasSubstr("inf,"))));
            }
            fs::remove(path);
        }
        ++tried;
    }
    EXPECT_GT(tried, 30);
}

TEST(Absurd, AThousandBladesAreRefused) {
    std::string text = demo();
    const auto at = text.find("\nblades = 2");
    ASSERT_NE(at, std::string::npos);
    text.replace(at, 11, "\nblades = 1000");
    expect_refused(text, "1000");
}

TEST(Absurd, TenMegabytesAreRefused) {
    const std::string ten_megabytes(10'000'000, 'x');  // NOLINT(bugprone-string-constructor): long on purpose
    expect_refused(demo() + "\n#" + ten_megabytes + "\n", "longer than 256 kB");
    std::string many = demo();
    for (int i = 0; many.size() < 10'000'000; ++i) many += "\n[[upper_link]]\nlength_mm = 1\n";
    expect_refused(many, "longer than 256 kB");
}

TEST(Absurd, BytesThatAreNoTextAreRefused) {
    expect_refused(std::string("format = 1\nname = \"\xff\xfe\xc0\"\n"), "absurd.toml");
    expect_refused(std::string(1000, '\0'), "absurd.toml");
    expect_refused(std::string("\xEF\xBB\xBF[[[[[["), "absurd.toml");
    std::string deep = "a = ";
    for (int i = 0; i < 100'000; ++i) deep += '[';
    expect_refused(deep, "absurd.toml");
}

TEST(Absurd, LinksThatLeadInACircleAndFilesThatAreNone) {
    const std::string a = temporary("a.toml"), b = temporary("b.toml");
    fs::create_symlink(b, a);
    fs::create_symlink(a, b);
    const Outcome circle = run_bounded("pose '" + a + "'");
    EXPECT_EQ(circle.exit_code, 2);
    EXPECT_THAT(circle.err, HasSubstr("Too many levels of symbolic links"));
    fs::remove(a);
    fs::remove(b);
    for (const char* none : {"/", "/dev/null", "/no/such/file.toml", "''"}) {
        const Outcome outcome = run_bounded(std::string("pose ") + none);
        EXPECT_EQ(outcome.exit_code, 2) << none;
        EXPECT_FALSE(outcome.err.empty()) << none;
    }
}

TEST(Absurd, DisksThatTakeNothing) {
    const std::string scene = two_blade_file;
    const Outcome full = run_bounded("picture '" + scene + "' --size 200x200 --out /dev/full");
    EXPECT_NE(full.exit_code, 0);
    EXPECT_THAT(full.err, HasSubstr("No space left on device"));
    // Nobody may write there, not even root.
    const Outcome closed = run_bounded("picture '" + scene + "' --size 200x200 --out /proc/head.png");
    EXPECT_NE(closed.exit_code, 0);
    EXPECT_THAT(closed.err, HasSubstr("/proc/head.png"));
}

}  // namespace
}  // namespace swashwright::testing
