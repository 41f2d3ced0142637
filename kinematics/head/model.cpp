#include "kinematics/head/model.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "kinematics/head/build.h"
#include "kinematics/head/head.h"
#include "kinematics/head/inventory.h"
#include "kinematics/head/references.h"
#include "kinematics/head/studs.h"

namespace swashwright::head {

PartId Model::add(Role role, std::size_t index, std::string path, std::string words, linkage::BodyId body, PartId on) {
    Part part{role, static_cast<int>(index), std::move(path), std::move(words), {}, body, on, {}};
    part.label = part.words.starts_with("the ") ? part.words.substr(4) : part.words;
    parts_.push_back(std::move(part));
    return {static_cast<int>(parts_.size()) - 1};
}

Model::Model(const Description& d, const Parts& bodies) : ring_tilts_(d.swashplate.tilts) {
    const auto ground = linkage::Description::ground;
    const PartId shaft = add(Role::shaft, 0, "rotor.shaft", "the shaft", ground, {});
    const PartId frame = add(Role::frame, 0, "frame", "the frame", ground, {});
    for (std::size_t j = 0; j < d.servos.size(); ++j) {
        add(Role::horn, j, fmt::format("servo[{}]", j + 1), "the horn of " + servo_words(d.servos[j]), bodies.horns[j],
            frame);
        parts_.back().label = "horn " + d.servos[j].name;
    }
    const bool tilts = d.swashplate.tilts;
    const PartId inner = add(Role::inner_ring, 0, "swashplate.inner_balls",
                             tilts ? "the inner ring" : "the pitch slider", bodies.inner_ring, shaft);
    const PartId outer = add(Role::outer_ring, 0, "swashplate.outer_balls", "the outer ring", bodies.outer_ring, inner);
    const PartId hub = add(Role::hub, 0, "rotor", "the hub", bodies.hub, shaft);
    join(outer, shaft);
    for (std::size_t k = 0; k < d.grips.size(); ++k) {
        const PartId grip =
            add(Role::grip, k, fmt::format("grip[{}]", k + 1), fmt::format("grip {}", k + 1), bodies.grips[k], hub);
        join(grip, shaft);
        outputs_.push_back(
            {Output::What::blade_pitch, static_cast<int>(k), fmt::format("blade {}", k + 1), parts_.back().path});
    }
    const auto first_lever = parts_.size();
    for (std::size_t i = 0; i < d.levers.size(); ++i)
        add(Role::lever, i, fmt::format("lever[{}]", i + 1), lever_words(d, i), bodies.levers[i], {});
    for (std::size_t i = 0; i < d.sliders.size(); ++i)
        add(Role::slider, i, fmt::format("slider[{}]", i + 1), slider_words(d, i), bodies.sliders[i], {});
    for (std::size_t i = 0; i < d.levers.size(); ++i) {
        parts_[first_lever + i].on = carrier(d.levers[i].on);
        if (!d.levers[i].reads.empty())
            outputs_.push_back(
                {Output::What::lever_angle, static_cast<int>(i), d.levers[i].reads, fmt::format("lever[{}]", i + 1)});
    }
    for (std::size_t i = 0; i < d.sliders.size(); ++i)
        parts_[first_lever + d.levers.size() + i].on = carrier(d.sliders[i].on);
    for (std::size_t k = 0; k < d.grips.size(); ++k)
        if (d.grips[k].lever)
            parts_[static_cast<std::size_t>(find(Role::grip, static_cast<int>(k))->index)].on =
                *find(Role::lever, *d.grips[k].lever);
    add_rods(d, bodies);
}

void Model::add_rods(const Description& d, const Parts& bodies) {
    for (const PartName& link : links_of(d)) {
        const auto i = static_cast<std::size_t>(link.index);
        const auto& closures = link.role == Role::lower_link   ? bodies.lower_links
                               : link.role == Role::upper_link ? bodies.upper_links
                                                               : bodies.links;
        const PartId part = add(link.role, i, path_of(link), link_words(d, link), {}, {});
        const auto names = *ends_of(d, link);
        LinkRod rod{part, closures[i], {end(d, bodies, names[0]), end(d, bodies, names[1])}, *link_of(d, link)};
        for (const BallEnd& at : rod.ends) join(part, at.part);
        parts_.back().rod = {static_cast<int>(rods_.size())};
        rods_.push_back(std::move(rod));
    }
    for (std::size_t i = 0; i < d.pins.size(); ++i) {
        pins_.push_back({pin_words(d, i), {end(d, bodies, d.pins[i].ends[0]), end(d, bodies, d.pins[i].ends[1])}});
        join(pins_.back().ends[0].part, pins_.back().ends[1].part);
    }
}

PartId Model::carrier(const Carrier& carrier) const {
    const PartName part = part_of(carrier);
    return find(part.role, part.index).value_or(PartId{});
}

BallEnd Model::end(const Description& d, const Parts& bodies, const BallName& ball) const {
    const auto i = static_cast<std::size_t>(ball.index), b = static_cast<std::size_t>(ball.ball);
    const linkage::AnchorId anchor = bodies.ball(ball);
    const auto at = [&](PartId part, const Vec3& stud, std::string words) {
        return BallEnd{part, this->part(part).body, anchor, stud, std::move(words)};
    };
    using enum BallName::Of;
    switch (ball.of) {
        case servo:
            return at(*find(Role::horn, ball.index), horn_stud(d, i), "horn");
        case inner_ball: {
            const PartId part = *find(Role::inner_ring);
            return at(part, inner_ring_stud(d, i), this->part(part).label);
        }
        case outer_ball:
            return at(*find(Role::outer_ring), outer_ring_stud(d, i), "outer ring");
        case grip:
            return at(*find(Role::grip, ball.index), arm_stud(d, i), "pitch arm");
        case lever: {
            const Lever& lever = d.levers[i];
            const PartId part = *find(Role::lever, ball.index);
            return at(part, lever.studs.empty() ? Vec3::UnitZ() : Vec3(lever.studs[b].normalized()),
                      this->part(part).label);
        }
        case slider: {
            const PartId part = *find(Role::slider, ball.index);
            return at(part, Vec3::UnitZ(), this->part(part).label);
        }
        case fixed_ball:
            break;
    }
    const PartId part = carrier(d.fixed_balls[i].on);
    // Common practice, no source: the stud stands along the shaft.
    const FixedBall& fixed = d.fixed_balls[i];
    return at(part, carrier_axes(d, fixed.on, fixed.blade).col(2), this->part(part).label);
}

std::optional<PartId> Model::find(Role role, int index) const {
    const auto found =
        std::ranges::find_if(parts_, [&](const Part& part) { return part.role == role && part.index == index; });
    if (found == parts_.end()) return std::nullopt;
    return PartId{static_cast<int>(found - parts_.begin())};
}

std::optional<PartId> Model::find(const std::string& path) const {
    const auto found = std::ranges::find(parts_, path, &Part::path);
    if (found == parts_.end()) return std::nullopt;
    return PartId{static_cast<int>(found - parts_.begin())};
}

bool Model::joined(PartId a, PartId b) const {
    const Part &p = part(a), &q = part(b);
    if (p.on == b || q.on == a) return true;
    if (p.body == q.body && p.body.index >= 0) return true;
    return std::ranges::find(joined_, std::array{std::min(a, b), std::max(a, b)}) != joined_.end();
}

Placement Model::placement(PartId id, const linkage::Workspace& ws) const {
    const Part& part = this->part(id);
    if (part.rod.index < 0) return ws.placement(part.body);
    const LinkRod& rod = this->rod(part.rod);
    Placement out;
    out.origin = ws.point(rod.ends[0].ball);
    const Vec3 along = (ws.point(rod.ends[1].ball) - out.origin).normalized();
    const Vec3 across = along.unitOrthogonal();
    out.turn << across, along.cross(across), along;
    return out;
}

}  // namespace swashwright::head
