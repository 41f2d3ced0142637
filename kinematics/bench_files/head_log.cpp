#include "kinematics/bench_files/head_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <filesystem>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"
#include "kinematics/scene/files.h"
#include "kinematics/scene/reader.h"
#include "kinematics/studies/pitch/compare.h"
#include "kinematics/studies/pitch/turn_curve.h"

namespace swashwright::scene {
namespace {

using studies::Cell;

constexpr std::size_t longest_note = 300, date_length = 10;
constexpr const char* ending = ".log.toml";

bool is_date(std::string_view text) {
    constexpr std::string_view form = "dddd-dd-dd";
    if (text.size() != form.size()) return false;
    for (std::size_t i = 0; i < form.size(); ++i)
        if (form[i] == 'd' ? text[i] < '0' || text[i] > '9' : text[i] != '-') return false;
    const auto number = [&](std::size_t from, std::size_t count) {
        int out = 0;
        for (const char c : text.substr(from, count)) out = 10 * out + (c - '0');
        return out;
    };
    return std::chrono::year_month_day(std::chrono::year(number(0, 4)),
                                       std::chrono::month(static_cast<unsigned>(number(5, 2))),
                                       std::chrono::day(static_cast<unsigned>(number(8, 2))))
        .ok();
}

LogState read_state(Keys& keys, std::size_t number) {
    LogState out;
    out.date = keys.text("date", date_length);
    if (keys.sound() && !is_date(out.date))
        keys.mistake("date", fmt::format("expected a day as in 2026-11-29, found \"{}\"", out.date));
    if (keys.has("note")) out.note = keys.text("note", longest_note);
    const std::string text = keys.text("scene", 0);
    if (keys.sound()) {
        auto scene = parse(text, "");
        if (scene)
            out.scene = std::move(*scene);
        else
            for (const Mistake& mistake : scene.error().list)
                keys.mistake("scene", fmt::format("state {}, line {} of its scene: {}", number, mistake.place.line,
                                                  mistake.message));
    }
    keys.finish();
    return out;
}

HeadLog read_states(Keys& top) {
    HeadLog out;
    if (top.has("state"))
        if (auto list = top.tables("state", "each headed [[state]]"))
            for (Keys& keys : *list) out.states.push_back(read_state(keys, out.states.size() + 1));
    top.allow("state");
    top.finish();
    return out;
}

/// Between three quotation marks, as lines.
std::string lines_text(const std::string& text) {
    std::string out = "\"\"\"\n";
    for (const char c : text) {
        if (c == '\\' || c == '"') out += '\\';
        out += c;
    }
    return out + "\"\"\"";
}

/// What would be written is read again: else one note makes the whole log unreadable.
bool can_be_read(const LogState& state) {
    return parse_log(write(HeadLog{{state}}), "").has_value();
}

/// Pitch of the blades at mid stick, mean over a turn: of all, and how far they are apart.
std::array<Cell, 2> pitch_of(const head::Description& d) {
    const auto head = head::Head::build(d);
    if (!head || head->neutral_failure()) return {};
    const auto curve = studies::turn_curve(*head, head::Sticks{});
    if (!curve) return {};
    double sum = 0;
    for (const studies::BladeTurn& blade : curve->blades) sum += blade.mean_deg;
    return {sum / static_cast<double>(curve->blades.size()), curve->split_deg()};
}

/// What no number tells: parts of another kind, another way to turn, a name.
bool same_besides_numbers(const head::Description& before, head::Description now) {
    for (const head::Number& number : head::numbers(before)) head::value(now, number) = head::value(before, number);
    return write(Scene{before, {}, {}}) == write(Scene{now, {}, {}});
}

/// How the head as it is now differs from a state.
std::string since_words(const LogState& state, const head::Description& now) {
    const std::size_t differ = studies::number_changes(state.scene.head, now).size();
    if (differ > 0)
        return fmt::format("has changed since the last one, of {}: {} differ{}", state.date,
                           differ == 1 ? "1 number" : fmt::format("{} numbers", differ), differ == 1 ? "s" : "");
    if (same_besides_numbers(state.scene.head, now)) return fmt::format("is as in the last one, of {}", state.date);
    return fmt::format("has changed since the last one, of {}, though no number differs", state.date);
}

}  // namespace

std::string log_path(const std::string& scene_path) {
    std::filesystem::path path(scene_path);
    return path.replace_extension().string() + ending;
}

Result<HeadLog> parse_log(std::string_view text, std::string file) {
    return read_document(text, std::move(file), read_states);
}

Result<HeadLog> load_log(const std::string& path) {
    std::error_code none;
    if (!std::filesystem::exists(path, none) && !none) return HeadLog{};
    const auto text = read_file(path, "the log of a head");
    if (!text) return tl::unexpected(text.error());
    auto log = parse_log(*text, path);
    if (log)
        for (LogState& state : log->states) read_meshes(state.scene, path);  // one that is gone is left out
    return log;
}

std::string write(const HeadLog& log) {
    std::string out = "# States of one head, each with its whole scene.\nformat = 1\n";
    for (const LogState& state : log.states) {
        out += fmt::format("\n[[state]]\ndate = {}\n", toml_string(state.date));
        if (!state.note.empty()) out += fmt::format("note = {}\n", toml_string(state.note));
        out += fmt::format("scene = {}\n", lines_text(write(state.scene)));
    }
    return out;
}

std::string state_words(const HeadLog& log, std::size_t state) {
    const std::string& date = log.states[state].date;
    const bool alone = std::ranges::count(log.states, date, &LogState::date) == 1;
    return alone ? date : fmt::format("{} (state {})", date, state + 1);
}

std::string log_complaint(const HeadLog& log, const LogState& state) {
    if (!is_date(state.date)) return fmt::format("a day is written as in 2026-11-29, not \"{}\"", state.date);
    if (!can_be_read(state)) {
        LogState bare = state;
        bare.note.clear();
        if (can_be_read(bare))
            return fmt::format("a note is one line of at most {} letters, without tabs", longest_note);
        return "the head cannot be read again as it stands, so it is not put into the log";
    }
    HeadLog with = log;
    with.states.push_back(state);
    if (write(with).size() > largest_file)
        return fmt::format(
            "the log is full: {} states are as many as one file takes; put it away under another name "
            "and begin a new one",
            log.states.size());
    return {};
}

studies::Answer answer(const HeadLog& log, const head::Description& now) {
    studies::Table table{
        "states",
        "States of this head; pitch at mid stick, mean over a turn, and between highest and lowest blade",
        {{"state", "state", "", 0},
         {"date", "date", ""},
         {"note", "note", ""},
         {"mid_deg", "pitch", "deg", 2, true},
         {"split_deg", "apart", "deg", 2}},
        {},
        {}};
    for (std::size_t i = 0; i < log.states.size(); ++i) {
        const auto [mid, split] = pitch_of(log.states[i].scene.head);
        table.rows.push_back({static_cast<double>(i + 1), log.states[i].date, log.states[i].note, mid, split});
    }
    studies::Answer out{"log", "Nothing is in the log of this head yet.", studies::Tone::calm, {std::move(table)}, {}};
    if (log.states.empty()) return out;
    out.text = fmt::format("{} {} in the log. The head {}.", log.states.size(),
                           log.states.size() == 1 ? "state" : "states", since_words(log.states.back(), now));
    return out;
}

}  // namespace swashwright::scene
