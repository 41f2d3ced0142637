#include "viewer/panels/lessons/practice_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/studies/answer/stick_words.h"
#include "viewer/document/data_folder.h"
#include "viewer/document/today.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/questions/answer_table.h"

namespace swashwright::panels {

namespace {

/// Beside the last button, or below it.
bool next_button(Screen& screen, const std::string& id, const std::string& word, const char* words, bool enabled = true,
                 bool on = false) {
    same_line_if_it_fits(word.c_str(), ImGui::GetStyle().ItemSpacing.x);
    return word_button(screen, id.c_str(), word.c_str(), words, enabled, on);
}

/// What a press asks for; done last, for then nothing of the page is read any more.
struct Start {
    std::string path;  // of the scene; empty: the head that is open
    PracticeRound round;
};

std::string scene_path(const PracticeHead& head) {
    return (document::scenes_folder() / head.file).string();
}

std::optional<Start> draw_rounds(Screen& screen, Practice& practice) {
    std::optional<Start> out;
    const std::string day = document::today();
    const auto of_day = studies::practice_of(day, practice_heads().size());
    if (of_day) {
        const PracticeHead& head = practice_heads()[of_day->head];
        if (word_button(screen, "practice today", fmt::format("Today's: {}", head.words).c_str(),
                        "By the date: the same fault in the same demo head for everybody"))
            out = Start{scene_path(head), {"Today's, " + day, of_day->number}};
    }
    const std::uint64_t typed = practice.round.number;
    const auto number = [&] { return typed > 0 ? typed : any_number(); };
    if (next_button(screen, "practice own", "My head", "In a copy of the head that is open; yours stays as it is"))
        out = Start{{}, {"Your head", number()}};
    if (next_button(screen, "practice demo", "A demo head", "Another one each time")) {
        const std::uint64_t n = number();
        out = Start{scene_path(practice_heads()[n % practice_heads().size()]), {"Demo head", n}};
    }
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Fault number");
    ImGui::SameLine();
    std::optional<double> value = typed > 0 ? std::optional(static_cast<double>(typed)) : std::nullopt;
    if (optional_number_field(screen, "practice number", value, {.decimals = 0, .step = 1, .width = 110}, "any"))
        practice.round.number = static_cast<std::uint64_t>(
            std::clamp(std::round(value.value_or(0)), 0.0, static_cast<double>(studies::most_faults)));
    screen.report.item("practice number");
    tip(screen, "The same number hides the same fault in the same head: for two at one bench");
    return out;
}

void start(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons, Start wanted) {
    if (wanted.path.empty())
        return start_practice(screen, bench, view, selection, lessons,
                              document::Document(users_document(bench, lessons)), std::move(wanted.round));
    const auto opened = document::Document::open(wanted.path);
    if (!opened) return tell(screen, opened.error().text());
    start_practice(screen, bench, view, selection, lessons, *opened, std::move(wanted.round));
}

void draw_choice(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    const Inks ink = screen.inks();
    if (word_button(screen, "practice lessons", "All lessons", "Back to the list")) {
        lessons.practice_list = false, lessons.fresh = true;
        return;
    }
    paragraph(ink.ink,
              "One fault is hidden in a head. Read the gauge where it shows, name the part, and see how many readings "
              "would have done.");
    ImGui::Spacing();
    auto wanted = draw_rounds(screen, lessons.practice);
    ImGui::Spacing();
    paragraph(ink.soft,
              "Picture, sentence and numbers show the head as it is described; only the gauge reads the one with the "
              "fault. What you have open is put aside and comes back as it was.");
    if (wanted) start(screen, bench, view, selection, lessons, std::move(*wanted));
}

void draw_gauge(Screen& screen, const Bench& bench, Practice& practice) {
    const Controls& at = bench.controls;
    const head::Description& head = practice.hidden->described.description();
    paragraph(screen.inks().soft,
              fmt::format("The gauge, where sticks and rotor stand now: {}, azimuth {} deg.",
                          studies::short_stick_words(head.kind, at.sticks), studies::figure(at.azimuth_deg, 0)));
    for (int k = 0; k < head.rotor.blades; ++k) {
        const std::string id = fmt::format("read blade {}", k + 1), word = fmt::format("Read blade {}", k + 1);
        const char* words = "A pitch reading on this blade; it counts";
        if (k == 0 ? word_button(screen, id.c_str(), word.c_str(), words) : next_button(screen, id, word, words))
            read_blade(practice, at.sticks, at.azimuth_deg, k);
    }
    for (int j = 0; j < static_cast<int>(head.swashplate.inner_balls.size()); ++j)
        if (next_button(screen, fmt::format("read ball {}", j + 1), fmt::format("Ring at ball {}", j + 1),
                        "A height of the inner ring at this ball; it counts"))
            read_ball(practice, at.sticks, j);
    if (practice.said.empty()) return;
    ImGui::SetCursorPosX(ImGui::GetCursorPosX() + trouble_mark(screen));
    paragraph(screen.inks().ink, lengths_read(practice.said, screen.settings.inches));
}

void draw_parts(Screen& screen, Practice& practice) {
    ImGui::Spacing();
    ImGui::TextUnformatted("Which part is it?");
    bool first = true;
    std::string chosen;
    for (const studies::PartToName& part : studies::parts_to_name(practice.hidden->described.description())) {
        const bool on = part.key == practice.chosen;
        const std::string id = "name " + part.key;
        if (on) chosen = part.words;
        if (first ? word_button(screen, id.c_str(), part.words.c_str(), nullptr, true, on)
                  : next_button(screen, id, part.words, nullptr, true, on))
            choose_part(practice, on ? "" : part.key);
        first = false;
    }
    ImGui::Spacing();
    const char* ends = "Ends the round: you are told what it was";
    if (chosen.empty()) {
        ImGui::AlignTextToFramePadding();
        ImGui::TextDisabled("Choose a part first.");
    } else if (word_button(screen, "practice name", fmt::format("It is: {}", chosen).c_str(), ends)) {
        return name_part(practice, practice.chosen);
    }
    if (next_button(screen, "practice give up", "Give up", ends)) name_part(practice, "");
}

/// Both tables of the answer that whoever plays wants; the parts have stood on the page.
studies::Answer without_parts(studies::Answer answer) {
    std::erase_if(answer.tables, [](const studies::Table& table) { return table.key == "parts"; });
    return answer;
}

void draw_verdict(Screen& screen, Bench& bench, Selection& selection, Practice& practice) {
    if (practice.verdict.poll()) screen.settle = true;
    const Inks ink = screen.inks();
    if (practice.verdict.running() || !practice.verdict.outcome()) {
        paragraph(ink.soft, "The program reads the same fault, to see how few readings would do.");
        screen.frame_wanted = true;
        return;
    }
    const Outcome& outcome = *practice.verdict.outcome();
    const bool inches = screen.settings.inches;
    if (!outcome) return paragraph(ink.ink, lengths_read(outcome.error(), inches));
    const bool heading = screen.scale() < 1.25F;  // from here on the body's letters are large enough
    if (heading) ImGui::PushFont(screen.fonts.heading);
    paragraph(ink.ink, lengths_read(outcome->answer.text, inches));
    screen.report.item("practice verdict");
    if (heading) ImGui::PopFont();
    draw_tables(screen, bench, selection, without_parts(outcome->answer), "practice", practice.whole);
}

void draw_readings_so_far(Screen& screen, Bench& bench, Selection& selection, Practice& practice) {
    if (practice.readings.size() == 0) return;
    const studies::Answer so_far = studies::practice_readings(*practice.hidden, practice.readings, practice.sound);
    bool whole = true;
    draw_table(screen, bench, selection, so_far.tables.front(), "practice readings", whole);
}

/// True once the round is to be left; where something was read, by a second press.
bool draw_leave(Screen& screen, Practice& practice) {
    const std::size_t read = practice.told ? 0 : practice.readings.size();
    if (practice.told || !practice.leave_asked) {
        const bool leave = word_button(screen, "practice leave", practice.told ? "Other rounds" : "Leave this round",
                                       "What you had open comes back as it was");
        practice.leave_asked = leave && read > 0;
        return leave && read == 0;
    }
    paragraph(screen.inks().ink, fmt::format("Leave this round? {} with it.",
                                             read == 1 ? "1 reading goes" : fmt::format("{} readings go", read)));
    const bool leave = word_button(screen, "practice leave now", "Leave", "What you had open comes back as it was");
    if (next_button(screen, "practice leave not", "Stay", nullptr)) practice.leave_asked = false;
    return leave;
}

}  // namespace

void draw_practice(Screen& screen, Bench& bench, View& view, Selection& selection, Lessons& lessons) {
    Practice& practice = lessons.practice;
    if (!practice.on()) return draw_choice(screen, bench, view, selection, lessons);
    paragraph(screen.inks().soft,
              fmt::format(
                  "Find the hidden fault. {}, fault number {}; {} taken.", practice.round.title, practice.round.number,
                  practice.readings.size() == 1 ? "1 reading" : fmt::format("{} readings", practice.readings.size())));
    const bool again = practice.told && word_button(screen, "practice again", "Another in this head",
                                                    "Another fault, of a number that nobody chose");
    if (practice.told) ImGui::SameLine();
    const bool leave = draw_leave(screen, practice);
    if (practice.told) {
        draw_verdict(screen, bench, selection, practice);
    } else {
        draw_gauge(screen, bench, practice);
        draw_readings_so_far(screen, bench, selection, practice);
        draw_parts(screen, practice);
    }
    if (leave) close_lesson(bench, view, selection, lessons);
    if (leave) lessons.practice_list = true;
    if (!again) return;
    const document::Document same(bench.document().as_opened(), bench.document().path());
    PracticeRound round{practice.round.title.starts_with("Today") ? "Demo head" : practice.round.title, any_number()};
    start_practice(screen, bench, view, selection, lessons, same, std::move(round));
}

}  // namespace swashwright::panels
