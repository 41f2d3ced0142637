// What is kept of each head from one start to the next: where its lists at the bench were left, what was read there,
// what has been looked at after a crash.
#pragma once

#include <cstddef>
#include <map>
#include <string>

namespace swashwright::document {

class Document;

/// Where a list of steps was left. Steps come and go with what is read and with the head's parts, so its number alone
/// would not find a step again.
struct BenchPlace {
    std::string stage, say;  // of the step; both empty: the first
    std::size_t step = 0;    // from 0; of several that say the same the nearest is meant
    std::string day;         // "2026-11-29"
    std::map<std::string, double> read;

    bool operator==(const BenchPlace&) const = default;
};

struct HeadKept {
    BenchPlace set_up, after_crash;
    std::map<std::string, std::string> looked_at;  // after a crash: line of the list, and on which day

    bool operator==(const HeadKept&) const = default;
    bool empty() const { return *this == HeadKept{}; }
    std::string last_day() const;
};

/// By `head_key`.
using HeadsKept = std::map<std::string, HeadKept>;

/// What a head goes by: its file; a demo's name without its folder, which may be another at the next start; `unsaved`
/// of one that is in no file yet.
std::string head_key(const Document& document, const std::string& unsaved);

/// A head goes by another key: its file was saved, or was saved under another name. `stays`: the old file is there
/// still.
void rename_head(HeadsKept& heads, const std::string& from, const std::string& to, bool stays);

/// Two windows share the file: what this one has not changed `before` it wrote last is as the other left it.
HeadsKept merged(const HeadsKept& mine, const HeadsKept& before, const HeadsKept& on_disk);

}  // namespace swashwright::document
