// The examples of the three pages for users, run as they stand there. What is printed beneath a "$ swashwright" is what
// the program prints: "..." stands for what was left out, a number is rounded to the digits that it has there.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <utility>
#include <vector>

#include "tests/console/program.h"

namespace swashwright {
namespace {

using nlohmann::ordered_json;
using testing::Outcome;

struct Example {
    std::string page;
    int line = 0;           // of the command, in the page
    std::string arguments;  // behind the program's name
    bool prompt = false;    // what stands beneath it was printed by it
    std::string printed;

    std::string at(long further = 0) const { return fmt::format("{}:{}", page, line + further); }
};

/// Those of one page. A block headed "```toml NAME" is written to that file, for the examples that read it.
std::vector<Example> examples(const std::string& page) {
    std::istringstream lines(testing::file_text(SWASHWRIGHT_SCENES "/../" + page));
    std::vector<Example> out;
    bool code = false, within = false;
    std::ofstream file;
    int number = 0;
    for (std::string line; std::getline(lines, line);) {
        ++number;
        if (line.starts_with("```")) {
            code = !code;
            within = false;
            file.close();
            if (code && line.starts_with("```toml ")) file.open(line.substr(std::string("```toml ").size()));
            continue;
        }
        if (file.is_open()) file << line << '\n';
        const bool prompt = line.starts_with("$ ");
        const std::size_t program = line.find("swashwright ");
        if (code && (prompt || line.find(" scenes/") != std::string::npos) && program != std::string::npos) {
            out.push_back({page, number, line.substr(program + std::string("swashwright ").size()), prompt, ""});
            within = prompt;
        } else if (within) {
            out.back().printed += line + "\n";
        }
    }
    return out;
}

/// Reads the shortened JSON of an example beside what was printed, and notes where they differ.
class Reader {
public:
    Reader(const Example& example, const ordered_json& printed) : example_(example), text_(example.printed) {
        value(&printed, "");
        space();
        if (at_ != text_.size()) note("the end", "more than one value");
    }
    const std::vector<std::string>& differences() const { return differences_; }

private:
    void note(const std::string& where, const std::string& what) {
        const auto line = 1 + std::count(text_.begin(), text_.begin() + static_cast<long>(at_), '\n');
        differences_.push_back(fmt::format("{}: {}: {}", example_.at(line), where, what));
    }
    void space() {
        while (at_ < text_.size() && (std::isspace(static_cast<unsigned char>(text_[at_])) != 0 || text_[at_] == ','))
            ++at_;
    }
    bool take(std::string_view sign) {
        space();
        if (text_.compare(at_, sign.size(), sign) != 0) return false;
        at_ += sign.size();
        return true;
    }
    std::string quoted() {
        std::string out;
        for (++at_; at_ < text_.size() && text_[at_] != '"'; ++at_) out += text_[at_];
        ++at_;
        return out;
    }

    void value(const ordered_json* printed, const std::string& where) {
        if (take("{")) return object(printed, where);
        if (take("[")) return array(printed, where);
        if (at_ < text_.size() && text_[at_] == '"') return words(quoted(), printed, where);
        std::string word;
        while (at_ < text_.size() && std::string(" ,]}\n").find(text_[at_]) == std::string::npos) word += text_[at_++];
        if (printed) number(word, *printed, where);
    }

    void object(const ordered_json* printed, const std::string& where) {
        std::vector<std::string> keys;
        bool more = false;
        while (at_ < text_.size() && !take("}")) {
            if (take("...")) {
                more = true;
                continue;
            }
            if (text_[at_] != '"') return note(where, "a key is expected"), void(at_ = text_.size());
            keys.push_back(quoted());
            take(":");
            const bool there = printed && printed->is_object() && printed->contains(keys.back());
            if (printed && !there) note(where, fmt::format("nothing is printed under {}", keys.back()));
            value(there ? &(*printed)[keys.back()] : nullptr, where + "." + keys.back());
        }
        if (more || !printed) return;
        for (const auto& [key, cell] : printed->items())
            if (std::ranges::find(keys, key) == keys.end()) note(where, fmt::format("{} is left out without ...", key));
    }

    void array(const ordered_json* printed, const std::string& where) {
        const std::size_t size = printed && printed->is_array() ? printed->size() : 0;
        std::size_t next = 0;
        bool more = false;
        while (at_ < text_.size() && !take("]")) {
            if (take("...")) {
                more = true;
                continue;
            }
            // Behind "..." stands any later one.
            const std::size_t from = at_, told = differences_.size();
            for (const std::size_t last = more ? size : std::min(next + 1, size);;) {
                const bool there = next < size;
                differences_.resize(told);
                at_ = from;
                if (printed && !there) note(where, "fewer are printed");
                value(there ? &(*printed)[next] : nullptr, fmt::format("{}[{}]", where, next));
                ++next;
                if (next >= last || differences_.size() == told) break;
            }
        }
        if (!more && printed && next != size) note(where, fmt::format("{} are printed", size));
    }

