// The pen: which edges of the solids are drawn from where the eye stands, and the construction lines of the sheet.
// GL-free; head frame, mm.
#pragma once

#include <cstdint>
#include <vector>

#include "viewer/draw/base/style.h"
#include "viewer/draw/solids/section.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {

/// One straight stroke as the line shader takes it.
struct Stroke {
    float a[3], b[3];
    std::uint32_t colour;  // as ImGui packs it
    float width;           // pixels at 100 %; below zero: dashed
    float lift;            // pixels' worth of depth by which it stands off its surface
};

constexpr float crease_lift = 0.7F;  // a crease lies on its surface

/// A stroke from a to b.
Stroke stroke(const Vec3& a, const Vec3& b, std::uint32_t colour, float width, float lift = crease_lift);

/// A solid made ready for drawing.
struct Drawn {
    Part part;
    Frame frame;
    Tone tone = Tone::alloy;
    Surface surface;
    Box box;
};

/// Lines where solids of one frame pass through each other.
struct SeamLines {
    Part part;
    Frame frame;
    std::vector<Edge> edges;
};

std::vector<Drawn> drawn_from(const std::vector<Solid>& solids);
std::vector<SeamLines> seams_between(const std::vector<Solid>& solids);

/// Silhouettes and creases of `drawn` as seen from `eye`, appended.
void stroke_edges(const Drawn& drawn, const Placement& placement, const Vec3& eye, std::uint32_t outline,
                  std::uint32_t crease, float weight, std::vector<Stroke>& strokes);
/// Seams that the eye can see, appended.
void stroke_seams(const SeamLines& lines, const Placement& placement, const Vec3& eye, std::uint32_t colour,
                  std::vector<Stroke>& strokes);
/// A protractor under the head (from the nose, every 10 deg), centre lines of the shaft and the feathering axes, and,
/// where blades are drawn with exaggeration, the mean chord behind each.
void stroke_construction(const head::Description& description, const Proportions& p, const head::Pose& pose,
                         const Style& style, std::vector<Stroke>& strokes);

/// The outlines of what moves in another head, dashed, appended.
void stroke_ghost(const std::vector<Drawn>& drawn, const Frames& frames, const Vec3& eye, const Style& style,
                  std::vector<Stroke>& strokes);
/// Paths of balls and tips in their blade's hue and line pattern, appended.
void stroke_traces(const Traces& traces, const Proportions& p, const Style& style, std::vector<Stroke>& strokes);
/// Outlines of cut faces, appended.
void stroke_cut(const std::vector<CutLine>& lines, std::uint32_t colour, std::vector<Stroke>& strokes);
/// Takes away what lies beyond the plane, from the stroke with number `first` on.
void cut_strokes(const Plane& plane, std::size_t first, std::vector<Stroke>& strokes);

}  // namespace swashwright::draw
