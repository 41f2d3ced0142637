#include "viewer/draw/overlay/part_names.h"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/ball_ends.h"

namespace swashwright::draw {
namespace {

/// The rectangle around points as drawn; none if one of them is behind the eye.
std::optional<NameBox> around_points(const Pen& pen, std::initializer_list<Vec3> points) {
    NameBox box{{1e9F, 1e9F}, {-1e9F, -1e9F}};
    for (const Vec3& point : points) {
        const auto at = pen.at(point);
        if (!at) return std::nullopt;
        box.low = glm::min(box.low, glm::vec2(at->x, at->y));
        box.high = glm::max(box.high, glm::vec2(at->x, at->y));
    }
    return box;
}

std::vector<NameBox> around_blades(const Pen& pen, const head::Description& d, const Frames& frames,
                                   const Style& style) {
    const Proportions p = proportions_of(d);
    const double end = style.whole_blades ? p.blade_end : p.stub_end;
    std::vector<NameBox> boxes;
    for (int k = 0; k < static_cast<int>(head::count_of(d, Role::blade)); ++k) {
        const Placement* blade = frames.find({Ride::blade, k});
        if (blade == nullptr) continue;
        const auto at = [&](double out, double lead) {
            return Vec3(*blade * Vec3(lead * p.chord, 0, head::spin_sign(d.rotor.direction) * out));
        };
        if (const auto box =
                around_points(pen, {at(p.fork_end, 0.35), at(p.fork_end, -0.65), at(end, 0.35), at(end, -0.65)}))
            boxes.push_back(*box);
    }
    const Paddles paddles = paddles_of(p);
    for (int i = 0; i < static_cast<int>(d.levers.size()); ++i) {
        const Placement* bar = is_bar(i, d) ? frames.find({Ride::lever, i}) : nullptr;
        if (bar == nullptr) continue;
        for (const double side : {-1.0, 1.0}) {
            const auto at = [&](double out, double x, double y) {
                return Vec3(*bar * Vec3(x * paddles.chord / 2, y * paddles.chord / 2, side * out));
            };
            const double root = paddles.end - paddles.span;
            if (const auto box = around_points(pen, {at(root, 1, 0), at(root, -1, 0), at(paddles.end, 1, 0),
                                                     at(paddles.end, -1, 0), at(root, 0, 0.2), at(root, 0, -0.2)}))
                boxes.push_back(*box);
        }
    }
    return boxes;
}

}  // namespace

std::string trade_name_of(const Part& part, const head::Description& description) {
    const auto named = [&](const auto& list) {
        const auto i = static_cast<std::size_t>(part.index);
        return part.index >= 0 && i < list.size() && !list[i].name.empty() ? list[i].name : name_of(part);
    };
    switch (part.role) {
        case Role::shaft:
            return description.kind == head::Kind::tail ? "tail shaft" : "main shaft";
        case Role::inner_ring:
            return description.swashplate.tilts ? name_of(part) : "pitch slider";
        case Role::lower_link:
        case Role::upper_link:
        case Role::other_link:
            return head::link_words(description, part);
        case Role::lever:
            return named(description.levers);
        case Role::slider:
            return named(description.sliders);
        case Role::frame: {
            const bool more = std::ranges::any_of(description.solids, [](const head::Solid& s) {
                const auto on = part_of(s.part);
                return on && on->role == Role::frame;
            });
            const bool posts = std::ranges::any_of(description.fixed_balls, [](const head::FixedBall& ball) {
                return ball.on.on == head::Carrier::On::frame;
            });
            return more || posts ? "frame" : "bearing block";
        }
        case Role::guide:
            return "anti-rotation guide";
        case Role::servo: {
            const auto i = static_cast<std::size_t>(part.index);
            if (i >= description.servos.size() || description.servos[i].name.empty()) return name_of(part);
            return head::servo_words(description.servos[i]);
        }
        case Role::grip:
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
        if (placement == nullptr || spot.part.role == Role::blade) continue;
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
        pen.leader({name.from.x, name.from.y}, {tip.x, tip.y}, line, pen.scale);
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
