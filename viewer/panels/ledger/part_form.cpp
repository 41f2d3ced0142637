#include "viewer/panels/ledger/part_form.h"

#include <fmt/format.h>
#include <imgui.h>
// After imgui.
#include <imgui_stdlib.h>

#include <algorithm>
#include <functional>
#include <utility>

#include "kinematics/head/change_count.h"
#include "kinematics/studies/answer/figures.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/ledger/edit_words.h"
#include "viewer/panels/ledger/linkage_form.h"

namespace swashwright::panels {

namespace {

using draw::Part;
using head::Role;

constexpr float field_width = 84, room_for_word = 96;  // pixels at scale 1

/// Through the door that the field goes by.
bool take(Screen& screen, Bench& bench, scene::Scene next, const Spot& spot, const Field& field, bool run = false) {
    return field.builds ? try_build(screen, bench, std::move(next), spot.name)
                        : try_edit(screen, bench, std::move(next), spot.name, run);
}

/// There is room for `block` pixels to the right of the words.
bool beside_words(const Screen& screen, const Field& field, float block) {
    const std::string words = in_reading_unit(field.words, screen.settings.inches);
    const float start = ImGui::GetContentRegionMax().x - block;
    return ImGui::GetCursorPosX() + ImGui::CalcTextSize(words.c_str()).x + 8 * screen.scale() < start;
}

/// The words of a field, with room for `block` pixels to the right of them if both fit on a line.
void draw_words(Screen& screen, const Field& field, float block) {
    const std::string words = in_reading_unit(field.words, screen.settings.inches);
    ImGui::AlignTextToFramePadding();
    const float left = ImGui::GetCursorPosX(), right = ImGui::GetContentRegionMax().x;
    const bool beside = beside_words(screen, field, block);
    ImGui::TextUnformatted(words.c_str());
    if (!field.tip.empty()) tip(screen, lengths_read(field.tip, screen.settings.inches).c_str());
    const float start = right - block;
    if (beside)
        ImGui::SameLine(start);
    else
        ImGui::SetCursorPosX(std::max(left, start));
}

void set_numbers(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field,
                 const std::optional<Numbers::List>& list, bool run = false) {
    scene::Scene next = bench.document().scene();
    std::get<Numbers>(field.what).write(next.head, list);
    selection.selected = spot.part;
    take(screen, bench, std::move(next), spot, field, run);
}

/// Takes an optional number away again, or gives it.
void draw_give(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field, bool given) {
    const auto& numbers = std::get<Numbers>(field.what);
    if (!numbers.may_be_missing) return;
    ImGui::SameLine();
    if (given) {
        if (word_button(
                screen, (spot.name + ", take away").c_str(), "Take away",
                numbers.counts ? "Back to what counts where nothing is given" : "As if it had never been given"))
            set_numbers(screen, bench, selection, spot, field, std::nullopt);
        return;
    }
    if (numbers.counts) {
        ImGui::TextDisabled("usual");
        tip(screen, "The number shown faintly counts. Type another to give it.");
    } else if (word_button(screen, (spot.name + ", give").c_str(), "Give", "Starts with a usual number")) {
        set_numbers(screen, bench, selection, spot, field, numbers.usual);
    }
}

/// What each of several numbers is, over their fields.
void draw_heads(const Screen& screen, const Numbers& numbers, float block) {
    const float left = ImGui::GetCursorPosX(), start = std::max(left, ImGui::GetContentRegionMax().x - block);
    for (std::size_t i = 0; i < numbers.each.size(); ++i) {
        if (i > 0) ImGui::SameLine();
        ImGui::SetCursorPosX(start +
                             static_cast<float>(i) * (field_width * screen.scale() + ImGui::GetStyle().ItemSpacing.x));
        ImGui::TextDisabled("%s", numbers.each[i].c_str());
    }
}

void draw_numbers(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field,
                  bool heads) {
    const auto& numbers = std::get<Numbers>(field.what);
    const float scale = screen.scale(), gap = ImGui::GetStyle().ItemSpacing.x;
    const std::size_t count = numbers.each.size();
    const auto list = numbers.read(bench.head());
    const float block = static_cast<float>(count) * (field_width * scale + gap) +
                        (numbers.may_be_missing ? room_for_word * scale : -gap);
    const bool beside = beside_words(screen, field, block);
    if (heads && count > 1 && beside) draw_heads(screen, numbers, block);
    draw_words(screen, field, block);
    if (count > 1 && !beside) {  // between the words and the fields
        const float start = ImGui::GetCursorPosX();
        draw_heads(screen, numbers, block);
        ImGui::SetCursorPosX(start);
    }
    const bool inches = field.is_length() && screen.settings.inches;
    std::optional<Numbers::List> wanted;
    bool changed = false, run = false;
    for (std::size_t i = 0; i < count; ++i) {
        if (i > 0) ImGui::SameLine();
        std::optional<double> value = list ? std::optional((*list)[i]) : std::nullopt;
        const std::string hint = !numbers.counts ? "not given"
                                 : inches        ? length_number(numbers.usual[i], true)
                                                 : studies::figure(numbers.usual[i], numbers.decimals);
        const NumberStyle style{numbers.decimals, numbers.step, field_width, false, field.is_length()};
        if (optional_number_field(screen, fmt::format("{} {}", field.key, i).c_str(), value, style, hint.c_str())) {
            changed = true;
            run = ImGui::IsItemActive();
            if (value) {
                wanted = list.value_or(numbers.usual);
                (*wanted)[i] = *value;
            }
        }
        screen.report.item(count == 1 ? spot.name : fmt::format("{} {}", spot.name, i + 1));
        if (ImGui::IsItemActivated()) selection.selected = spot.part;
        if (ImGui::IsItemDeactivated()) bench.end_run();
        if (!numbers.each[i].empty()) tip(screen, numbers.each[i].c_str());
    }
    draw_give(screen, bench, selection, spot, field, list.has_value());
    if (changed && (wanted || numbers.may_be_missing)) set_numbers(screen, bench, selection, spot, field, wanted, run);
}

void set_words(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field,
               const std::string& typed) {
    screen.entry.refused.clear();  // what was said of the last entry
    selection.selected = spot.part;
    scene::Scene next = bench.document().scene();
    if (auto written = std::get<Words>(field.what).write(next, typed); !written)
        refuse(screen, bench, spot.name, written.error());
    else
        take(screen, bench, std::move(next), spot, field);
}

constexpr const char *list_word = "List", *pick_word = "Pick";

float width_of_button(const char* word) {
    return ImGui::CalcTextSize(word).x + 2 * ImGui::GetStyle().FramePadding.x + ImGui::GetStyle().ItemSpacing.x;
}

/// "link 1's lower end", "pin 1's second ball".
std::string ball_asked_for(const Spot& spot, const Field& field) {
    std::string end = field.words;
    if (end.ends_with(" on"))
        end = static_cast<char>(std::tolower(static_cast<unsigned char>(end[0]))) + end.substr(1, end.size() - 4);
    else
        end = field.key.ends_with('1') ? "first ball" : "second ball";
    return fmt::format("{}'s {}", spot.name.substr(0, spot.name.rfind(", ")), end);
}

/// All that may be typed, as a list; and, where that is a ball, the picture to pick it in. Gives what was taken.
std::optional<std::string> draw_offers(Screen& screen, const Bench& bench, Selection& selection, const Spot& spot,
                                       const Field& field) {
    const auto& words = std::get<Words>(field.what);
    std::optional<std::string> taken;
    ImGui::SameLine();
    if (word_button(screen, (spot.name + ", list").c_str(), list_word, "All that there is to choose from"))
        ImGui::OpenPopup("offers");
    ImGui::SetNextWindowSizeConstraints({0, 0}, {FLT_MAX, 380 * screen.scale()});
    if (ImGui::BeginPopup("offers")) {
        for (const Offer& offer : words.offers(bench.head())) {
            if (ImGui::Selectable(offer.words.c_str(), offer.words == words.read(bench.document().scene())))
                taken = offer.text;
            key_stop(screen, Keyboard::Kind::row, ImGui::GetID("all"));
            screen.report.item(spot.name + ", " + offer.text);
        }
        if (ImGui::IsKeyPressed(ImGui::GetIO().KeyMap[ImGuiKey_Escape], false)) ImGui::CloseCurrentPopup();
        ImGui::EndPopup();
    }
    if (!words.ball) return taken;
    const bool asked = selection.pick && selection.pick->field == spot.name;
    ImGui::SameLine();
    if (word_button(screen, (spot.name + ", pick").c_str(), pick_word, "Click the ball in the picture", true, asked)) {
        selection.pick.reset();
        if (!asked) selection.pick = BallPick{spot.name, ball_asked_for(spot, field), {}};
    }
    if (asked && selection.pick && selection.pick->ball) {
        taken = name_of(*selection.pick->ball);
        selection.pick.reset();
    }
    return taken;
}

/// The field itself; gives what was typed.
std::optional<std::string> draw_text_field(Screen& screen, Selection& selection, const Spot& spot, const Field& field,
                                           const std::string& stands, float width) {
    const std::string id = "##" + field.key;
    const bool several = std::get<Words>(field.what).several_lines;
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const ImGuiStyle& style = ImGui::GetStyle();
    const std::string lines =
        several ? soft_broken(stands, room.x - 2 * style.FramePadding.x - style.ScrollbarSize) : stands;
    std::string text = text_of(screen, ImGui::GetID(id.c_str()), lines);
    if (several) {
        ImGui::InputTextMultiline(id.c_str(), &text, {room.x, 4.5F * ImGui::GetTextLineHeight()});
    } else {
        ImGui::SetNextItemWidth(width);
        ImGui::InputText(id.c_str(), &text);
    }
    key_stop(screen, Keyboard::Kind::text);
    screen.report.item(spot.name);
    if (ImGui::IsItemActivated()) selection.selected = spot.part;
    const auto typed = typed_text(screen, text, lines);
    return typed ? std::optional(without_soft_breaks(*typed)) : std::nullopt;
}

void draw_text(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field) {
    const auto& words = std::get<Words>(field.what);
    const std::string stands = words.read(bench.document().scene());
    const float wanted = ImGui::CalcTextSize(stands.c_str()).x + 2 * ImGui::GetStyle().FramePadding.x + 2;
    const float buttons = words.offers ? width_of_button(list_word) + (words.ball ? width_of_button(pick_word) : 0) : 0;
    const float least = (words.offers ? 178 : 230) * screen.scale();
    const float width = std::max(least, std::min(wanted, ImGui::GetContentRegionAvail().x - buttons));
    draw_words(screen, field, words.several_lines ? 0 : width + buttons);
    if (words.several_lines) ImGui::NewLine();
    const auto typed = draw_text_field(screen, selection, spot, field, stands, width);
    if (words.offers) {
        if (const auto taken = draw_offers(screen, bench, selection, spot, field))
            return set_words(screen, bench, selection, spot, field, *taken);
    }
    if (typed) set_words(screen, bench, selection, spot, field, *typed);
}

void draw_choice(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field) {
    const auto& choice = std::get<Alternatives>(field.what);
    const ImGuiStyle& style = ImGui::GetStyle();
    float width = 0;
    for (const std::string& word : choice.words)
        width += ImGui::CalcTextSize(word.c_str()).x + 2 * style.FramePadding.x + 2;
    draw_words(screen, field, width);
    const std::size_t now = choice.read(bench.head());
    for (std::size_t i = 0; i < choice.words.size(); ++i) {
        if (i > 0) ImGui::SameLine(0, 2);
        const std::string& word = choice.words[i];
        if (!word_button(screen, fmt::format("{}, {}", spot.name, word).c_str(), word.c_str(), nullptr, true,
                         i == now) ||
            i == now)
            continue;
        scene::Scene next = bench.document().scene();
        choice.write(next.head, i);
        selection.selected = spot.part;
        take(screen, bench, std::move(next), spot, field);
    }
}

void draw_blade_count(Screen& screen, Bench& bench, View& view, const Part& part) {
    const head::Description& head = bench.head();
    const int blades = head.rotor.blades, last = blades - 1;
    const int chosen = part.role == Role::blade ? part.index : last;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(fmt::format("Blades: {}", blades).c_str());
    ImGui::SameLine();
    if (word_button(screen, "add a blade", "Add a blade", "Made as the last one; the blades are spaced evenly anew",
                    blades < head::most_blades))
        return void(change_count(screen, bench, view, "a blade more", head::with_blade_added(head)));
    const std::string away = fmt::format("Take blade {} away", chosen + 1);
    same_line_if_it_fits(away.c_str(), ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "take a blade away", away.c_str(), "With its grip, outer ball and upper link",
                    blades > head::fewest_blades))
        return void(change_count(screen, bench, view, "a blade less", head::with_blade_removed(head, chosen)));
}

void draw_driver_count(Screen& screen, Bench& bench, View& view, const Selection& selection) {
    const head::Description& head = bench.head();
    const int pins = static_cast<int>(head.swashplate.driver_pins.size());
    int chosen = pins - 1;
    if (selection.selected && selection.selected->role == Role::driver)
        chosen = std::min(chosen, selection.selected->index);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(fmt::format("Driver arms: {}", pins).c_str());
    ImGui::SameLine();
    if (word_button(screen, "add a driver arm", "Add an arm", "Made as the last one, in the widest gap"))
        return void(change_count(screen, bench, view, "a driver arm more", head::with_driver_added(head)));
    const std::string away = fmt::format("Take arm {} away", chosen + 1);
    same_line_if_it_fits(away.c_str(), ImGui::GetStyle().ItemSpacing.x);
    if (word_button(screen, "take a driver arm away", away.c_str(), nullptr, pins > 1))
        return void(change_count(screen, bench, view, "a driver arm less", head::with_driver_removed(head, chosen)));
}

void draw_counts(Screen& screen, Bench& bench, View& view, const Selection& selection, const Part& part) {
    const bool of_blades = part.role == Role::blade || part.role == Role::hub;
    const bool of_arms = part.role == Role::outer_ring;
    if (of_blades) draw_blade_count(screen, bench, view, part);
    if (of_arms) draw_driver_count(screen, bench, view, selection);
    if (!of_blades && !of_arms) return;
    draw_refusal(screen, bench, of_blades ? "a blade" : "a driver arm");
    if (!screen.entry.assumed.empty() && screen.entry.assumed.starts_with(of_blades ? "Blade" : "Driver"))
        paragraph(screen.inks().soft, lengths_read(screen.entry.assumed, screen.settings.inches));
}

/// The part of the section whose form unfolds: the chosen one, else the first.
Part chosen_in(const Selection& selection, Role kind) {
    if (!selection.selected) return {kind, 0};
    const Part& part = *selection.selected;
    const bool horn = part.role == Role::horn && kind == Role::servo;
    return part.role == kind || horn ? Part{kind, part.index} : Part{kind, 0};
}

}  // namespace

