#include "viewer/draw/overlay/overlay.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "kinematics/studies/answer/figures.h"
#include "viewer/draw/base/palette.h"
#include "viewer/draw/overlay/angles.h"
#include "viewer/draw/overlay/distances.h"
#include "viewer/draw/overlay/forces.h"
#include "viewer/draw/overlay/part_names.h"
#include "viewer/draw/overlay/pen.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/section.h"

namespace swashwright::draw {
namespace {

/// Blade numbers in a circle with the pitch beside, on leader lines out beyond the blades' ends.
void place_blade_labels(const Pen& pen, const head::Description& d, const head::Pose& pose, const Style& style,
                        std::vector<Label>& labels) {
    const auto hub = pen.at(Vec3(0, 0, d.rotor.hub_height_mm));
    for (std::size_t k = 0; k < pose.pitch_deg.size(); ++k) {
        const int index = static_cast<int>(k);
        if (std::ranges::binary_search(style.hidden, Part{Role::blade, index})) continue;
        const auto anchor = anchor_of({Role::blade, index}, d, pose, style);
        const auto tip = anchor ? pen.at(*anchor) : std::nullopt;
        if (!tip) continue;
        if (style.section_deg && plane_towards(*style.section_deg).height_of(*anchor) > 1) continue;  // cut away
        const float side = hub && tip->x < hub->x ? -1.0F : 1.0F;
        Label label;
        label.text = studies::signed_figure(pose.pitch_deg[k], 2) + "\u00b0";
        label.number = index + 1;
        label.ink = packed(blade_hue(index, style.night, true));
        label.tip = *tip;
        const ImVec2 size = pen.size_of(label);
        const float away = 24 * pen.scale, above = tip->y - size.y - away;
        const bool room = above > static_cast<float>(pen.viewport.y) + 4;  // else it would be moved onto the tip
        label.low = {tip->x + side * 26 * pen.scale - (side < 0 ? size.x : 0), room ? above : tip->y + away};
        labels.push_back(label);
    }
}

void place_trouble(const Pen& pen, const head::Description& d, const head::Pose& pose, const Style& style,
                   const OverlayWords& words, std::vector<Label>& labels) {
    for (const PartNote& note : words.trouble) {
        const auto anchor = anchor_of(note.part, d, pose, style);
        const auto tip = anchor ? pen.at(*anchor) : std::nullopt;
        if (!tip) continue;
        Label label;
        label.text = note.words;
        label.trouble = true;
        label.ink = packed(pen.colours.trouble);
        label.tip = *tip;
        const ImVec2 size = pen.size_of(label);
        const float middle = static_cast<float>(pen.viewport.x) + 0.5F * static_cast<float>(pen.viewport.width);
        label.low = {tip->x < middle ? tip->x - size.x - 40 * pen.scale : tip->x + 40 * pen.scale, tip->y - size.y / 2};
        labels.push_back(label);
    }
}

NameBox box_of(const ImVec2& low, const ImVec2& size) {
    return {{low.x, low.y}, {low.x + size.x, low.y + size.y}};
}

std::string length_in(const OverlayWords& words, double mm, int decimals) {
    return words.length ? words.length(mm, decimals) : fmt::format("{:.{}f} mm", mm, decimals);
}

/// The nearest place on a grid around where it stands that covers nothing taken; it stays where there is none.
void move_to_free_place(Label& label, const ImVec2& size, const std::vector<NameBox>& taken, const NameBox& inside) {
    constexpr float grid = 12;
    float nearest = HUGE_VALF;
    const ImVec2 from = label.low;
    for (float y = inside.low.y; y + size.y <= inside.high.y; y += grid)
        for (float x = inside.low.x; x + size.x <= inside.high.x; x += grid) {
            const float away = std::hypot(x - from.x, y - from.y);
            if (away >= nearest) continue;
            const NameBox box = box_of({x, y}, size);
            if (std::ranges::any_of(taken, [&](const NameBox& other) { return overlap(box, other); })) continue;
            nearest = away;
            label.low = {x, y};
        }
}

/// Keeps labels inside the picture and moves later ones down until none covers an earlier one, or what is taken
/// already; those that may go and find no room are taken out. Their boxes join what is taken.
void spread(const Pen& pen, std::vector<Label>& labels, std::vector<NameBox>& taken) {
    const auto x0 = static_cast<float>(pen.viewport.x) + 4, y0 = static_cast<float>(pen.viewport.y) + 4;
    const float x1 = x0 + static_cast<float>(pen.viewport.width) - 8,
                y1 = y0 + static_cast<float>(pen.viewport.height) - 8;
    std::vector<Label> kept;
    for (Label& label : labels) {
        const ImVec2 size = pen.size_of(label);
        const auto covered_by = [&] {
            return std::ranges::find_if(taken,
                                        [&](const NameBox& other) { return overlap(box_of(label.low, size), other); });
        };
        label.low.x = std::max(x0, std::min(label.low.x, x1 - size.x));
        label.low.y = std::max(y0, std::min(label.low.y, y1 - size.y));
        for (std::size_t tries = 0; tries < labels.size() + taken.size(); ++tries) {
            const auto covered = covered_by();
            if (covered == taken.end()) break;
            label.low.y = covered->high.y + 3 * pen.scale;
            if (label.low.y + size.y > y1) label.low.y = covered->low.y - size.y - 3 * pen.scale;
        }
        if (covered_by() != taken.end()) move_to_free_place(label, size, taken, {{x0, y0}, {x1, y1}});
        if (label.may_go && covered_by() != taken.end()) continue;
        taken.push_back(box_of(label.low, size));
        kept.push_back(std::move(label));
    }
    labels = std::move(kept);
}

/// Which way the rotor turns: an arc with an arrow about the shaft, above the hub.
void draw_rotation(const Pen& pen, const head::Description& d, const Proportions& p) {
    const double sense = head::spin_sign(d.rotor.direction), radius = 0.5 * p.ring, height = p.top + 0.5 * p.ring;
    constexpr int steps = 40;
    const double end = pen.camera.azimuth_deg + sense * 35;  // the arrow's tip on the side of the eye
    std::vector<ImVec2> arc;
    for (int k = 0; k <= steps; ++k) {
        const double a = (end - sense * 290.0 * (steps - k) / steps) * degree;
        if (const auto at = pen.at(Vec3(radius * std::cos(a), radius * std::sin(a), height))) arc.push_back(*at);
    }
    if (arc.size() <= steps) return;
    const ImU32 ink = packed(pen.colours.ink, 0.85F);
    pen.list.AddPolyline(arc.data(), static_cast<int>(arc.size()), ink, 0, 1.6F * pen.scale);
    pen.arrow_head(arc[steps - 2], arc[steps], ink);
}

/// The four sides around the protractor by their words, for the rotor's azimuth begins at the tail; of a tail, which
/// has neither left nor right, the quarters by their degrees. None over a part, over other words or off the picture.
void draw_azimuths(const Pen& pen, const head::Description& d, const Proportions& p, const InSight& in_sight,
                   std::vector<NameBox>& taken) {
    constexpr std::array<const char*, azimuth_words_deg.size()> sides{"nose", "left", "tail", "right"};
    const auto middle = pen.at(Vec3(0, 0, p.ground));
    for (std::size_t k = 0; k < azimuth_words_deg.size(); ++k) {
        const double deg = azimuth_words_deg[k];
        const auto at = in_sight.words_at[k] ? pen.at(*in_sight.words_at[k]) : std::nullopt;
        if (!at || !middle || !pen.inside(*at)) continue;
        // From low down, words in line with the shaft would lie over the head; from afar, all of them.
        const double off = std::abs(std::cos((deg - pen.camera.azimuth_deg) * degree));
        const float apart = std::hypot(at->x - middle->x, at->y - middle->y);
        if ((std::abs(pen.camera.height_deg) < 12 && off > 0.7) || apart < 60 * pen.scale) continue;
        const std::string text = deg == 0 || d.kind == head::Kind::main ? sides.at(k) : fmt::format("{:g}\u00b0", deg);
        const ImVec2 size = ImGui::CalcTextSize(text.c_str());
        const ImVec2 low(std::round(at->x - size.x / 2), std::round(at->y - size.y / 2));
        const NameBox box = box_of(low, size);
        if (!pen.inside(low) || !pen.inside({low.x + size.x, low.y + size.y})) continue;
        if (std::ranges::any_of(taken, [&](const NameBox& other) { return overlap(box, other); })) continue;
        pen.list.AddText(low, packed(glm::mix(pen.colours.faint, pen.colours.ink, 0.45F)), text.c_str());
        taken.push_back(box);
        pen.written(box);
    }
}

/// Where words that the picture's edge has pushed over their own dimension line stand instead: over it, else below.
ImVec2 clear_of_line(const Pen& pen, const ImVec2& low, const ImVec2& size, const ImVec2& from, const ImVec2& to) {
    const float gap = 6 * pen.scale, left = std::min(from.x, to.x), right = std::max(from.x, to.x);
    const float top = std::min(from.y, to.y), bottom = std::max(from.y, to.y);
    const NameBox line{{left - gap, top - gap}, {right + gap, bottom + gap}};
    // A leaning line's box reaches beside it: only what the edge has moved is in question.
    const bool at_edge = low.x <= static_cast<float>(pen.viewport.x) + 6 ||
                         low.x + size.x >= static_cast<float>(pen.viewport.x + pen.viewport.width) - 6;
    if (!at_edge || !overlap(box_of(low, size), line)) return low;
    for (const float y : {top - 2 * gap - size.y, bottom + 2 * gap}) {
        const ImVec2 there = pen.kept_inside({low.x, y}, size);
        if (!overlap(box_of(there, size), line)) return there;
    }
    return low;
}

/// A drawing dimension beside the touched part: extension lines, arrows, the length.
void draw_dimension(const Pen& pen, const head::Description& d, const head::Pose& pose, const Part& part,
                    const OverlayWords& words, std::vector<NameBox>& taken) {
    const auto length = length_of(part, d, pose);
    if (!length) return;
    const auto a = pen.at(length->a), b = pen.at(length->b);
    if (!a || !b) return;
    const float run = std::hypot(b->x - a->x, b->y - a->y), least = 24 * pen.scale;
    const ImVec2 along = run > 1 ? ImVec2((b->x - a->x) / run, (b->y - a->y) / run) : ImVec2(0, -1);
    ImVec2 aside(-along.y, along.x);
    const float middle = static_cast<float>(pen.viewport.x) + 0.5F * static_cast<float>(pen.viewport.width);
    const float outwards = (a->x + b->x) / 2 < middle ? -1.0F : 1.0F;  // away from the shaft
    if (aside.x * outwards < 0) aside = {-aside.x, -aside.y};
    const auto off = [&](const ImVec2& p, float by) { return ImVec2(p.x + aside.x * by, p.y + aside.y * by); };
    const float gap = 9 * pen.scale, far = 54 * pen.scale;
    const ImU32 ink = packed(pen.colours.accent);
    const float line = 1.3F * pen.scale;
    if (run >= least) {
        pen.list.AddLine(off(*a, gap), off(*a, far + 5 * pen.scale), ink, line);
        pen.list.AddLine(off(*b, gap), off(*b, far + 5 * pen.scale), ink, line);
        pen.list.AddLine(off(*a, far), off(*b, far), ink, line);
        pen.arrow_head(off(*b, far), off(*a, far), ink);
        pen.arrow_head(off(*a, far), off(*b, far), ink);
    }
    const bool link = part.role != Role::horn;
    const double shown = (length->b - length->a).norm() - (link ? words.length_less_mm : 0);
    const std::string first = fmt::format("{}  {}", trade_name_of(part, d), length_in(words, shown, 2));
    const std::string second = link ? words.length_name : "pivot to ball centre";
    const ImVec2 one = ImGui::CalcTextSize(first.c_str()), two = ImGui::CalcTextSize(second.c_str());
    const ImVec2 middle_at = off({(a->x + b->x) / 2, (a->y + b->y) / 2}, far + 12 * pen.scale);
    const float width = std::max(one.x, two.x);
    const ImVec2 from = off(*a, far), to = off(*b, far), size{width, one.y + two.y};
    ImVec2 low = pen.kept_inside({aside.x < 0 ? middle_at.x - width : middle_at.x, middle_at.y - one.y}, size);
    if (run >= least) low = clear_of_line(pen, low, size, from, to);
    pen.backing(low, {low.x + width, low.y + size.y});
    taken.push_back(box_of(low, size));
    pen.written(taken.back());
    if (run >= least) {
        taken.push_back(
            {{std::min(from.x, to.x), std::min(from.y, to.y)}, {std::max(from.x, to.x), std::max(from.y, to.y)}});
    } else {  // seen along the link: a leader to its end
        pen.list.AddLine({(a->x + b->x) / 2, (a->y + b->y) / 2},
                         {aside.x < 0 ? low.x + width + 4 * pen.scale : low.x - 4 * pen.scale, low.y + one.y}, ink,
                         line);
    }
    pen.list.AddText(low, packed(pen.colours.ink), first.c_str());
    pen.list.AddText({low.x, low.y + one.y}, packed(glm::mix(pen.colours.faint, pen.colours.ink, 0.6F)),
                     second.c_str());
}

/// A section has taken the link or horn away whole.
bool cut_away(const Part& part, const head::Description& d, const head::Pose& pose, const Style& style) {
    const auto length = style.section_deg ? length_of(part, d, pose) : std::nullopt;
    constexpr double in_plane_mm = 0.5;  // as `frames_short_of` has it
    return length && plane_towards(*style.section_deg).height_of((length->a + length->b) / 2) > in_plane_mm;
}

/// A dimension across a gap: both points, the line between, a leader to the words.
void draw_gap(const Pen& pen, const GapMark& gap, std::vector<NameBox>& taken) {
    const auto a = pen.at(gap.a), b = pen.at(gap.b);
    if (!a || !b) return;
    const ImU32 ink = packed(pen.colours.accent);
    const float radius = 4 * pen.scale, line = 2 * pen.scale;
    pen.list.AddLine(*a, *b, ink, line);
    pen.list.AddCircle(*a, radius, ink, 0, line);
    pen.list.AddCircle(*b, radius, ink, 0, line);
    const ImVec2 middle((a->x + b->x) / 2, (a->y + b->y) / 2), size = ImGui::CalcTextSize(gap.words.c_str());
    const ImVec2 low = pen.kept_inside({middle.x + 46 * pen.scale, middle.y - 46 * pen.scale - size.y}, size);
    pen.list.AddLine(middle, {low.x - 4 * pen.scale, low.y + size.y / 2}, ink, pen.scale);
    pen.backing(low, {low.x + size.x, low.y + size.y});
    pen.list.AddText(low, packed(pen.colours.ink), gap.words.c_str());
    taken.push_back(box_of(low, size));
    pen.written(taken.back());
}

/// What the tip paths show, below the top edge of the picture.
void draw_tip_words(const Pen& pen, const Traces& traces, const Style& style, const OverlayWords& words,
                    std::vector<NameBox>& taken) {
    if (traces.tips.empty()) return;
    float y = static_cast<float>(pen.viewport.y) + 10 * pen.scale;
    const float x = static_cast<float>(pen.viewport.x) + 12 * pen.scale;
    const auto write = [&](std::uint32_t ink, const std::string& line) {
        const ImVec2 size = ImGui::CalcTextSize(line.c_str());
        pen.backing({x, y}, {x + size.x, y + size.y});
        pen.list.AddText({x, y}, ink, line.c_str());
        taken.push_back(box_of({x, y}, size));
        y += size.y;
    };
    write(packed(pen.colours.ink), fmt::format("Tips in hover, drawn \u00d7{:g}", traces.magnified));
    for (std::size_t k = 0; k < traces.tip_mm.size(); ++k) {
        const double rounded = std::round(traces.tip_mm[k] * 10) / 10 + 0.0;  // never "-0.0"
        write(packed(blade_hue(static_cast<int>(k), style.night, true)),
              fmt::format("blade {}  {}{}", k + 1, rounded < 0 ? "" : "+", length_in(words, rounded, 1)));
    }
    write(packed(pen.colours.ink), "at most, by estimate");
}

}  // namespace

void draw_overlay(ImDrawList& list, const head::Description& description, const head::Pose& pose, const Camera& camera,
                  const Style& style, const Viewport& viewport, const OverlayWords& words, float scale) {
    std::vector<NameBox> written;
    const Pen pen{list, camera, viewport, sheet(style.night), scale, &written};
    const Proportions p = proportions_of(description);
    const auto x = static_cast<float>(viewport.x), y = static_cast<float>(viewport.y);
    list.PushClipRect({x, y}, {x + static_cast<float>(viewport.width), y + static_cast<float>(viewport.height)}, true);
    std::vector<NameBox> taken = words.taken;
    // Words are placed first but lie on top: leaders run below them.
    list.ChannelsSplit(2);
    list.ChannelsSetCurrent(1);
    if (words.gap)
        draw_gap(pen, *words.gap, taken);
    else if (style.touched && !cut_away(*style.touched, description, pose, style))
        draw_dimension(pen, description, pose, *style.touched, words, taken);
    draw_distances(pen, words.distances, taken);
    if (style.traces) draw_tip_words(pen, *style.traces, style, words, taken);
    list.ChannelsSetCurrent(0);
    draw_azimuths(pen, description, p, words.in_sight, taken);
    if (words.angle) draw_angle(pen, *words.angle, taken);
    std::vector<NameBox> free = taken;
    for (const SolidBox& box : words.in_sight.kept_free)
        if (box.part.role != Role::servo || style.touched == box.part || std::ranges::count(style.lit, box.part) > 0)
            free.push_back({box.low, box.high});
    std::vector<Label> labels;
    place_trouble(pen, description, pose, style, words, labels);
    if (words.pitch_labels) place_blade_labels(pen, description, pose, style, labels);
    spread(pen, labels, free);
    draw_forces(pen, words.loads, words.in_sight.kept_free, free, labels);
    draw_rotation(pen, description, p);
    for (const Label& label : labels) written.push_back(box_of(label.low, pen.size_of(label)));
    if (!words.in_sight.spots.empty()) draw_names(pen, description, pose, style, words.in_sight.spots, free);
    for (const Label& label : labels) pen.draw(label);
    list.ChannelsMerge();
    list.PopClipRect();
}

}  // namespace swashwright::draw
