// Turnbuckle links: a socket around each ball, threaded rod, a hexagonal body in the middle.
#include <algorithm>
#include <array>

#include "viewer/draw/solids/ball_ends.h"
#include "viewer/draw/solids/solid_maker.h"

namespace swashwright::draw {
namespace {

/// A link end in its own frame: ball at the origin, link along z, ball stud along x.
void add_end(SolidMaker& m, Part part, Frame frame, double shank) {
    const double r = m.p.ball;
    m.add_socket(part, frame, frame_at(Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ()));
    const std::array<Turned, 4> neck{
        {{0.7 * r, 1.3 * r}, {0.92 * r, 2.0 * r}, {0.8 * r, shank - 0.15 * r}, {0.7 * r, shank}}};
    m.add(part, frame, Tone::dark, lathe(Placement{}, neck, 14));
}

void add_link(SolidMaker& m, Part part, Frame foot, Frame head, double length, Tone body_tone) {
    if (!(length > 0)) return;
    const double r = m.p.ball;
    const double shank = std::max(std::min(4.4 * r, 0.36 * length), 2.3 * r);
    add_end(m, part, foot, shank);
    add_end(m, part, head, shank);
    const double bare = length - 2 * shank;
    if (bare <= 0) return;
    m.add(part, foot, Tone::thread,
          rod(Vec3(0, 0, shank - 0.1 * r), Vec3(0, 0, length - shank + 0.1 * r), 0.44 * r, 10));
    const double half = std::min(0.3 * bare, 4.5 * r), edge = std::min(0.25 * half, 0.45 * r);
    const std::array<Turned, 4> body{
        {{0.62 * r, -half}, {0.92 * r, -half + edge}, {0.92 * r, half - edge}, {0.62 * r, half}}};
    m.add(part, foot, body_tone, lathe(frame_at(Vec3(0, 0, length / 2), Vec3::UnitZ(), Vec3::UnitX()), body, 6));
}

}  // namespace

void add_links(SolidMaker& m) {
    for (const Part& link : links_of(m.head)) {
        const auto [foot, head] = ends_ride_on(link.role);
        add_link(m, link, {foot, link.index}, {head, link.index}, link_of(m.head, link)->actual_mm(),
                 link.role == Role::upper_link ? Tone::band : Tone::alloy);
    }
}

}  // namespace swashwright::draw