bool alike(const Field& above, const Field& field) {
    const auto *numbers = std::get_if<Numbers>(&above.what), *here = std::get_if<Numbers>(&field.what);
    return numbers && here && numbers->each == here->each && numbers->may_be_missing == here->may_be_missing;
}

void draw_field(Screen& screen, Bench& bench, Selection& selection, const Spot& spot, const Field& field, bool heads) {
    ImGui::PushID(spot.name.c_str());
    if (std::holds_alternative<Numbers>(field.what)) draw_numbers(screen, bench, selection, spot, field, heads);
    if (std::holds_alternative<Words>(field.what)) draw_text(screen, bench, selection, spot, field);
    if (std::holds_alternative<Alternatives>(field.what)) draw_choice(screen, bench, selection, spot, field);
    ImGui::PopID();
    draw_refusal(screen, bench, spot.name);
}

bool change_count(Screen& screen, Bench& bench, View& view, const std::string& name, const head::Change& change,
                  bool builds) {
    if (!change) {
        refuse(screen, bench, name, change.error());
        return false;
    }
    scene::Scene next = bench.document().scene();
    const head::Description before = next.head;
    next.head = change->head;
    next.places = {};  // they speak of the file as it was
    const bool made =
        builds ? try_build(screen, bench, std::move(next), name) : try_edit(screen, bench, std::move(next), name);
    if (!made) return false;
    screen.entry.assumed = change->assumed;
    forget_renumbered(view, before, change->head, /*put_back=*/false);
    view.fit = Fit::moving;
    return true;
}

