#include "viewer/panels/questions/head_log_sheet.h"

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "viewer/document/atomic_file.h"
#include "viewer/document/own_files.h"
#include "viewer/document/today.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {
namespace {

/// Why there can be no log beside the head's file; empty if there can.
std::string no_place(const Bench& bench) {
    if (document::files_are_apart())
        return "A page has no folder beside the head: the log is for the program on a desktop.";
    if (!bench.document().in_a_file()) return "Save the head first: its log stands beside its file.";
    return {};
}

std::string row_words(const scene::HeadLog& log, std::size_t i) {
    const scene::LogState& state = log.states[i];
    return fmt::format("{}  {}  {}", i + 1, state.date, state.note);
}

void draw_new_state(Screen& screen, const Bench& bench, HeadLogSheet& log) {
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Note");
    ImGui::SameLine();
    ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
    const bool entered = ImGui::InputText("##log note", &log.note, ImGuiInputTextFlags_EnterReturnsTrue);
    key_stop(screen, Keyboard::Kind::text);
    screen.report.item("log note");
    if (word_button(screen, "log put in", "Put into the log",
                    "The head as it stands, with today's date, into the log") ||
        entered)
        put_into_log(bench, log);
}

/// True where it was read again.
bool draw_unreadable(Screen& screen, HeadLogSheet& log, bool opened) {
    if (opened) read_log(log);
    if (log.mistakes.empty()) return true;
    paragraph(screen.inks().trouble, "The log cannot be read, and is left as it is: " + log.mistakes);
    const bool again = word_button(screen, "log read anew", "Read again", "Once its file is mended");
    if (again) read_log(log);
    return again || opened;
}

void take_up(Screen& screen, Bench& bench, HeadLogSheet& log) {
    const scene::LogState& state = log.states.states[*log.chosen];
    scene::Scene next = state.scene;
    if (try_edit(screen, bench, std::move(next), "the state of " + state.date)) {
        log.taken_up = bench.document().revision();
        log.said = fmt::format("The head is as it was on {}. Undo takes that back.",
                               scene::state_words(log.states, *log.chosen));
    }
    bench.end_run();
}

/// True once the chosen state is gone.
bool draw_remove(Screen& screen, HeadLogSheet& log) {
    if (!log.remove_asked) {
        same_line_if_it_fits("Remove from the log", ImGui::GetStyle().ItemSpacing.x);
        if (word_button(screen, "log remove", "Remove from the log", "It asks first")) log.remove_asked = true;
        return false;
    }
    paragraph(screen.inks().ink,
              fmt::format("Remove state {} from the log for good? No undo brings it back.", *log.chosen + 1));
    const bool remove = word_button(screen, "log remove now", "Remove", "It is gone from the file then");
    same_line_if_it_fits("Keep it", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "log remove not", "Keep it", "Nothing is removed")) log.remove_asked = false;
    if (remove) remove_from_log(log);
    return remove;
}

bool draw_states(Screen& screen, Bench& bench, HeadLogSheet& log) {
    bool changed = false;
    for (std::size_t i = log.states.states.size(); i-- > 0;) {  // the last first
        const bool chosen = log.chosen == i;
        if (!word_button(screen, fmt::format("log state {}", i + 1).c_str(), row_words(log.states, i).c_str(), nullptr,
                         true, chosen))
            continue;
        log.chosen = i;
        log.remove_asked = false;
        changed = true;
    }
    if (!log.chosen) return changed;
    const std::string with =
        log.held ? "the state of " + scene::state_words(log.states, *log.held) : "the head as it is now";
    paragraph(screen.inks().soft, fmt::format("Compared: state {} with {}.", *log.chosen + 1, with));
    if (word_button(screen, "log hold", "Compare with this one",
                    "The state that is chosen next is compared with this one")) {
        log.held = log.chosen;
        changed = true;
    }
    if (log.held) {
        same_line_if_it_fits("With the head now", ImGui::GetStyle().ItemSpacing.x);
        if (word_button(screen, "log now", "With the head now", "Compares with the head as it is now")) {
            log.held.reset();
            changed = true;
        }
    }
    same_line_if_it_fits("Go back to this one", ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "log take up", "Go back to this one",
                    "The open head becomes what it was then; one step of undo"))
        take_up(screen, bench, log);
    return draw_remove(screen, log) || changed;
}

}  // namespace

void follow_log(const Bench& bench, HeadLogSheet& log) {
    const std::string path = scene::log_path(bench.document().path());
    if (path == log.path) return;
    log = {};
    log.path = path;
    read_log(log);
}

