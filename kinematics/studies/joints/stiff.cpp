#include "kinematics/studies/joints/stiff.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/solver.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/pitch/harmonics.h"
#include "kinematics/studies/pitch/turn_slopes.h"

namespace swashwright::studies {

namespace {

using head::LinkRod;
using head::Model;

/// Friction moment in each ball link of every rod.
std::vector<double> ball_moments(const Model& model, const FrictionOptions& options) {
    std::vector<double> out;
    for (const LinkRod& rod : model.rods()) {
        out.push_back(options.ball_nmm);
        for (const OddLink& odd : options.odd)
            if (odd.part == model.part(rod.part).path) out.back() = odd.nmm;
    }
    return out;
}

/// Turning rate in both ball links of a rod together, for the motion that stands in `ws`.
double turning(const LinkRod& rod, const linkage::Workspace& ws) {
    const auto& [low, high] = rod.ends;
    const Vec3 along = ws.point(high.ball) - ws.point(low.ball);
    const double length = along.norm();
    const Vec3 u = along / length;
    const Vec3 across = u.cross(ws.anchor_drift[high.ball.index] - ws.anchor_drift[low.ball.index]) / length;
    return least_turning(ws.spin[low.body.index] - across, ws.spin[high.body.index] - across, u);
}

/// For one horn moving alone, rates per degree of it.
HornFriction moments(const Model& model, const std::vector<double>& ball_nmm, const linkage::Workspace& ws,
                     const FrictionOptions& options, double azimuth_deg) {
    HornFriction out{0, azimuth_deg, {}};
    const auto add = [&](std::string part, std::string words, double nmm) {
        out.nmm += nmm;
        out.shares.push_back({std::move(part), std::move(words), nmm});
    };
    for (std::size_t i = 0; i < ball_nmm.size(); ++i) {
        const LinkRod& rod = model.rods()[i];
        const head::Part& link = model.part(rod.part);
        add(link.path, link.words + ", both ends", ball_nmm[i] * turning(rod, ws) / degree);
    }
    for (std::size_t i = 0; i < model.pins().size(); ++i) {
        const head::PinJoint& pin = model.pins()[i];
        const Vec3 turning = ws.spin[pin.ends[0].body.index] - ws.spin[pin.ends[1].body.index];
        add(fmt::format("pin[{}]", i + 1), pin.words, options.ball_nmm * turning.norm() / degree);
    }
    for (const head::Part& part : model.parts()) {
        if (part.role == head::Role::inner_ring && model.ring_tilts())
            add("swashplate", "the ring's ball", options.bearing_nmm * ws.spin[part.body.index].norm() / degree);
        if (part.role == head::Role::grip || part.role == head::Role::lever)
            add(part.path, "bearings of " + part.words,
                options.bearing_nmm * std::abs(linkage::rate(ws, part.body)) / degree);
    }
    std::ranges::stable_sort(out.shares, std::greater{}, &FrictionShare::nmm);
    return out;
}

}  // namespace

double least_turning(const Vec3& a, const Vec3& b, const Vec3& u) {
    // Each term is the length of (square part, part along u less s): a ray that goes straight from one square part to
    // the other, mirrored, is shortest.
    const double square_a = (a - a.dot(u) * u).norm(), square_b = (b - b.dot(u) * u).norm();
    return std::hypot(square_a + square_b, a.dot(u) - b.dot(u));
}

head::Result<Friction> friction(const head::Head& head, const FrictionOptions& options) {
    const std::size_t servos = head.description().servos.size();
    const auto blades = static_cast<std::size_t>(head.description().rotor.blades);
    const auto ball_nmm = ball_moments(head.model(), options);
    Friction out{options, std::vector<HornFriction>(servos), std::vector<double>(blades, 0.0)};
    head::Solver solver(head);
    head::Slopes slopes;
    for (const double azimuth : turn_azimuths(turn_samples)) {
        if (!solver.pose(options.sticks, azimuth) || !solver.linearise())
            return tl::unexpected(head::Failure{
                fmt::format("at rotor azimuth {:.0f} deg the linkage does not close or stands at a dead point",
                            azimuth),
                {}});
        std::vector<double> off(blades, 0.0);
        for (std::size_t j = 0; j < servos; ++j) {
            solver.slopes_by_horn(static_cast<int>(j), slopes);
            const HornFriction here = moments(head.model(), ball_nmm, solver.workspace(), options, azimuth);
            for (std::size_t k = 0; k < off.size(); ++k)
                off[k] += std::abs(slopes.pitch_deg[k]) * here.nmm / options.servo_nmm_per_deg;
            if (here.nmm > out.horns[j].nmm) out.horns[j] = here;
        }
        for (std::size_t k = 0; k < off.size(); ++k) out.off_deg[k] = std::max(out.off_deg[k], off[k]);
    }
    return out;
}

namespace {

Table horns_table(const Friction& friction, const head::Description& description) {
    Table horns{"horns",
                "Moment that moves one horn alone against friction, worst of the turn",
                {{"servo", "servo", ""},
                 {"moment_nmm", "moment", "N mm", 1},
                 {"azimuth_deg", "rotor at", "deg", 0},
                 {"most", "most of it in", ""},
                 {"share_nmm", "which takes", "N mm", 1}},
                {},
                {}};
    for (std::size_t i = 0; i < friction.horns.size(); ++i) {
        const HornFriction& horn = friction.horns[i];
        const bool any = !horn.shares.empty();
        horns.rows.push_back({description.servos[i].name, horn.nmm, horn.azimuth_deg,
                              any ? Cell(horn.shares.front().words) : Cell(),
                              any ? Cell(horn.shares.front().nmm) : Cell()});
        horns.parts.push_back(any ? horn.shares.front().part : fmt::format("servo[{}]", i + 1));
    }
    return horns;
}

Table shares_table(const HornFriction& horn, const head::Servo& servo) {
    Table shares{"shares",
                 "Where it goes, at the horn of " + servo_words(servo),
                 {{"joint", "joint", ""}, {"moment_nmm", "moment", "N mm", 2}},
                 {},
                 {}};
    for (const FrictionShare& share : horn.shares) {
        shares.rows.push_back({share.words, share.nmm});
        shares.parts.push_back(share.part);
    }
    return shares;
}

Table blades_table(const Friction& friction) {
    Table blades{"blades",
                 "How far each blade may stay off, to either side",
                 {{"blade", "blade", "", 0}, {"off_deg", "off by", "deg", 3}},
                 {},
                 {}};
    for (std::size_t k = 0; k < friction.off_deg.size(); ++k) {
        blades.rows.push_back({static_cast<double>(k + 1), friction.off_deg[k]});
        blades.parts.push_back(fmt::format("grip[{}]", k + 1));
    }
    return blades;
}

}  // namespace

Answer answer(const Friction& friction, const head::Description& description) {
    Answer out;
    out.study = "stiff";
    const auto worst = std::ranges::max_element(friction.horns, {}, &HornFriction::nmm);
    const auto j = static_cast<std::size_t>(worst - friction.horns.begin());
    out.text = fmt::format(
        "Friction takes up to {:.1f} N mm at the horn of {}, and a blade may stay off by {:.2f} deg to either "
        "side.",
        worst->nmm, servo_words(description.servos[j]), *std::ranges::max_element(friction.off_deg));
    out.tables = {horns_table(friction, description), shares_table(*worst, description.servos[j]),
                  blades_table(friction)};
    std::string levels;
    for (const FrictionLevel& level : friction_levels)
        levels += fmt::format("{}{:g} N mm {}", levels.empty() ? "" : ", ", level.nmm, level.words);
    out.notes = {
        fmt::format("Each ball link takes {:g} N mm, each bearing {:g} N mm, at {}; virtual work with exact slopes.",
                    friction.options.ball_nmm, friction.options.bearing_nmm,
                    stick_words(description.kind, friction.options.sticks)),
        fmt::format("Off by: each servo gives way 1 deg for each {:g} N mm (a guess), all the worst way.",
                    friction.options.servo_nmm_per_deg),
        "How a ball link feels: " + levels + " (the first computed for a link of 3 g, the others guesses).",
        fmt::format(
            "Sliding of {} on the shaft and of {}, and loads in flight, come on top and are not known here.",
            description.swashplate.tilts ? "the ring" : "the pitch slider",
            description.sliders.empty() ? "pins in their slots" : "pins in their slots, of sliders on their ways")};
    return out;
}

}  // namespace swashwright::studies
