#include "kinematics/scene/comments.h"

#include <fmt/format.h>

#include <map>
#include <vector>

#include "kinematics/scene/toml_text.h"

namespace swashwright::scene {
namespace {

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view space = " \t\r";
    const std::size_t from = text.find_first_not_of(space);
    return from == std::string_view::npos ? std::string_view()
                                          : text.substr(from, text.find_last_not_of(space) + 1 - from);
}

/// A line of TOML taken apart. `key` tells the same line in another text; empty where the line holds no more than a
/// comment.
struct Line {
    std::string key;
    std::string_view code, comment;
    std::size_t column = 0;  // of the comment, from 0
};

/// Goes through TOML line by line; follows strings and brackets that reach over several.
class Lines {
public:
    Line next(std::string_view text) {
        const bool inside = depth_ > 0 || !closing_.empty();
        const std::size_t at = comment_at(text);
        Line line{{}, text.substr(0, at), {}, at};
        if (at != std::string_view::npos) line.comment = trimmed(text.substr(at));
        const std::string_view code = trimmed(line.code);
        if (!code.empty()) line.key = inside ? fmt::format("{}/{}", key_, ++part_) : key_of(code);
        return line;
    }

private:
    std::size_t comment_at(std::string_view line) {
        for (std::size_t i = 0; i < line.size(); ++i) {
            const char c = line[i];
            if (!closing_.empty()) {
                if (c == '\\' && closing_[0] == '"') {
                    ++i;  // what it stands before ends no string
                } else if (line.substr(i).starts_with(closing_)) {
                    i += closing_.size() - 1;
                    closing_ = {};
                }
                continue;
            }
            if (c == '#') return i;
            for (const std::string_view quote : {"\"\"\"", "'''", "\"", "'"})
                if (closing_.empty() && line.substr(i).starts_with(quote)) {
                    closing_ = quote;
                    i += quote.size() - 1;
                }
            if (c == '[' || c == '{') ++depth_;
            if (c == ']' || c == '}') --depth_;
        }
        return std::string_view::npos;
    }
    std::string key_of(std::string_view code) {
        part_ = 0;
        if (code.starts_with('[')) {
            const std::string name(code);
            table_ = fmt::format("{} {}", name, ++tables_[name]);
            return key_ = table_;
        }
        return key_ = fmt::format("{} {}", table_, trimmed(code.substr(0, code.find('='))));
    }

    int depth_ = 0, part_ = 0;       // brackets that are open; lines after the one with the key
    std::string_view closing_ = {};  // what ends the string that is open
    std::string table_, key_;
    std::map<std::string, int> tables_;  // how many of each heading there were
};

std::vector<Line> lines_of(std::string_view text) {
    std::vector<Line> out;
    Lines lines;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        out.push_back(lines.next(text.substr(0, end)));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return out;
}

struct Remarks {
    std::string above = {};  // whole lines
    std::string_view beside = {};
    std::size_t column = 0;
};

}  // namespace

std::string with_comments_of(std::string_view before, const std::string& written) {
    std::map<std::string, Remarks> remarks;
    std::string waiting;  // for the line that they stand above
    for (const Line& line : lines_of(before)) {
        if (!line.key.empty()) {
            remarks[line.key] = {std::move(waiting), line.comment, line.column};
            waiting.clear();
        } else if (!line.comment.empty() || !waiting.empty()) {
            waiting += fmt::format("{}\n", line.comment);
        }
    }
    std::string out;
    for (const Line& line : lines_of(written)) {
        Remarks kept{"", line.comment, line.column};
        if (const auto old = remarks.find(line.key); !line.key.empty() && old != remarks.end()) {
            kept.above = old->second.above;
            if (!old->second.beside.empty()) kept.beside = old->second.beside, kept.column = old->second.column;
        }
        const std::string_view code = line.code.substr(0, line.code.find_last_not_of(" \t") + 1);
        out += kept.above;
        out += kept.beside.empty() ? fmt::format("{}\n", code)
                                   : fmt::format("{:<{}} {}\n", code, kept.column - 1, kept.beside);
    }
    out += waiting;
    // A scene must never be harmed by its remarks.
    const auto with = read_toml(out), without = read_toml(written);
    return with && without && *with == *without ? out : written;
}

std::string write_over(const std::string& path, const Scene& scene) {
    const auto before = read_file(path, "a scene file");
    return before ? with_comments_of(*before, write(scene)) : write(scene);
}

}  // namespace swashwright::scene
