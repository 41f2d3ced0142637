#include "viewer/document/head_kept.h"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "viewer/document/data_folder.h"
#include "viewer/document/document.h"

namespace swashwright::document {

namespace {

const HeadKept nothing;

const HeadKept& of(const HeadsKept& heads, const std::string& key) {
    const auto found = heads.find(key);
    return found == heads.end() ? nothing : found->second;
}

template <class T>
const T& changed(const T& mine, const T& before, const T& on_disk) {
    return mine == before ? on_disk : mine;
}

}  // namespace

std::string HeadKept::last_day() const {
    std::string out = std::max(set_up.day, after_crash.day);
    for (const auto& [line, day] : looked_at) out = std::max(out, day);
    return out;
}

std::string head_key(const Document& document, const std::string& unsaved) {
    if (!document.in_a_file()) return unsaved;
    const std::filesystem::path path = document.path();
    if (came_with_program(document.path())) return path.filename().string();
    std::error_code none;
    const std::string absolute = std::filesystem::absolute(path, none).lexically_normal().string();
    return none ? document.path() : absolute;
}

void rename_head(HeadsKept& heads, const std::string& from, const std::string& to, bool stays) {
    if (from == to) return;
    heads.erase(to);  // of what stood there before
    const auto found = heads.find(from);
    if (found == heads.end()) return;
    heads[to] = found->second;
    if (!stays) heads.erase(from);
}

HeadsKept merged(const HeadsKept& mine, const HeadsKept& before, const HeadsKept& on_disk) {
    HeadsKept out;
    for (const HeadsKept* heads : {&mine, &on_disk})
        for (const auto& [key, ignored] : *heads) {
            const HeadKept &m = of(mine, key), &b = of(before, key), &d = of(on_disk, key);
            HeadKept both{changed(m.set_up, b.set_up, d.set_up), changed(m.after_crash, b.after_crash, d.after_crash),
                          changed(m.looked_at, b.looked_at, d.looked_at)};
            if (!both.empty()) out[key] = std::move(both);
        }
    return out;
}

}  // namespace swashwright::document
