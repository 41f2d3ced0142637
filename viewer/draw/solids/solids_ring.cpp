// Swashplate and driver.
#include <algorithm>
#include <array>

#include "viewer/draw/solids/solid_maker.h"

namespace swashwright::draw {
namespace {

Lobe lobe_to(const head::Polar& place, double sense, double stop_short, double half_width, double plate_height) {
    return {sense * place.angle_deg * degree, place.radius_mm - stop_short, half_width, place.height_mm - plate_height};
}

/// The stud's root: just inside the tip of the lobe, at the ball's height.
Vec3 root_of(const head::Polar& place, double sense, double inside) {
    return around(std::max(0.0, place.radius_mm - inside), sense * place.angle_deg * degree, place.height_mm);
}

/// A pin in the guide's slot; an arm of its own for it joins the lobes.
void add_guide_pin(SolidMaker& m, std::vector<Lobe>& lobes) {
    const Proportions& p = m.p;
    const auto& plate = m.head.swashplate;
    const Part guide{Role::guide, 0};
    const Frame frame{Ride::inner_ring, 0};
    const double pin = 0.7 * p.ball;
    const head::Polar& at = plate.guide_pin;
    const Vec3 end = around(at.radius_mm + 0.09 * p.ring, at.angle_deg * degree, at.height_mm);
    // A pin in line with a ball goes on from that ball's stud; else it has an arm of its own.
    const auto in_line = std::ranges::find_if(plate.inner_balls, [&](const head::Polar& ball) {
        const double aside = ball.radius_mm * std::sin((ball.angle_deg - at.angle_deg) * degree);
        const double ahead = ball.radius_mm * std::cos((ball.angle_deg - at.angle_deg) * degree);
        return std::abs(aside) < 3.2 * p.ball && ahead > 0 && ahead < at.radius_mm;
    });
    if (in_line != plate.inner_balls.end()) {
        m.add(guide, frame, Tone::bright, rod(root_of(*in_line, 1, 0), end, pin, 14));
    } else {
        lobes.push_back(lobe_to(at, 1, 0.16 * p.ring, 2.1 * pin, p.inner_height));
        m.add(guide, frame, Tone::bright, rod(root_of(at, 1, 0.25 * p.ring), end, pin, 14));
    }
}

void add_inner_ring(SolidMaker& m) {
    const Proportions& p = m.p;
    const auto& plate = m.head.swashplate;
    const Part part{Role::inner_ring, 0};
    const Frame frame{Ride::inner_ring, 0};

    std::vector<Lobe> lobes;
    for (const auto& ball : plate.inner_balls) {
        lobes.push_back(lobe_to(ball, 1, 1.95 * p.ball, 1.5 * p.ball, p.inner_height));
        m.add_ball(part, frame, around(ball.radius_mm, ball.angle_deg * degree, ball.height_mm),
                   root_of(ball, 1, 2.3 * p.ball));
    }
    if (plate.guided && plate.tilts) add_guide_pin(m, lobes);

    m.add(part, frame, Tone::alloy, lobed_plate(0.97 * p.sleeve, p.inner_base, p.inner_height, p.plate, lobes));
    // A sleeve through both plates, whichever lies above.
    const double low = std::min(p.inner_height, p.outer_height) - 0.55 * p.plate;
    const double high = std::max(p.inner_height, p.outer_height) + 0.8 * p.plate;
    if (plate.tilts) {
        m.add(part, frame, Tone::steel, tube(Vec3(0, 0, low), Vec3(0, 0, high), p.sleeve_hole, p.sleeve));
    } else {  // a long one, close to the shaft
        const Vec3 foot(0, 0, low - 1.2 * p.shaft);
        m.add(part, frame, Tone::steel, tube(foot, Vec3(0, 0, high), 1.06 * p.shaft, 1.55 * p.shaft));
        m.add(part, frame, Tone::bright, tube(Vec3(0, 0, low), Vec3(0, 0, high), 1.5 * p.shaft, p.sleeve));
    }
    // The ball on which the ring tilts; round, so it may ride on the ring.
    if (plate.tilts) m.add(part, frame, Tone::bright, ball(Vec3::Zero(), 1.33 * p.shaft, Vec3::UnitZ()));
}

void add_outer_ring(SolidMaker& m) {
    const Proportions& p = m.p;
    const auto& plate = m.head.swashplate;
    const Part part{Role::outer_ring, 0}, driver{Role::driver, 0};
    const Frame frame{Ride::outer_ring, 0};

    std::vector<Lobe> lobes;
    for (const auto& ball : plate.outer_balls) {
        lobes.push_back(lobe_to(ball, m.sense, 1.95 * p.ball, 1.5 * p.ball, p.outer_height));
        m.add_ball(part, frame, around(ball.radius_mm, m.sense * ball.angle_deg * degree, ball.height_mm),
                   root_of(ball, m.sense, 2.3 * p.ball));
    }
    for (const auto& pin : plate.driver_pins) {
        lobes.push_back(lobe_to(pin, m.sense, 1.7 * p.ball, 1.35 * p.ball, p.outer_height));
        const Vec3 centre = around(pin.radius_mm, m.sense * pin.angle_deg * degree, pin.height_mm);
        m.add(driver, frame, Tone::bright, ball(centre, 0.75 * p.ball, centre));
        m.add(driver, frame, Tone::steel, rod(root_of(pin, m.sense, 2.1 * p.ball), centre, 0.42 * p.ball, 10));
    }
    m.add(part, frame, Tone::alloy, lobed_plate(p.bearing, p.outer_base, p.outer_height, p.plate, lobes));
    // The bearing between sleeve and ring, a little sunk below the plate's faces.
    m.add_bearing(part, frame, p.outer_height, 0.985 * p.sleeve, 1.015 * p.bearing, 0.4 * p.plate);
}

void add_driver(SolidMaker& m) {
    const Proportions& p = m.p;
    const auto& plate = m.head.swashplate;
    const Part part{Role::driver, 0};
    const Frame frame{Ride::hub, 0};
    const double ring = plate.neutral_height_mm + p.outer_height;
    const double up = m.head.rotor.hub_height_mm >= ring ? 1 : -1;  // the hub may be below the ring
    const double from = ring + up * (p.plate / 2 + p.swing), to = m.head.rotor.hub_height_mm - up * p.hub_half_height;
    const double room = std::max(0.0, up * (to - from));
    const double height = room > 0 ? from + up * 0.16 * room : 0.5 * (ring + m.head.rotor.hub_height_mm);
    const double half = std::min(0.6 * p.shaft, 0.35 * std::max(room, 0.4 * p.shaft));
    m.add(part, frame, Tone::alloy,
          tube(Vec3(0, 0, height - half), Vec3(0, 0, height + half), 0.9 * p.shaft, 1.75 * p.shaft));
    const double tine = 0.42 * p.ball, gap = 0.8 * p.ball + tine, thick = 0.9 * p.ball;
    for (const auto& pin : plate.driver_pins) {
        const double angle = m.sense * (pin.angle_deg + plate.driver_turn_deg) * degree;
        const Vec3 outwards = around(1, angle, 0), aside = around(1, angle + pi / 2, 0);
        const Vec3 root(0, 0, height), end = root + outwards * pin.radius_mm;
        const Vec3 start = outwards * 1.5 * p.shaft + root;
        m.add(part, frame, Tone::alloy, lever(start, end, 0.85 * p.shaft, gap + tine, Vec3::UnitZ(), 0.9 * half));
        // Two tines, one each side of the pin, long enough for the ring's travel.
        const double low = plate.neutral_height_mm + pin.height_mm - up * (p.swing + 0.12 * pin.radius_mm);
        for (double hand : {-1.0, 1.0}) {
            const Vec3 foot = end + aside * hand * gap, top = foot - Vec3(0, 0, up * 1.3 * tine);
            m.add(part, frame, Tone::alloy, lever(top, Vec3(foot.x(), foot.y(), low), tine, tine, outwards, thick));
        }
    }
}

}  // namespace

void add_rings(SolidMaker& m) {
    add_inner_ring(m);
    add_outer_ring(m);
    if (!m.head.swashplate.driver_pins.empty()) add_driver(m);
}

}  // namespace swashwright::draw
