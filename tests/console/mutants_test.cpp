// Scenes, readings and command lines that something went wrong with: every verb ends soon, without a signal, and says
// either what is wrong or something that holds. `SWASHWRIGHT_MUTANTS=5000` tries more than the usual few,
// `SWASHWRIGHT_FIRST_MUTANT=n` begins with another.
#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <map>
#include <random>
#include <regex>

#include "tests/console/every_verb.h"

namespace swashwright::testing {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

constexpr int usual_count = 60;
constexpr int longest_seconds = 60;  // a sound head takes less than two; loaded machines and sanitizers more
#if defined(SWASHWRIGHT_SANITIZED)
const std::string bound;  // shadow memory is terabytes of address space
#else
const std::string bound = "ulimit -v 3000000; ";  // kB; the drawing of a picture maps a good gigabyte
#endif

int number_of(const char* variable, int otherwise) {
    const char* text = std::getenv(variable);
    return text ? std::atoi(text) : otherwise;
}

class Mutator {
public:
    explicit Mutator(int seed) : random_(static_cast<std::uint32_t>(seed)) {}

    std::size_t below(std::size_t count) { return count == 0 ? 0 : random_() % count; }
    bool once_in(std::size_t times) { return below(times) == 0; }
    template <class List>
    auto one_of(const List& list) {
        return *(std::begin(list) + static_cast<std::ptrdiff_t>(below(std::size(list))));
    }

    std::string text(std::string of) {
        const bool mild = once_in(2);  // such files are read, and such heads are solved or do not close
        for (std::size_t left = 1 + below(3); left > 0; --left) of = changed(of, mild ? 1 + below(3) : below(11));
        return of;
    }
    std::string absurd() {
        static const std::vector<std::string> all{"nan",   "inf", "-inf", "1e300", "-1e300", "1e-300", "0",    "-0.0",
                                                  "010",   "-1",  "''",   "1e9",   "360",    "10000",  "3601", "true",
                                                  "\"x\"", "[]",  "{}",   "0.001", "2",      "7"};
        return one_of(all);
    }

private:
    std::string changed(std::string s, std::size_t how) {
        if (s.empty()) return s;
        const std::size_t at = below(s.size());
        switch (how) {
            case 0:
                return with_number(std::move(s), [&](double) { return absurd(); });
            case 1:
            case 2:
                return with_number(std::move(s), [&](double x) {
                    return std::to_string(x * (0.8 + 0.4 * static_cast<double>(below(1000)) / 1000));
                });
            case 3:
                return with_number(std::move(s), [&](double x) {
                    return std::to_string(x + static_cast<double>(below(2000)) / 1000 - 1);
                });
            case 4:
            case 5: {  // a line goes, or comes twice
                const auto [start, end] = line_at(s, at);
                return once_in(2) ? s.erase(start, end - start) : s.insert(start, s.substr(start, end - start));
            }
            case 6: {  // a line goes elsewhere
                const auto [start, end] = line_at(s, at);
                const std::string line = s.substr(start, end - start);
                s.erase(start, end - start);
                return s.insert(line_at(s, below(s.size() + 1)).first, line);
            }
            case 7:
                s[at] = static_cast<char>(below(256));
                return s;
            case 8:
                return s.insert(at, one_of(std::vector<std::string>{"\"", "[", "]", "=", "\n", ".", ",", "\xff", "#",
                                                                    "{", "'", "\\", "-", "e9", std::string(1, '\0')}));
            case 9:
                return once_in(4) ? s.substr(0, at) : s.erase(at, 1 + below(6));
            default:
                return s.insert(at, s.substr(below(s.size()), below(200)));
        }
    }
    template <class Make>
    std::string with_number(std::string s, Make make) {
        static const std::regex number(R"([-+]?[0-9]+\.?[0-9]*)");
        std::vector<std::pair<std::size_t, std::size_t>> places;
        for (std::sregex_iterator match(s.begin(), s.end(), number), end; match != end; ++match)
            places.emplace_back(match->position(), match->length());
        if (places.empty()) return s;
        const auto [at, size] = one_of(places);
        return s.replace(at, size, make(std::atof(s.substr(at, size).c_str())));
    }
    static std::pair<std::size_t, std::size_t> line_at(const std::string& s, std::size_t at) {
        const std::size_t before = at == 0 ? std::string::npos : s.rfind('\n', at - 1), after = s.find('\n', at);
        return {before == std::string::npos ? 0 : before + 1, after == std::string::npos ? s.size() : after + 1};
    }

