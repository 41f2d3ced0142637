#include "viewer/draw/lines/contents.h"

#include <algorithm>

#include "viewer/draw/lines/strokes.h"
#include "viewer/draw/solids/ball_ends.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {
namespace {

void add_head(const head::Description& description, const head::Pose& pose, const Style& style, bool turning,
              Contents& out) {
    const Frames frames(description, pose, style.exaggeration);
    for (const Solid& solid : solids_of(description, style.whole_blades)) {
        const Placement* placement = frames.find(solid.frame);
        if (placement == nullptr || std::ranges::binary_search(style.hidden, solid.part)) continue;
        std::vector<Vec3>& points = turning && goes_round(solid.frame, description) ? out.swept : out.points;
        for (const Vec3& p : solid.mesh.points) points.push_back(*placement * p);
    }
}

}  // namespace

Contents contents_of(const head::Description& description, const head::Pose& pose, const Style& style, bool turning) {
    Contents out;
    add_head(description, pose, style, turning, out);
    const Proportions p = proportions_of(description);
    std::vector<Stroke> strokes;
    if (style.hidden.empty()) stroke_construction(description, p, pose, style, strokes);
    for (const Stroke& stroke : strokes)
        for (const float* end : {stroke.a, stroke.b}) {
            const Vec3 at(end[0], end[1], end[2]);
            const bool of_blade = at.z() > p.ground + p.ball;  // else of the protractor, which stands still
            (turning && of_blade ? out.swept : out.points).push_back(at);
        }
    if (style.ghost) add_head(*style.ghost->description, style.ghost->pose, style, turning, out);
    if (style.traces)
        for (const auto* traces : {&style.traces->balls, &style.traces->tips})
            for (const Trace& trace : *traces)
                out.points.insert(out.points.end(), trace.points.begin(), trace.points.end());
    return out;
}

std::vector<Vec3> points_of(const Part& part, const head::Description& description, const head::Pose& pose,
                            const Style& style) {
    const Frames frames(description, pose, style.exaggeration);
    std::vector<Vec3> out;
    for (const Solid& solid : solids_of(description, style.whole_blades)) {
        const Placement* placement = solid.part == part ? frames.find(solid.frame) : nullptr;
        if (placement == nullptr) continue;
        for (const Vec3& p : solid.mesh.points) out.push_back(*placement * p);
    }
    return out;
}

}  // namespace swashwright::draw
