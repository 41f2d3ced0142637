// Every verb with arguments that it takes, for what must hold of each. `EveryVerb.is_used_here` fails for a new verb
// that has no line here.
#pragma once

#include <algorithm>
#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

#include "tests/console/program.h"

namespace swashwright::testing {

struct Use {
    std::string verb;
    std::string subject;         // what it reads first, in scenes/
    std::string options;         // among them those that keep it short
    bool prints = true;          // its answer goes to standard output
    std::string ending = {};     // of the file that --out makes; empty if it makes none here
    std::string kinds = "text";  // of what it prints: "text", or "all" with JSON and CSV

    /// With `scene` in place of the subject, and without --out.
    std::string command(const std::string& scene) const { return verb + " '" + scene + "' " + options; }
    std::string command() const { return command(SWASHWRIGHT_SCENES "/" + subject); }
    /// The forms in which it answers, as options.
    std::vector<std::string> forms() const {
        if (!prints) return {};
        if (verb == "pose") return {"", " --json"};
        return kinds == "all" ? std::vector<std::string>{"", " --json", " --csv"} : std::vector<std::string>{""};
    }
};

inline const std::string usual_scene = "'" SWASHWRIGHT_SCENES "/two_blade_600.toml'";

inline std::vector<Use> every_use() {
    const std::string head = "small_two_blade_250.toml", scenes = SWASHWRIGHT_SCENES "/";
    const auto answers = [&](const std::string& verb, const std::string& options) {
        return Use{.verb = verb, .subject = head, .options = options, .kinds = "all"};
    };
    return {
        {.verb = "pose", .subject = head, .options = ""},
        {.verb = "picture", .subject = head, .options = "--size 160x160", .prints = false, .ending = ".png"},
        {.verb = "model", .subject = head, .options = "", .prints = false, .ending = ".glb"},
        {.verb = "sheet", .subject = head, .options = "--text"},
        {.verb = "sheet", .subject = head, .options = "", .prints = false, .ending = ".pdf"},
        {.verb = "plot", .subject = head, .options = "turn", .prints = false, .ending = ".svg"},
        {.verb = "turn",
         .subject = head,
         .options = "--frames 2 --width 160 --height 160",
         .prints = false,
         .ending = ".webp"},
        answers("range", ""),
        answers("directions", ""),
        answers("transmitter", ""),
        answers("ring", ""),
        answers("reach", "--without-clearance"),
        answers("stiff", ""),
        answers("fight", ""),
        answers("loads", ""),
        answers("power", "--engine 250"),
        answers("play", ""),
        answers("folded", ""),
        {.verb = "diagnose",
         .subject = "two_blade_600.toml",
         .options = "--suspects upper-links --readings '" + scenes + "readings/two_blade_600.toml'",
         .kinds = "all"},
        answers("practice", "--read blade=2,azimuth=90,collective=1 --name mixing"),
        answers("tracking", ""),
        answers("compare", "'" + scenes + "two_blade_600.toml'"),
        answers("lengths", ""),
        answers("sensitivity", ""),
        answers("tolerance", "--samples 50"),
        answers("log", ""),
        {.verb = "sheet", .subject = head, .options = "--card --text"},
        {.verb = "measured",
         .subject = "readings/two_blade_600.measured.toml",
         .options = "",
         .ending = ".toml",
         .kinds = "all"},
    };
}

/// As the program itself tells them.
inline std::vector<std::string> verbs_told() {
    std::istringstream lines(run_program("--help").out);
    std::vector<std::string> out;
    bool verbs = false;
    for (std::string line; std::getline(lines, line);) {
        if (line.empty()) verbs = false;
        if (verbs && line.size() > 2 && line[2] != ' ') out.push_back(line.substr(2, line.find(' ', 2) - 2));
        if (line == "Subcommands:") verbs = true;
    }
    return out;
}

/// An option with what it takes, as the verb's help tells it: {"--rows", "NUMBER"}; a flag takes nothing.
struct OptionTold {
    std::string name, takes;
};
inline std::vector<OptionTold> options_told(const std::string& verb) {
    std::istringstream lines(run_program(verb + " --help").out);
    std::vector<OptionTold> out;
    for (std::string line; std::getline(lines, line);) {
        const auto at = line.find("--");
        if (at == std::string::npos || at > 8 || line.find_first_not_of(' ') + 4 < at) continue;
        std::istringstream words(line.substr(at));
        OptionTold option;
        words >> option.name;
        if (words.peek() == ' ' && line.find(option.name + "  ") == std::string::npos) words >> option.takes;
        if (option.takes.ends_with(':')) option.takes.clear();  // a flag that excludes another
        if (option.name != "--help") out.push_back(option);
    }
    return out;
}

/// A folder that goes with its contents.
class TemporaryFolder {
public:
    explicit TemporaryFolder(const std::string& name) : path_(temporary(name)) {
        std::filesystem::create_directories(path_);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() { std::filesystem::remove_all(path_); }

    std::string operator/(const std::string& name) const { return path_ + "/" + name; }
    std::string put(const std::string& name, const std::string& text) const {
        std::ofstream(*this / name, std::ios::binary) << text;
        return *this / name;
    }

private:
    std::string path_;
};

}  // namespace swashwright::testing
