#include "viewer/panels/base/widgets.h"

#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

#include "viewer/draw/base/palette.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/screen.h"

namespace swashwright::panels {

namespace {

/// Steps that the arrow keys ask for while the field drawn last is active, and the wheel over it.
double steps_asked() {
    const ImGuiIO& io = ImGui::GetIO();
    double steps = ImGui::IsItemHovered() ? io.MouseWheel : 0;
    if (ImGui::IsKeyPressed(io.KeyMap[ImGuiKey_UpArrow])) steps += 1;
    if (ImGui::IsKeyPressed(io.KeyMap[ImGuiKey_DownArrow])) steps -= 1;
    return io.KeyShift ? 10 * steps : steps;
}

/// Below the item that the keyboard stands on, or above it in the lower half.
void tip_of_keyboard(const char* words) {
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax(), all = ImGui::GetIO().DisplaySize;
    const bool below = high.y<all.y / 2, leftwards = low.x> all.x / 2;
    const float gap = ImGui::GetStyle().ItemSpacing.y;
    ImGui::SetNextWindowPos({leftwards ? high.x : low.x, below ? high.y + gap : low.y - gap}, ImGuiCond_Always,
                            {leftwards ? 1.0F : 0.0F, below ? 0.0F : 1.0F});
    ImGui::SetTooltip("%s", wrapped(words, all.x / 2 - 2 * gap).c_str());
}

}  // namespace

void tip(Screen& screen, const char* words) {
    constexpr float rest_seconds = 0.6F;
    if (screen.keyboard.here() && !ImGui::IsItemActive()) return tip_of_keyboard(words);
    if (!ImGui::IsItemHovered() || ImGui::IsItemActive()) return;
    if (ImGui::GetCurrentContext()->HoveredIdTimer < rest_seconds)
        screen.frame_wanted = true;
    else {
        const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
        note_beside(screen, {low.x, low.y, high.x - low.x, high.y - low.y}, wrapped(words, 420 * screen.scale()));
    }
}

void note_beside(Screen& screen, const Rect& item, const std::string& words) {
    const float scale = screen.scale(), pad = 8 * scale;
    const ImVec2 text = ImGui::CalcTextSize(words.c_str()), window = ImGui::GetIO().DisplaySize;
    const Rect note = beside_item(item, text.x + 2 * pad, text.y + 1.2F * pad, window.x - 4, window.y - 4, 5 * scale);
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetForegroundDrawList();
    const ImVec2 low{std::round(note.x), std::round(note.y)}, high{low.x + note.width, low.y + note.height};
    list.AddRectFilled(low, high, ink.panel);
    list.AddRect(low, high, ink.ink);
    text_at(list, {low.x + pad, low.y + 0.6F * pad}, ink.ink, words);
    screen.report.rectangle("tip", low, high);
}

bool arrow_button(Screen& screen, const char* id, ImGuiDir way, const char* words) {
    const float scale = screen.scale(), height = ImGui::GetFrameHeight();
    const ImVec2 at = ImGui::GetCursorScreenPos(), size{30 * scale, height};
    const bool pressed = ImGui::InvisibleButton(id, size);
    key_stop(screen);
    screen.report.item(id);
    const Inks ink = screen.inks();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (ImGui::IsItemHovered()) list.AddRectFilled(at, {at.x + size.x, at.y + size.y}, ink.field);
    list.AddRect(at, {at.x + size.x, at.y + size.y}, ink.rule);
    const ImVec2 ahead = way == ImGuiDir_Left    ? ImVec2(-1, 0)
                         : way == ImGuiDir_Right ? ImVec2(1, 0)
                         : way == ImGuiDir_Up    ? ImVec2(0, -1)
                                                 : ImVec2(0, 1);
    const ImVec2 middle{at.x + size.x / 2, at.y + size.y / 2};
    const float arm = 6 * scale;
    const ImVec2 point{middle.x + 0.5F * arm * ahead.x, middle.y + 0.5F * arm * ahead.y};
    for (const float side : {-1.0F, 1.0F})
        list.AddLine(point,
                     {point.x - arm * ahead.x + side * arm * ahead.y, point.y - arm * ahead.y + side * arm * ahead.x},
                     ink.ink, 2 * scale);
    tip(screen, words);
    return pressed;
}

bool number_field(Screen& screen, const char* id, double& value, const NumberStyle& style) {
    std::optional<double> number = value;
    if (!optional_number_field(screen, id, number, style, "") || !number) return false;
    value = *number;
    return true;
}

bool optional_number_field(Screen& screen, const char* id, std::optional<double>& value, const NumberStyle& style,
                           const char* hint) {
    const bool inches = style.length && screen.settings.inches;
    const auto shown = [&](double number) { return length_number(number, inches, style.decimals); };
    const auto parse = [&](std::string_view text) {
        return style.length ? typed_length(text, inches) : typed_number(text);
    };
    const std::string stands = value ? shown(*value) : std::string(), label = fmt::format("##{}", id);
    std::array<char, 48> text{};
    text_of(screen, ImGui::GetID(label.c_str()), stands).copy(text.data(), text.size() - 1);
    ImGui::SetNextItemWidth(style.width * screen.scale());
    ImGui::InputTextWithHint(label.c_str(), hint, text.data(), text.size(),
                             ImGuiInputTextFlags_AutoSelectAll | ImGuiInputTextFlags_CharsNoBlank);
    key_stop(screen, Keyboard::Kind::text);
    if (style.changed_mark) {
        const ImVec2 corner = ImGui::GetItemRectMin();
        const float side = 7 * screen.scale();
        ImGui::GetWindowDrawList()->AddTriangleFilled(corner, {corner.x + side, corner.y}, {corner.x, corner.y + side},
                                                      screen.inks().ink);
    }
    draw_not_taken(screen, stands);
    if (TypedField* field = screen.typing.of(ImGui::GetItemID()); field && given_up() && field->before != value) {
        value = std::exchange(*field, {}).before;  // the arrow keys had changed it
        return true;
    }
    const auto typed = typed_text(screen, text.data(), stands);
    if (ImGui::IsItemActivated()) screen.typing.now.before = value;
    if (ImGui::IsItemActive()) {
        // Elsewhere the wheel stays the list's.
        if (ImGui::IsItemHovered()) ImGui::GetCurrentContext()->HoveredIdUsingMouseWheel = true;
        const double steps = steps_asked();
        if (steps == 0) return false;
        value = (std::round(parse(text.data()).value_or(value.value_or(0)) / style.step) + steps) * style.step;
        retype(screen, shown(*value));
        return true;
    }
    if (!typed) return false;
    screen.entry.refused.clear();  // what was said of the last entry
    screen.typing.not_taken = {};
    const std::optional<double> number = parse(*typed);
    if (!number && !typed->empty()) refuse_text(screen, *typed, stands, style.length);
    if ((!number && !typed->empty()) || number == value) return false;
    value = number;
    return true;
}

void same_line_if_it_fits(const char* word, float spacing) {
    const ImGuiStyle& style = ImGui::GetStyle();
    const float width = ImGui::CalcTextSize(word).x + 2 * style.FramePadding.x;
    const float right = ImGui::GetWindowPos().x + ImGui::GetContentRegionMax().x;
    if (ImGui::GetItemRectMax().x + spacing + width <= right) ImGui::SameLine(0, spacing);
}

bool slide_line(Screen& screen, const std::string& id, double& value, const LineStyle& style) {
    const float scale = screen.scale(), height = ImGui::GetFrameHeight();
    const Inks ink = screen.inks();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton(id.c_str(), {style.width, height});
    key_stop(screen, Keyboard::Kind::steps);
    screen.report.item(id);
    const bool held = ImGui::IsItemActive(), hovered = ImGui::IsItemHovered();
    const ImGuiIO& io = ImGui::GetIO();
    const double before = value, range = style.high - style.low;
    if (held && (io.MouseDelta.x != 0 || ImGui::IsMouseClicked(ImGuiMouseButton_Left)))
        value = style.low + std::clamp((io.MousePos.x - at.x) / style.width, 0.0F, 1.0F) * range;
    const bool wheel = style.wheel && hovered;
    if (wheel) ImGui::SetItemUsingMouseWheel();
    if (wheel && io.MouseWheel != 0) value += io.MouseWheel * style.step;
    const ImVec2 keys = screen.keyboard.take_steps();
    value += (keys.x + keys.y) * style.step;
    if ((hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) || screen.keyboard.take_act())
        value = style.home;
    if (value != before) value = std::clamp(std::round(value / style.step) * style.step, style.low, style.high);

    ImDrawList& list = *ImGui::GetWindowDrawList();
    const auto x_of = [&](double number) {
        return at.x + style.width * static_cast<float>(std::clamp((number - style.low) / range, 0.0, 1.0));
    };
    const float middle = at.y + height / 2, x = x_of(value);
    list.AddLine({at.x, middle}, {at.x + style.width, middle}, ink.rule, 2 * scale);
    list.AddLine({x_of(style.home), middle}, {x, middle}, held ? ink.accent : ink.ink, 2 * scale);
    list.AddCircleFilled({x, middle}, 7 * scale, held ? ink.accent : ink.ink);
    return value != before;
}

bool word_button(Screen& screen, const char* id, const char* word, const char* words, bool enabled, bool on) {
    const Inks ink = screen.inks();
    ImGui::PushStyleColor(ImGuiCol_Text, enabled ? (on ? ink.paper : ink.ink) : ink.soft);
    ImGui::PushStyleColor(ImGuiCol_Button, on ? ink.ink : IM_COL32(0, 0, 0, 0));
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, on ? ink.soft : ink.field);
    ImGui::PushID(id);
    // Its name for ImGui stays the same where its word changes, so that the keyboard stays with it.
    const bool pressed = ImGui::Button(fmt::format("{}###word", word).c_str()) && enabled;
    ImGui::PopID();
    ImGui::PopStyleColor(3);
    if (enabled) key_stop(screen);
    if (words) tip(screen, words);
    screen.report.item(id);
    return pressed;
}