    std::mt19937 random_;
};

std::string quoted(std::string word) {
    std::erase(word, '\0');
    for (std::size_t at = word.find('\''); at != std::string::npos; at = word.find('\'', at + 4))
        word.replace(at, 1, "'\\''");
    return "'" + word + "'";
}

/// One that is asked with an option of the verb: mostly what it may be, sometimes not.
std::string option_of(const std::string& verb, Mutator& mutator) {
    static std::map<std::string, std::vector<OptionTold>> known;
    auto& options = known[verb];
    if (options.empty()) options = options_told(verb);
    const OptionTold option = mutator.one_of(options);
    if (option.name == "--out" || option.name == "--readings") return {};
    if (option.takes.empty()) return " " + option.name;
    static const std::map<std::string, std::vector<std::string>> meant{
        {"--horns", {"0,0,0", "5,-3,2", "1,2", "60,-60,60", "1e9,0,0"}},
        {"--size", {"160x160", "0x0", "1e9x1", "nanx160", "200x-200"}},
        {"--range", {"-11,11", "11,-11", "0,0", "nan,1"}},
        {"--link", {"upper_link[2]=15", "lower_link[1]=0", "upper_link[9]=1", "upper_link[1]=1e300"}},
        {"--set", {"upper_link.length_mm=0.05", "grip[1].pitch_arm.lead_mm=3", "upper_link.length_mm=900", "=", "x="}},
        {"--with", {"upper_link[2].error_mm=0.3", "upper_link[1].length_mm=20", "lower_link[1].length_mm=1e300", "x="}},
        {"--free", {"links", "lower", "upper,neutrals", "holes", "grip[1].pitch_arm.lead_mm", ","}},
        {"--wish", {"level", "level,zero,square", "zero", ""}},
        {"--show", {"upper_link[2]", "horn[1]", "inner_ring", "grip[99]", "upper_link[-1]", "upper_link["}},
        {"--view", {"top", "link", "front", "below"}},
        {"--paper", {"a4", "letter", "a3"}},
        {"--suspects", {"upper-links", "teeth,trims", "gremlins"}}};
    const auto found = meant.find(option.name);
    const std::string number = mutator.once_in(6)
                                   ? mutator.absurd()
                                   : fmt::format("{:.2f}", static_cast<double>(mutator.below(201)) / 100 - 1);
    return " " + option.name + " " + quoted(found == meant.end() ? number : mutator.one_of(found->second));
}

/// What is wrong with what was printed at exit code 0; empty if nothing is.
std::string nonsense(const Use& use, const std::string& form, const std::string& out) {
    static const std::regex no_number(R"((^|[^a-zA-Z])(nan|inf)([^a-zA-Z]|$))");
    if (use.prints && out.empty()) return "nothing printed";
    if (std::regex_search(out, no_number)) return "a number that is none";
    if (form != " --json") return {};
    const json all = json::parse(out, nullptr, /*allow_exceptions=*/false);
    if (all.is_discarded()) return "no JSON";
    if (use.verb == "pose" && !(all["residual_mm"].get<double>() < 1e-8)) return "a pose that does not close";
    return {};
}

struct Mutant {
    Use use;
    std::string scene, text, form, out, command;
};

Mutant mutant(int seed, const TemporaryFolder& folder) {
    static const std::vector<std::string> scenes{"two_blade_600.toml", "three_blade_700.toml",
                                                 "small_two_blade_250.toml", "binding/touches_in_one_corner.toml"};
    Mutator mutator(seed);
    const auto uses = every_use();
    Mutant m{.use = uses[static_cast<std::size_t>(seed) % uses.size()],
             .scene = {},
             .text = {},
             .form = {},
             .out = {},
             .command = {}};
    const bool head = m.use.verb != "measured" && m.use.verb != "diagnose";
    m.text = file_text(SWASHWRIGHT_SCENES "/" + (head ? mutator.one_of(scenes) : m.use.subject));
    if (!mutator.once_in(5)) m.text = mutator.text(m.text);
    m.scene = folder.put("head.toml", m.text);
    if (const auto forms = m.use.forms(); !forms.empty()) m.form = mutator.one_of(forms);
    std::string options = m.use.options;
    if (m.use.verb == "diagnose") {
        const std::string readings = file_text(SWASHWRIGHT_SCENES "/readings/two_blade_600.toml");
        options = "--suspects upper-links --readings '" + folder.put("readings.toml", mutator.text(readings)) + "'";
    }
    for (std::size_t more = mutator.below(4); more > 0; --more) options += option_of(m.use.verb, mutator);
    if (!m.use.ending.empty() && !mutator.once_in(20)) {
        m.out = mutator.once_in(10) ? m.scene : folder / ("out" + (mutator.once_in(10) ? ".txt" : m.use.ending));
        options += " --out '" + m.out + "'";
    }
    std::string words = options + m.form;
    if (mutator.once_in(8)) words = quoted(mutator.text(words));  // one word that is none
    m.command = (mutator.once_in(30) ? quoted(mutator.text(m.use.verb)) : m.use.verb) + " '" + m.scene + "' " + words;
    return m;
}

/// Gives the exit code.
int expect_sense(int seed) {
    const TemporaryFolder folder("mutant");
    const Mutant m = mutant(seed, folder);
    SCOPED_TRACE(fmt::format("mutant {}: {}", seed, m.command));
    const Outcome outcome = run_shell(
        fmt::format("cd '{}'; {}exec env -u DISPLAY -u WAYLAND_DISPLAY timeout {} '" SWASHWRIGHT_PROGRAM "' {}",
                    folder / "", bound, longest_seconds, m.command));
    EXPECT_THAT(outcome.exit_code, ::testing::AnyOf(0, 1, 2)) << outcome.err.substr(0, 1000);
    EXPECT_LT(outcome.err.size(), 40'000U);
    EXPECT_EQ(file_text(m.scene), m.text) << "an input is not what it was";
    const bool made = !m.out.empty() && m.out != m.scene && fs::exists(m.out);
    if (outcome.exit_code != 0) {
        EXPECT_NE(outcome.err, "");
    }
    if (outcome.exit_code == 2) {
        EXPECT_EQ(outcome.out, "");
        EXPECT_FALSE(made);
    }
    const bool help = outcome.out.find("Usage:") != std::string::npos || outcome.out.starts_with("swashwright");
    if (outcome.exit_code != 0 || help) return outcome.exit_code;
    EXPECT_EQ(nonsense(m.use, m.form, outcome.out), "") << outcome.out.substr(0, 3000);
    EXPECT_EQ(made, !m.out.empty());
    if (made) {
        EXPECT_GT(fs::file_size(m.out), 0U);
    }
    if (made && m.use.verb == "measured") {
        EXPECT_EQ(run_program("pose '" + m.out + "'").exit_code, 0);
    }
    return outcome.exit_code;
}

TEST(Mutants, end_with_words_or_with_an_answer) {
    const int first = number_of("SWASHWRIGHT_FIRST_MUTANT", 0), count = number_of("SWASHWRIGHT_MUTANTS", usual_count);
    std::map<int, int> codes;
    for (int seed = first; seed < first + count; ++seed) ++codes[expect_sense(seed)];
    for (const auto& [code, times] : codes) std::cout << "exit code " << code << ": " << times << "\n";
    // A head that is read and does not close comes about once in a hundred mutants.
    for (const int code : {0, 1, 2})
        EXPECT_TRUE(codes.contains(code) || count < (code == 1 ? 1000 : usual_count)) << code;
}

}  // namespace
}  // namespace swashwright::testing
