// The few forms that a rotor head is drawn from. Every one is a closed mesh. Millimetres, radians.
#pragma once

#include <span>
#include <vector>

#include "viewer/draw/solids/mesh.h"

namespace swashwright::draw {

using Ring = std::vector<Vec3>;

/// A frame at `origin` whose z points along `z` (need not be a unit vector) and whose x is as near `x_hint` as it can.
Placement frame_at(const Vec3& origin, const Vec3& z, const Vec3& x_hint);
/// Any unit vector at right angles to `v`.
Vec3 square_to(const Vec3& v);

/// Skin over rings of equally many points. `loop`: the last ring joins the first (a tube bent on itself); else both
/// ends are closed by fans to the ring's middle, or to the given apex. Turned so that faces look outwards.
Mesh skin(const std::vector<Ring>& rings, bool loop, const Vec3* first_apex = nullptr, const Vec3* last_apex = nullptr);

struct Turned {
    double radius, z;
};
/// A turned part about z of `axis`. Profile from end to end, or closed on itself (a ring) if `loop`.
Mesh lathe(const Placement& axis, std::span<const Turned> profile, int sides, bool loop = false);
Mesh ball(const Vec3& centre, double radius, const Vec3& pole);
Mesh rod(const Vec3& from, const Vec3& to, double radius, int sides = 16);
/// A ring of rectangular section about the line from-to.
Mesh tube(const Vec3& from, const Vec3& to, double inner, double outer, int sides = 28);
/// A flat lever: the hull of two discs, `thickness` across, centred on the line between `from` and `to`.
Mesh lever(const Vec3& from, const Vec3& to, double from_radius, double to_radius, const Vec3& normal,
           double thickness);
/// A block with rounded corners in plan (x, y of `frame`), centred on the frame's origin.
Mesh block(const Placement& frame, const Vec3& half, double corner);
/// An upright plate with a slot: plan in x, y of `frame`, z across; the slot runs along y.
Mesh slotted_plate(const Placement& frame, double half_width, double half_height, double half_slot_width,
                   double half_slot_height, double thickness);

/// A lobe of a plate: points from the middle along `angle`, its rounded tip reaches `reach`; the plate's middle
/// surface climbs by `rise` on the way there.
struct Lobe {
    double angle, reach, half_width, rise;
};
/// A disc about z at height `z`, with a round hole and lobes joined by fillets.
Mesh lobed_plate(double hole, double base, double z, double thickness, std::span<const Lobe> lobes);

/// Half thickness of the symmetric 4-digit NACA section of `thickness` (share of chord) at x in [0, 1] from the leading
/// edge, with a closed trailing edge. Abbott & von Doenhoff, Theory of Wing Sections, section 6.4.
double naca_half_thickness(double x, double thickness);

}  // namespace swashwright::draw