bool section_title(Screen& screen, const std::string& id, const std::string& title, bool& open) {
    const Inks ink = screen.inks();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ImGui::GetFrameHeight(), scale = screen.scale();
    if (ImGui::InvisibleButton(id.c_str(), {width, height})) open = !open;
    key_stop(screen);
    screen.report.item(id);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (ImGui::IsItemHovered()) list.AddRectFilled(at, {at.x + width, at.y + height}, ink.field);
    const ImVec2 sign{at.x + 8 * scale, at.y + height / 2};
    const float arm = 5 * scale;
    list.AddLine({sign.x - arm, sign.y}, {sign.x + arm, sign.y}, ink.ink, 1.5F * scale);
    if (!open) list.AddLine({sign.x, sign.y - arm}, {sign.x, sign.y + arm}, ink.ink, 1.5F * scale);
    text_at(list, {at.x + 22 * scale, at.y + (height - ImGui::GetTextLineHeight()) / 2}, ink.ink, title);
    list.AddLine({at.x, at.y + height}, {at.x + width, at.y + height}, ink.rule);
    return open;
}

void dashed_line(ImDrawList& list, std::span<const ImVec2> points, ImU32 colour, float thickness,
                 std::span<const float> pattern) {
    if (pattern.empty()) {
        list.AddPolyline(points.data(), static_cast<int>(points.size()), colour, ImDrawFlags_None, thickness);
        return;
    }
    std::size_t element = 0;
    float left = pattern[0];
    list.PathClear();
    if (!points.empty()) list.PathLineTo(points[0]);
    for (std::size_t i = 1; i < points.size(); ++i) {
        ImVec2 at = points[i - 1];
        const ImVec2 to = points[i];
        float length = std::hypot(to.x - at.x, to.y - at.y);
        while (length > 0) {
            const float step = std::min(length, left);
            at = {at.x + (to.x - at.x) * step / length, at.y + (to.y - at.y) * step / length};
            length -= step;
            left -= step;
            const bool drawn = element % 2 == 0;
            if (drawn) list.PathLineTo(at);
            if (left > 0) continue;
            if (drawn) list.PathStroke(colour, ImDrawFlags_None, thickness);
            element = (element + 1) % pattern.size();
            left = pattern[element];
            if (element % 2 == 0) list.PathLineTo(at);
        }
    }
    list.PathStroke(colour, ImDrawFlags_None, thickness);
}

