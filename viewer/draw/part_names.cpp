#include "viewer/draw/part_names.h"

#include <fmt/format.h>

#include <algorithm>

#include "viewer/draw/anchors.h"

namespace swashwright::draw {
namespace {

/// The rectangle around a blade as drawn; none if part of it is behind the eye.
std::optional<NameBox> around_blade(const Pen& pen, const Placement& blade, const Proportions& p, double sense,
                                    double end) {
    NameBox box{{1e9F, 1e9F}, {-1e9F, -1e9F}};
    for (double out : {p.fork_end, end}) {
        for (double lead : {0.35 * p.chord, -0.65 * p.chord}) {
            const auto at = pen.at(blade * Vec3(lead, 0, sense * out));
            if (!at) return std::nullopt;
            box.low = glm::min(box.low, glm::vec2(at->x, at->y));
            box.high = glm::max(box.high, glm::vec2(at->x, at->y));
        }
    }
    return box;
}

std::vector<NameBox> around_blades(const Pen& pen, const head::Description& d, const Frames& frames,
                                   const Style& style) {
    const Proportions p = proportions_of(d);
    const double end = style.whole_blades ? p.blade_end : p.stub_end;
    std::vector<NameBox> boxes;
    for (int k = 0; k < static_cast<int>(d.grips.size()); ++k) {
        const Placement* blade = frames.find({Ride::blade, k});
        if (blade == nullptr) continue;
        if (const auto box = around_blade(pen, *blade, p, head::spin_sign(d.rotor.direction), end))
            boxes.push_back(*box);
    }
    return boxes;
}

}  // namespace

std::string trade_name_of(const Part& part, const head::Description& description) {
    switch (part.kind) {
        case PartKind::shaft:
            return "main shaft";
        case PartKind::frame: {
            const bool more = std::ranges::any_of(description.solids, [](const head::Solid& s) {
                const auto on = part_of(s.part);
                return on && on->kind == PartKind::frame;
            });
            return more ? "frame" : "bearing block";
        }
        case PartKind::guide:
            return "anti-rotation guide";
        case PartKind::servo: {
            const auto i = static_cast<std::size_t>(part.index);
            const bool named = i < description.servos.size() && !description.servos[i].name.empty();
            return named ? "servo " + description.servos[i].name : name_of(part);
        }
        case PartKind::grip:
            return fmt::format("blade grip {}", part.index + 1);
        default:
            return name_of(part);
    }
}

void draw_names(const Pen& pen, const head::Description& description, const head::Pose& pose, const Style& style,
                const std::vector<Spot>& spots, const std::vector<NameBox>& taken) {
    const Frames frames(description, pose, style.exaggeration);
    std::vector<NameWanted> wanted;
    std::vector<std::string> words;
    for (const Spot& spot : spots) {
        const Placement* placement = frames.find(spot.frame);
        if (placement == nullptr || spot.part.kind == PartKind::blade) continue;
        const auto tip = pen.at(*placement * spot.at);
        if (!tip) continue;
        words.push_back(trade_name_of(spot.part, description));
        wanted.push_back({std::ceil(ImGui::CalcTextSize(words.back().c_str()).x) + 6 * pen.scale, {tip->x, tip->y}});
    }
    const std::vector<NameBox> busy = around_blades(pen, description, frames, style);
    const glm::vec2 low(pen.viewport.x, pen.viewport.y);
    const glm::vec2 size(pen.viewport.width, pen.viewport.height);
    const NameSheet sheet{{low, low + size}, ImGui::GetTextLineHeight() + 2 * pen.scale, 4 * pen.scale, taken, busy};
    const auto placed = place_names(wanted, sheet);
    const ImU32 line = packed(pen.colours.ink, 0.75F), ink = packed(pen.colours.ink);
    for (const NamePlaced& name : placed) {
        const glm::vec2& tip = wanted[name.which].tip;
        pen.list.AddLine({name.from.x, name.from.y}, {tip.x, tip.y}, line, pen.scale);
        pen.list.AddCircleFilled({tip.x, tip.y}, 3.4F * pen.scale, packed(pen.colours.paper));
        pen.list.AddCircleFilled({tip.x, tip.y}, 2.4F * pen.scale, ink);
    }
    for (const NamePlaced& name : placed) {
        pen.backing({name.box.low.x, name.box.low.y}, {name.box.high.x, name.box.high.y});
        pen.list.AddText({std::round(name.box.low.x + 3 * pen.scale), std::round(name.box.low.y + pen.scale)}, ink,
                         words[name.which].c_str());
    }
}

}  // namespace swashwright::draw