std::string stem_of(const head::Description& description, const Part& part) {
    switch (part.role) {
        case Role::servo:
        case Role::lever:
        case Role::slider:
        case Role::other_link:
            return draw::name_of(part);
        default:
            return form_title(description, part);
    }
}

PartCounts counts_of(const head::Description& d) {
    PartCounts out{{d.rotor.blades, static_cast<int>(d.swashplate.driver_pins.size()), d.swashplate.guided,
                    d.swashplate.tilts, d.kind == head::Kind::tail},
                   {}};
    const auto count = [&](const auto&... lists) { (out.counts.push_back(static_cast<int>(lists.size())), ...); };
    count(d.servos, d.swashplate.inner_balls, d.swashplate.outer_balls, d.lower_links, d.upper_links, d.levers,
          d.sliders, d.fixed_balls, d.links, d.pins);
    for (const head::Servo& servo : d.servos) {
        out.counts.push_back(static_cast<int>(servo.pivot_mm.index()));
        out.names.push_back(servo.name);
    }
    for (const head::Lever& lever : d.levers) {
        count(lever.balls_mm);
        out.names.push_back(lever.name + name_of(lever.on));
    }
    for (const head::Slider& slider : d.sliders) {
        count(slider.balls_mm);
        out.names.push_back(slider.name + name_of(slider.on));
    }
    for (const head::FixedBall& ball : d.fixed_balls) out.names.push_back(name_of(ball.on));
    for (const head::Link& link : d.links) out.names.push_back(link.name);
    return out;
}