void blade_chip(ImDrawList& list, ImVec2 centre, int index, bool night, float scale) {
    const float half = 11 * scale;
    const ImVec2 low{centre.x - half, centre.y - half}, high{centre.x + half, centre.y + half};
    const Inks ink = inks(night);
    list.AddRectFilled(low, high, ink.panel);
    list.AddRect(low, high, blade_colour(index, night, true), 0, ImDrawFlags_None, 2 * scale);
    const std::string number = std::to_string(index + 1);
    const ImVec2 size = ImGui::CalcTextSize(number.c_str());
    list.AddText({std::round(centre.x - size.x / 2), std::round(centre.y - size.y / 2)}, ink.ink, number.c_str());
}

namespace {

/// Units that stand behind a figure with a blank between.
constexpr std::array<std::string_view, 20> units{"mm", "in", "deg", "%",   "N", "W",  "kW", "us", "\xC2\xB5s", "rpm",
                                                 "g",  "kg", "m",   "m/s", "s", "ms", "Hz", "V",  "turns",     "turn"};

constexpr std::array<std::string_view, 9> numbered{"blade", "Blade", "link", "ball", "servo",
                                                   "pin",   "arm",   "grip", "lever"};

/// Whether the blank at `i` stands within a number and its unit, or behind a sign that belongs to the number: "0.20
/// mm", "12 N mm", "3 deg/stick,", "25 %)", "± 0.6"; or between a part and its number: "blade 2".
bool binds(std::string_view text, std::size_t i) {
    const std::string_view before = text.substr(0, i), behind = text.substr(i + 1);
    if (before.ends_with("\xC2\xB1")) return true;
    const auto begins_with = [&](std::string_view unit) {
        constexpr std::string_view ends = " \n.,;:)]/";
        return behind.starts_with(unit) &&
               (behind.size() == unit.size() || ends.find(behind[unit.size()]) != std::string_view::npos);
    };
    if (before == "N" || before.ends_with(" N")) return begins_with("mm") || begins_with("m");
    if (before.ends_with(" kg") && begins_with("cm")) return true;
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    const auto ends_with = [&](std::string_view part) {
        return before.ends_with(part) &&
               (before.size() == part.size() || before[before.size() - part.size() - 1] == ' ');
    };
    if (!behind.empty() && is_digit(behind.front()) && std::ranges::any_of(numbered, ends_with)) return true;
    return !before.empty() && is_digit(before.back()) && std::ranges::any_of(units, begins_with);
}

}  // namespace

