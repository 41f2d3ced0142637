#include "viewer/panels/lessons/crash_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "viewer/document/today.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/lessons/lesson_rows.h"
#include "viewer/sheet/words.h"

namespace swashwright::panels {

namespace {

/// Line of the list, and on which day it was looked at.
using LookedAt = std::map<std::string, std::string>;

std::string done_words(const LookedAt& looked_at, const std::vector<std::string>& items) {
    std::size_t done = 0;
    std::string last;
    for (const std::string& item : items)
        if (const auto found = looked_at.find(item); found != looked_at.end())
            ++done, last = std::max(last, found->second);
    return fmt::format("After a crash, {} of {} looked at{}. {}", done, items.size(),
                       done > 0 ? ", last on " + last : "", sheet::whose_practice);
}

}  // namespace

void draw_crash_list(Screen& screen, const document::Document& document, Lessons& lessons) {
    const std::string key = document::head_key(document, screen.unsaved_key);
    LookedAt& looked_at = screen.settings.heads[key].looked_at;
    const std::vector<std::string> items = sheet::after_crash(document.scene().head);
    paragraph(screen.inks().soft, done_words(looked_at, items));
    if (word_button(screen, "crash lessons", "All lessons", "Back to the list")) {
        lessons.crash_list = false, lessons.fresh = true;
        return;
    }
    const float gap = 18 * screen.scale();
    ImGui::SameLine(0, gap);
    if (word_button(screen, "crash at the bench", "One at a time",
                    "In large letters, all over the window; space goes on"))
        lessons.one_at_a_time = true;
    ImGui::SameLine(0, gap);
    bool changed = false;
    if (word_button(screen, "crash anew", "Start anew", "Takes all ticks out: for another crash", !looked_at.empty())) {
        lessons.crash_cleared = std::exchange(looked_at, {});
        lessons.crash_cleared_of = key;
        changed = true;
    }
    if (lessons.crash_cleared_of == key && !lessons.crash_cleared.empty() && looked_at.empty()) {
        const std::size_t count = lessons.crash_cleared.size();
        const std::string back = count == 1 ? "Bring the tick back" : fmt::format("Bring {} ticks back", count);
        same_line_if_it_fits(back.c_str(), gap);
        if (word_button(screen, "crash back", back.c_str(), "Those that Start anew has taken out")) {
            looked_at = std::exchange(lessons.crash_cleared, {});
            changed = true;
        }
    }
    ImGui::Spacing();
    for (std::size_t i = 0; i < items.size(); ++i) {
        const bool there = looked_at.contains(items[i]);
        if (!row_button(screen, fmt::format("crash {}", i + 1), items[i], there ? Mark::tick : Mark::none)) continue;
        if (there)
            looked_at.erase(items[i]);
        else
            looked_at[items[i]] = document::today();
        changed = true;
    }
    if (changed) remember_settings(screen);  // last: what is kept may then be another window's
}

}  // namespace swashwright::panels
