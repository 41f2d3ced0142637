// The questions as cards: title, what can be chosen, the answer in its first line, tables, notes.
#include <fmt/format.h>
#include <imgui_stdlib.h>

#include <utility>

#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/typing.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/questions/answer_table.h"
#include "viewer/panels/questions/envelope_map.h"
#include "viewer/panels/questions/plot_view.h"
#include "viewer/panels/questions/question_cards.h"
#include "viewer/panels/questions/readings_table.h"
#include "viewer/panels/questions/tick_box.h"
#include "viewer/sheet/plots.h"

namespace swashwright::panels {

namespace {

using studies::Field;
using studies::OptionKind;

constexpr ImU32 veil = 105U << IM_COL32_A_SHIFT;  // letters beneath it can still be read

/// True when it is pressed. They stand side by side, but for the `first` of a row.
bool yes_no(Screen& screen, const Question& question, const std::string& words, bool on, bool first) {
    return tick_box(screen, fmt::format("{}, {}", question.key, words), words, nullptr, on, /*beside=*/!first);
}

void draw_words(Screen& screen, Question& question, const Field& field, bool first) {
    for (const studies::WordField& word : field.each) {
        const bool on = question.values.holds(field.option, word.word);
        if (yes_no(screen, question, word.words, on, first)) {
            question.values.choose(field.option, word.word, !on);
            if (!word.option.empty()) question.values.choose(word.option, word.text, !on);
        }
        first = false;
    }
}

/// Of one that may be left out, whether it is given stands before it, and the number only where it is: one that the
/// answer does not take would seem to be one that it does. True if the number stands there.
bool draw_number(Screen& screen, Question& question, const Field& field, bool first) {
    const studies::Option& option = question.study->option(field.option);
    auto given = question.values.number_if_given(field.option);
    double& not_yet = question.not_yet.try_emplace(field.option, field.when_given).first->second;
    double value = given ? *given : not_yet;
    if (!field.given_words.empty() && yes_no(screen, question, field.given_words, given.has_value(), first)) {
        given = given ? std::nullopt : std::optional(value);
        question.values.set(field.option, given ? studies::Value(value) : studies::Value());
    }
    if (!field.given_words.empty() && !given) return false;
    ImGui::PushID(field.words.c_str());
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(field.words.c_str());
    ImGui::SameLine();
    const bool length = option.unit == "mm";
    if (number_field(screen, "value", value,
                     {.decimals = field.decimals, .step = field.step, .width = 72, .length = length}))
        given = value = std::clamp(value, option.low, option.high);
    screen.report.item(fmt::format("{}, {}", question.key, field.words));
    ImGui::SameLine();
    ImGui::TextDisabled("%s", in_reading_unit(option.unit, length && screen.settings.inches).c_str());
    ImGui::PopID();
    if (given)
        question.values.set(field.option, value);
    else
        question.values.set(field.option, std::monostate{});
    not_yet = value;
    return true;
}

/// What is written with blanks or commas between. Where blanks part numbers that have no points, a comma inside one is
/// its decimal point, as in other fields.
std::vector<std::string> parted(std::string text) {
    const auto digit = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
    if (text.find(' ') != std::string::npos && text.find('.') == std::string::npos)
        for (std::size_t i = 1; i < text.size(); ++i)
            if (text[i] == ',' && digit(i - 1) && digit(i + 1)) text[i] = '.';
    std::vector<std::string> out;
    bool within = false;
    for (const char c : text) {
        const bool gap = c == ' ' || c == ',' || c == ';';
        if (!gap && !within) out.emplace_back();
        if (!gap) out.back() += c;
        within = !gap;
    }
    return out;
}

/// A length typed among others; what is none stays, for the study to say so.
std::string from_mm(const std::string& text) {
    const auto mm = typed_number(text);
    return mm ? length_number(*mm, true) : text;
}
std::string in_mm(const std::string& text) {
    const auto mm = typed_length(text, true);
    return mm ? fmt::format("{:.4f}", *mm) : text;
}

void draw_texts(Screen& screen, Question& question, const Field& field) {
    ImGui::PushID(field.option.c_str());
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(in_reading_unit(field.words, screen.settings.inches).c_str());
    const float width = 178 * screen.scale();
    ImGui::SameLine();
    if (ImGui::GetContentRegionAvail().x < width) ImGui::NewLine();
    const bool lengths = question.study->option(field.option).unit == "mm", inches = lengths && screen.settings.inches;
    std::vector<std::string> said = question.values.texts(field.option);
    if (inches) std::ranges::transform(said, said.begin(), from_mm);
    const std::string stands = fmt::format("{}", fmt::join(said, " "));
    std::string text = text_of(screen, ImGui::GetID("##texts"), stands);
    ImGui::SetNextItemWidth(width);
    ImGui::InputTextWithHint("##texts", lengths ? "ball 1, ball 2 ..." : "", &text);
    key_stop(screen, Keyboard::Kind::text);
    screen.report.item(fmt::format("{}, {}", question.key, field.words));
    tip(screen, lengths
                    ? "One height for each ball, in the order of their numbers; blanks between them, - where none was "
                      "read"
                    : "With blanks between them");
    if (const auto typed = typed_text(screen, text, stands)) {
        std::vector<std::string> values = parted(*typed);
        if (inches) std::ranges::transform(values, values.begin(), in_mm);
        question.values.set(field.option, std::move(values));
    }
    ImGui::PopID();
}

void draw_choices(Screen& screen, Question& question) {
    bool first = true;  // of a row of buttons
    for (const Field& field : question.card->fields) {
        const OptionKind kind = question.study->option(field.option).kind;
        if (kind == OptionKind::words) {
            draw_words(screen, question, field, first);
        } else if (field.words.empty()) {
            continue;
        } else if (kind == OptionKind::yes_no) {
            const bool on = question.values.flag(field.option);
            if (yes_no(screen, question, field.words, on, first)) question.values.set(field.option, !on);
        } else if (kind == OptionKind::texts) {
            draw_texts(screen, question, field);
        } else {
            const bool stands = draw_number(screen, question, field, first);
            first = stands;
            continue;
        }
        first = kind != OptionKind::words && kind != OptionKind::yes_no;
    }
}

void draw_loads_plot(Screen& screen, const Bench& bench, Question& question) {
    const Readout& live = bench.live();  // a step behind the document where the column has just changed it
    const head::Head& head = *live.head;
    const head::Sticks& sticks = bench.controls.sticks;
    if (const auto& turn = question.loads.measure(head, live.shown->revision, sticks, question.values))
        draw_plot(screen, "loads plot",
                  sheet::loads_plot(*turn, sticks, bench.controls.azimuth_deg, head.description()));
    else
        paragraph(screen.inks().soft,
                  "No plot: at these sticks the links do not reach all the way round the turn, or meet a dead point.");
}

/// The head with the answer's settings made, and what that has changed.
void make_proposal(Screen& screen, Bench& bench, Question& question, const Reply& reply) {
    scene::Scene next = bench.document().scene();
    std::string words = change_words(next.head, *reply.proposal, reply.proposal_words);
    next.head = *reply.proposal;
    if (auto done = bench.edit(std::move(next), reply.proposal_words); !done) return tell(screen, done.error());
    question.made = {std::move(words), bench.document().revision()};
}

void draw_reply(Screen& screen, Bench& bench, Selection& selection, Question& question, const Reply& reply) {
    const Inks ink = screen.inks();
    paragraph(ink.ink, lengths_read(reply.answer.text, screen.settings.inches));
    screen.report.item("answer " + question.key);
    // It stays where it is while the next answer is worked out: what stands below would jump.
    if (reply.proposal && word_button(screen, (question.key + " proposal").c_str(), reply.proposal_words.c_str(),
                                      "One step of undo takes it back", question.inquiry.whole()))
        make_proposal(screen, bench, question, reply);
    if (reply.map) draw_envelope_map(screen, bench, selection, *reply.map, question.map);
    if (reply.power)
        draw_plot(screen, "power plot", sheet::power_plot(*reply.power, "sticks' present place", reply.power->now_deg));
    if (question.key == "loads") draw_loads_plot(screen, bench, question);
    draw_tables(screen, bench, selection, reply.answer, question.key, question.whole);
    if (reply.map && selection.place && selection.place->table == question.key + " checks")
        complete_row(selection, *reply.map);
}

/// What the answer says of the readings as they stand now; nothing while it is of others.
std::vector<std::size_t> to_take_again(const Question& question, std::uint64_t readings) {
    const auto& outcome = question.inquiry.outcome();
    const bool of_these = question.stamp.readings == readings && question.inquiry.whole();
    return of_these && outcome && *outcome ? (*outcome)->take_again : std::vector<std::size_t>{};
}

/// How far it is, in a line that stays as long as the card is open: one that came and went would make the rest jump.
void draw_progress(Screen& screen, Question& question) {
    const Inquiry& inquiry = question.inquiry;
    const int percent = inquiry.percent();
    const std::string said = inquiry.running() && !question.stopped
                                 ? (percent > 0 ? fmt::format("Working it out, {} %", percent) : "Working it out")
                             : !question.stopped ? (inquiry.whole() ? "Done" : "")
                             : inquiry.fresh()   ? "Stopped: this is how far it came"
                                                 : "Stopped: this is of before the last change";
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("%s", said.c_str());
    screen.report.item(question.key + " progress");
    if (!question.stopped && !inquiry.running()) return;
    same_line_if_it_fits("Go on", ImGui::GetStyle().ItemSpacing.x);
    if (question.stopped) {
        if (word_button(screen, (question.key + " go on").c_str(), "Go on", "Works it out from the start")) {
            question.stopped = false;
            question.stamp = {};
        }
    } else if (word_button(screen, (question.key + " stop").c_str(), "Stop", "Esc does the same")) {
        question.inquiry.cancel();
        question.stopped = true;
    }
}

/// Over an answer that is not of what stands now: it is pale, and a word above its corner says so.
void draw_veil(const Screen& screen, ImVec2 top, const char* words) {
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float right = ImGui::GetWindowPos().x + ImGui::GetContentRegionMax().x;
    list.AddRectFilled(top, {right, ImGui::GetCursorScreenPos().y}, (ink.panel & ~IM_COL32_A_MASK) | veil);
    const ImVec2 size = ImGui::CalcTextSize(words);
    const float pad = 4 * screen.scale();
    const ImVec2 at{right - size.x - pad, top.y - ImGui::GetStyle().ItemSpacing.y - size.y};
    list.AddRectFilled({at.x - pad, at.y - 1}, {right, at.y + size.y + 1}, ink.field);
    text_at(list, at, ink.ink, words);
}

void draw_body(Screen& screen, Bench& bench, Selection& selection, Gauge& gauge, Wishes& wishes, Question& question) {
    const Inks ink = screen.inks();
    if (!question.card->follows.empty()) paragraph(ink.soft, question.card->follows);
    if (!bench.controls.hands.empty() && !question.study->sweeps_hands)
        paragraph(ink.soft, "What a hand has moved is taken at its neutral here.");
    draw_choices(screen, question);
    if (question.reads_readings) {
        const auto before = gauge.revision;
        draw_readings(screen, bench, gauge, to_take_again(question, before), wishes);
        if (gauge.revision != before && gauge.readings.size() > 0) question.show = frames_to_show;
    }
    draw_made(screen, bench.document(), question.made, question.key, wishes);
    if (question.slow) draw_progress(screen, question);
    if (bench.live().hangs) {  // an answer would be one on the head as it was
        paragraph(
            ink.ink,
            "The head is being put together, so there is nothing to ask yet. The line at the top says what is not "
            "held.");
        return;
    }
    if (question.study->must_close && !bench.live().closes) {
        paragraph(ink.ink,
                  "The links do not reach, so there is nothing to ask yet. The line at the top says which part is at "
                  "fault.");
        return;
    }
    if (!question.inquiry.outcome()) return;
    const Outcome& outcome = *question.inquiry.outcome();
    const ImVec2 top = ImGui::GetCursorScreenPos();
    if (outcome)
        draw_reply(screen, bench, selection, question, *outcome);
    else
        paragraph(ink.ink, lengths_read(outcome.error(), screen.settings.inches));
    if (stale(question, screen.clock)) draw_veil(screen, top, question.stopped ? "out of date" : "catching up");
}

}  // namespace

void draw_questions(Screen& screen, Bench& bench, Selection& selection, Gauge& gauge, std::vector<Question>& questions,
                    Wishes& wishes) {
    const ImGuiID titles = ImGui::GetID("questions");
    for (Question& question : questions) {
        ImGui::PushID(question.key.c_str());
        const bool was_open = question.open;
        const bool open = section_title(screen, "question " + question.key, question.card->words, question.open);
        screen.keyboard.one_of(titles);
        if (open) {
            if (!was_open) question.show = frames_to_show;
            if (question.show > 1) ImGui::SetScrollHereY(0);  // scrolls the next frame
            const bool answered = !question.inquiry.running() && question.inquiry.outcome();
            if (question.show > 0 && answered) --question.show;
            draw_body(screen, bench, selection, gauge, wishes, question);
            ImGui::Spacing();
        } else if (const std::string words = headline(bench, gauge, question); !words.empty()) {
            ImGui::Indent(22 * screen.scale());
            paragraph(screen.inks().soft, lengths_read(words, screen.settings.inches));
            ImGui::Unindent(22 * screen.scale());
            screen.report.item("headline " + question.key);
        }
        ImGui::PopID();
    }
}

}  // namespace swashwright::panels