std::string wrapped(const std::string& text, float width) {
    constexpr std::size_t none = std::string::npos;
    std::string out = text;
    // Where the line may be broken: at the last blank, else, where that is all that stands in the line, within a number
    // and its unit.
    std::size_t line = 0, blank = none, bound = none;
    for (std::size_t i = 0; i <= out.size(); ++i) {
        if (i < out.size() && out[i] != ' ') continue;
        while ((blank != none || bound != none) && ImGui::CalcTextSize(out.data() + line, out.data() + i).x > width) {
            const std::size_t at = blank != none ? blank : bound;
            out[at] = '\n';
            line = at + 1;
            blank = none;
            if (bound < line) bound = none;
        }
        (i < out.size() && binds(text, i) ? bound : blank) = i;
    }
    return out;
}

std::string soft_broken(const std::string& text, float width) {
    std::string out = wrapped(text, width);
    // "\r", which has no width, tells a line that ends so. It stands before the last sign: what is typed or taken away
    // at the line's end leaves it.
    for (std::size_t i = text.size(); i-- > 1;) {
        if (out[i] != '\n' || text[i] == '\n') continue;
        std::size_t last = i - 1;
        while (last > 0 && (static_cast<unsigned char>(out[last]) & 0xC0U) == 0x80U) --last;
        out.insert(last, 1, '\r');
    }
    return out;
}

std::string without_soft_breaks(const std::string& text) {
    std::string out;
    bool soft = false;
    for (const char c : text) {
        if (c == '\r') {
            soft = true;
        } else if (c == '\n') {
            out += soft ? ' ' : '\n';
            soft = false;
        } else {
            out += c;
        }
    }
    return out;
}

void paragraph(ImU32 colour, const std::string& text) {
    ImGui::PushStyleColor(ImGuiCol_Text, colour);
    ImGui::TextUnformatted(wrapped(text, ImGui::GetContentRegionAvail().x).c_str());
    ImGui::PopStyleColor();
}

void begin_panel(const char* name, const Rect& place, bool scrolls) {
    ImGui::SetNextWindowPos({place.x, place.y});
    ImGui::SetNextWindowSize({place.width, place.height});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowMinSize, ImVec2(1, 1));
    ImGui::Begin(name, nullptr,
                 (scrolls ? 0 : ImGuiWindowFlags_NoDecoration) | ImGuiWindowFlags_NoBackground |
                     ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    ImGui::PopStyleVar();
}

void text_at(ImDrawList& list, ImVec2 at, ImU32 colour, const std::string& text) {
    list.AddText({std::round(at.x), std::round(at.y)}, colour, text.data(), text.data() + text.size());
}

float trouble_mark(const Screen& screen) {
    draw_trouble_mark(*ImGui::GetWindowDrawList(), ImGui::GetCursorScreenPos(), screen);
    return 22 * screen.scale();
}

void draw_trouble_mark(ImDrawList& list, ImVec2 at, const Screen& screen) {
    const float scale = screen.scale(), middle = at.y + ImGui::GetTextLineHeight() / 2;
    list.AddTriangleFilled({at.x + 2 * scale, middle + 5 * scale}, {at.x + 14 * scale, middle + 5 * scale},
                           {at.x + 8 * scale, middle - 6 * scale}, screen.inks().trouble);
}

void rule(const Screen& screen, ImVec2 from, ImVec2 to) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    // Over the padding too, but never beyond what the window shows of itself.
    ImRect clip = ImGui::GetCurrentWindow()->OuterRectClipped;
    clip.Expand(1);
    list.PushClipRect(clip.Min, clip.Max);
    list.AddLine(from, to, screen.inks().rule, std::max(1.0F, std::round(screen.monitor_scale)));
    list.PopClipRect();
}

void place_at(float x, float y) {
    ImGui::SetCursorScreenPos({std::round(x), std::round(y)});
}

}  // namespace swashwright::panels