void draw_more(Screen& screen, Bench& bench, View& view, Selection& selection, Section& section) {
    if (!section.more || !section.more_open) return;
    const Part part = chosen_in(selection, *section.more);
    const std::string title = form_title(bench.head(), part), id = "more " + section.title;
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("More of %s", title.c_str());
    ImGui::PushID(id.c_str());
    const std::vector<Field> fields = fields_of(bench.head(), part, screen.settings.inches);
    const std::string stem = stem_of(bench.head(), part);
    for (std::size_t i = 0; i < fields.size(); ++i)
        draw_field(screen, bench, selection, {part, fmt::format("{}, {}", stem, fields[i].key)}, fields[i],
                   /*heads=*/i == 0 || !alike(fields[i - 1], fields[i]));
    draw_counts(screen, bench, view, selection, part);
    draw_part_changes(screen, bench, view, selection, part);
    ImGui::PopID();
    ImGui::Spacing();
}

void draw_refusal(Screen& screen, const Bench& bench, const std::string& name_begins) {
    const EntryNote& entry = screen.entry;
    if (entry.refused.empty() || entry.refused_at != bench.document().revision()) return;
    if (!entry.refused.starts_with(name_begins)) return;
    const float room = trouble_mark(screen);
    ImGui::Indent(room);
    paragraph(screen.inks().ink,
              "Refused: " + lengths_read(refusal_words(entry.refused, entry.why), screen.settings.inches));
    screen.report.item("refused");
    ImGui::Unindent(room);
    // Brought into sight once.
    int* shown = ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("refusal shown"));
    const int stamp = static_cast<int>(std::hash<std::string>{}(entry.refused + entry.why) & 0x7FFFFFFF);
    if (std::exchange(*shown, stamp) != stamp) ImGui::SetScrollHereY(1);
}

}  // namespace swashwright::panels