    void words(const std::string& shown, const ordered_json* printed, const std::string& where) {
        if (!printed) return;
        const std::string text = printed->is_string() ? printed->get<std::string>() : printed->dump();
        std::size_t at = 0;
        bool same = true, begins = true;
        for (std::size_t from = 0; same && from <= shown.size();) {
            const std::size_t cut = std::min(shown.find("...", from), shown.size());
            const std::string piece = shown.substr(from, cut - from);
            const std::size_t found = text.find(piece, at);
            same = found != std::string::npos && (!begins || found == 0);
            at = found + piece.size();
            begins = false;
            if (cut == shown.size()) same = same && (piece.empty() || at == text.size());
            from = cut + 3;
        }
        if (!same) note(where, fmt::format("says \"{}\", printed is \"{}\"", shown, text));
    }

    void number(const std::string& shown, const ordered_json& printed, const std::string& where) {
        double value = 0;
        const auto [end, error] = std::from_chars(shown.data(), shown.data() + shown.size(), value);
        const bool is_number = error == std::errc() && end == shown.data() + shown.size();
        if (!is_number || !printed.is_number()) {
            if (shown != printed.dump()) note(where, fmt::format("says {}, printed is {}", shown, printed.dump()));
            return;
        }
        // What is left of a solved equation, about 1e-14, differs from machine to machine, and so do the last digits.
        constexpr double nothing = 1e-9, last_digits = 1e-9;
        const std::size_t point = shown.find('.');
        const auto decimals = point == std::string::npos ? 0 : static_cast<int>(shown.size() - point - 1);
        const double half = shown.find('e') == std::string::npos ? 0.5000001 * std::pow(10.0, -decimals) : nothing;
        const double off = std::abs(printed.get<double>() - value);
        if (off > std::max(half, last_digits * std::abs(value)))
            note(where, fmt::format("says {}, printed is {}", shown, printed.dump()));
    }

    const Example& example_;
    const std::string& text_;
    std::size_t at_ = 0;
    std::vector<std::string> differences_;
};

/// Where the example's lines are not those that were printed; empty if they are.
std::string unlike(const Example& example, const std::string& printed) {
    std::istringstream lines(example.printed), output(printed);
    int number = 0;
    bool skips = false;
    for (std::string line, found; std::getline(lines, line);) {
        ++number;
        if (line == "...") {
            skips = true;
            continue;
        }
        do {
            if (!std::getline(output, found)) return fmt::format("{}: not printed: {}", example.at(number), line);
        } while (skips && found != line);
        if (found != line) return fmt::format("{}: says {}, printed is {}", example.at(number), line, found);
        skips = false;
    }
    return skips || output.peek() == EOF ? std::string() : fmt::format("{}: more is printed", example.at(number));
}

/// A folder of its own in which scenes and test data are where the pages have them.
class Folder {
public:
    Folder() : before_(std::filesystem::current_path()), folder_(testing::temporary("readme")) {
        std::filesystem::create_directory(folder_);
        std::filesystem::create_directory_symlink(SWASHWRIGHT_SCENES, folder_ / "scenes");
        std::filesystem::create_directory(folder_ / "tests");
        std::filesystem::create_directory_symlink(SWASHWRIGHT_TEST_DATA, folder_ / "tests" / "data");
        std::filesystem::current_path(folder_);
    }
    ~Folder() {
        std::filesystem::current_path(before_);
        std::filesystem::remove_all(folder_);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

private:
    std::filesystem::path before_, folder_;
};

/// Runs every example of a page and compares what it prints; how many of them say what is printed.
int compare(const std::string& page) {
    int compared = 0;
    for (const Example& example : examples(page)) {
        const Outcome outcome = testing::run_program(example.arguments);
        if (outcome.err.find("no picture can be drawn") != std::string::npos) continue;
        EXPECT_EQ(outcome.exit_code, 0) << example.at() << ": " << outcome.err;
        if (!example.prompt || outcome.exit_code != 0) continue;
        ++compared;
        if (outcome.out.starts_with("{")) {
            const Reader reader(example, ordered_json::parse(outcome.out));
            for (const std::string& difference : reader.differences()) ADD_FAILURE() << difference;
        } else {
            EXPECT_EQ(unlike(example, outcome.out), "");
        }
    }
    return compared;
}

TEST(Readme, says_what_the_program_prints) {
    const Folder folder;
    EXPECT_GE(compare("README.md"), 1);
    EXPECT_GE(compare("viewer/console/README.md"), 16);
    EXPECT_GE(compare("scenes/README.md"), 5);
}

}  // namespace
}  // namespace swashwright