void read_log(HeadLogSheet& log) {
    auto read = scene::load_log(log.path);
    log.mistakes = read ? std::string() : read.error().text();
    log.states = read ? std::move(*read) : scene::HeadLog{};
    log.said.clear();
    log.held.reset();
    log.chosen.reset();
    log.taken_up.reset();
    log.remove_asked = false;
    if (!log.states.states.empty()) log.chosen = log.states.states.size() - 1;
}

namespace {

bool same(const scene::LogState& a, const scene::LogState& b) {
    return a.date == b.date && a.note == b.note && scene::write(a.scene) == scene::write(b.scene);
}

/// Says why not, where it cannot be written.
bool keep(HeadLogSheet& log, scene::HeadLog now) {
    if (const auto written =
            document::write_atomically(log.path, scene::write(now), document::Durable::yes, document::Named::by_us);
        !written) {
        log.said = written.error();
        return false;
    }
    log.states = std::move(now);
    log.remove_asked = false;
    return true;
}

}  // namespace

void remove_from_log(HeadLogSheet& log) {
    log.taken_up.reset();
    log.remove_asked = false;
    auto now = scene::load_log(log.path);
    if (!now) {
        log.mistakes = now.error().text();
        return;
    }
    if (!log.chosen || *log.chosen >= now->states.size() ||
        !same(now->states[*log.chosen], log.states.states[*log.chosen])) {
        read_log(log);
        log.said = "Nothing is removed: another program had changed the log. It is read again.";
        return;
    }
    const std::size_t gone = *log.chosen;
    const std::string words = scene::state_words(*now, gone);
    now->states.erase(now->states.begin() + static_cast<std::ptrdiff_t>(gone));
    if (!keep(log, std::move(*now))) return;
    const std::size_t left = log.states.states.size();
    log.chosen = left == 0 ? std::nullopt : std::optional(std::min(gone, left - 1));
    if (log.held == gone)
        log.held.reset();
    else if (log.held > gone)
        --*log.held;
    log.said = fmt::format("The state of {} is removed.", words);
}

void put_into_log(const Bench& bench, HeadLogSheet& log) {
    log.taken_up.reset();
    // Another program may have put something in meanwhile.
    auto now = scene::load_log(log.path);
    if (!now) {
        log.mistakes = now.error().text();
        return;
    }
    scene::LogState state{document::today(), log.note, bench.document().scene()};
    if (log.said = scene::log_complaint(*now, state); !log.said.empty()) return;
    if (!now->states.empty() && (state.note.empty() || state.note == now->states.back().note) &&
        scene::write(state.scene) == scene::write(now->states.back().scene)) {
        log.said = fmt::format("Nothing has changed since state {}, so it is not put in again; with a note it is.",
                               now->states.size());
        return;
    }
    const bool held_is_there =
        log.held && *log.held < now->states.size() && same(now->states[*log.held], log.states.states[*log.held]);
    now->states.push_back(std::move(state));
    if (!keep(log, std::move(*now))) return;
    log.chosen = log.states.states.size() - 1;
    if (!held_is_there) log.held.reset();  // another program took states out
    log.note.clear();
    log.said = fmt::format("State {} is in {}.", log.states.states.size(),
                           std::filesystem::path(log.path).filename().string());
}

bool draw_head_log(Screen& screen, Bench& bench, HeadLogSheet& log) {
    const Inks ink = screen.inks();
    if (const std::string why = no_place(bench); !why.empty()) {
        paragraph(ink.soft, why);
        const bool had = !log.path.empty();
        log = {};  // that of the head before is not this one's
        return had;
    }
    const int frame = ImGui::GetFrameCount();
    const std::string before = log.path;
    const bool opened = log.drawn_in + 1 < frame;
    follow_log(bench, log);
    log.drawn_in = frame;
    if (!log.mistakes.empty()) return draw_unreadable(screen, log, opened) || before != log.path;
    const std::size_t had = log.states.states.size();
    draw_new_state(screen, bench, log);
    if (log.taken_up && *log.taken_up != bench.document().revision()) log.said.clear(), log.taken_up.reset();
    if (!log.said.empty()) {
        paragraph(ink.soft, log.said);
        screen.report.item("log said");
    }
    if (log.states.states.empty()) paragraph(ink.soft, "Nothing is in the log of this head yet.");
    return draw_states(screen, bench, log) || before != log.path || had != log.states.states.size();
}

}  // namespace swashwright::panels
