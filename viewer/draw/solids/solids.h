// A head's description as solids: what is drawn, picked and outlined. GL-free. Each solid rides on one frame, in whose
// coordinates (mm) its mesh is written.
#pragma once

#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/base/part.h"
#include "viewer/draw/base/proportions.h"
#include "viewer/draw/solids/mesh.h"

namespace swashwright::draw {

/// What a solid rides on. Link ends have frames of their own because a turnbuckle's two ends are turned to face their
/// balls: origin at the ball, z towards the other ball, x the axis of the ball's stud as nearly as that allows.
enum class Ride {
    ground,
    horn,
    inner_ring,
    outer_ring,
    hub,
    grip,
    blade,
    lower_foot,
    lower_head,
    upper_foot,
    upper_head,
    lever,
    slider,
    link_foot,
    link_head
};

struct Frame {
    Ride ride = Ride::ground;
    int index = 0;

    auto operator<=>(const Frame&) const = default;
};

/// The draughtsman's washes.
enum class Tone { steel, bright, alloy, dark, plastic, carbon, thread, blade, band };

struct Solid {
    Part part;
    Frame frame;
    Tone tone = Tone::alloy;
    Mesh mesh;
};

/// Every solid of a head; `inside`: with what only a cut shows. Works for any description, also one that cannot be a
/// head.
std::vector<Solid> solids_of(const head::Description& description, bool whole_blades, bool inside = false);

/// Where every frame stands in a pose, head frame.
class Frames {
public:
    /// Blades stand at mean pitch + `exaggeration` x (pitch - mean).
    Frames(const head::Description& description, const head::Pose& pose, double exaggeration);
    /// Null where the pose lacks the part. Points into this object.
    const Placement* find(const Frame& frame) const&;
    const Placement* find(const Frame& frame) && = delete;

private:
    std::vector<std::vector<Placement>> of_ride_;  // by Ride, then index
};

/// A sphere that holds the head in any pose, for the camera. `whole_blades`: to the blade tips.
struct Extent {
    Vec3 centre;
    double radius_mm;
};
Extent extent_of(const head::Description& description, bool whole_blades);

}  // namespace swashwright::draw
