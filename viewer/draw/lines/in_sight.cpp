#include "viewer/draw/lines/in_sight.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "viewer/draw/lines/pick.h"

namespace swashwright::draw {
namespace {

struct Candidate {
    Frame frame;
    Vec3 at;  // in the frame
    glm::dvec2 pixel;
};

/// What a ray through a pixel of the picture meets.
struct Sights {
    const std::vector<Drawn>& drawn;
    const Frames& frames;
    const Camera& camera;
    const Viewport& viewport;
    const std::optional<Plane>& cut;

    std::optional<Hit> at(double x, double y) const {
        return hit_at(drawn, frames, camera, viewport, x - viewport.x, y - viewport.y, cut);
    }
    bool shows(const Part& part, double x, double y) const {
        const auto hit = at(x, y);
        return hit && hit->part == part;
    }
    /// The pixel of a point, if it is in the picture and not at its very edge.
    std::optional<glm::dvec2> pixel(const Frame& frame, const Vec3& at) const {
        const Placement* placement = frames.find(frame);
        if (placement == nullptr) return std::nullopt;
        const glm::dvec3 p = camera.project(*placement * at, viewport);
        const double edge = 6, x = p.x - viewport.x, y = p.y - viewport.y;
        if (!(p.z >= 0 && p.z <= 1) || !(x > edge && y > edge)) return std::nullopt;
        if (x > viewport.width - edge || y > viewport.height - edge) return std::nullopt;
        return glm::dvec2(p.x, p.y);
    }
    /// Seen there and a little around it, so that the end of a leader lies well on the part.
    bool well_on(const Part& part, const glm::dvec2& p) const {
        constexpr double around = 3;
        return shows(part, p.x - around, p.y) && shows(part, p.x + around, p.y) && shows(part, p.x, p.y - around) &&
               shows(part, p.x, p.y + around);
    }
};

/// The middle of a solid and some places on it.
void add_candidates(const Drawn& d, const Sights& sights, std::vector<Candidate>& candidates) {
    const auto add = [&](const Vec3& at) {
        if (const auto pixel = sights.pixel(d.frame, at)) candidates.push_back({d.frame, at, *pixel});
    };
    add((d.box.low + d.box.high) / 2);
    const std::size_t faces = d.surface.triangles.size() / 3;
    constexpr std::size_t places = 6;
    for (std::size_t k = 0; k < places && faces > 0; ++k) {
        const std::size_t first = 3 * (k * faces / places);
        Vec3 middle = Vec3::Zero();
        for (std::size_t i = first; i < first + 3; ++i) middle += d.surface.vertices[d.surface.triangles[i]].point / 3;
        add(middle);
    }
}

/// The candidate nearest the middle of all that is well seen; else the nearest that is seen at all.
std::optional<Spot> best_of(const Part& part, std::vector<Candidate> candidates, const Sights& sights) {
    if (candidates.empty()) return std::nullopt;
    glm::dvec2 middle(0, 0);
    for (const Candidate& c : candidates) middle += c.pixel / static_cast<double>(candidates.size());
    std::ranges::stable_sort(candidates, {}, [&](const Candidate& c) { return glm::distance(c.pixel, middle); });
    constexpr std::size_t tries = 12;
    if (candidates.size() > tries) {  // from near the middle to the far ends
        for (std::size_t k = 0; k < tries; ++k) candidates[k] = candidates[k * candidates.size() / tries];
        candidates.resize(tries);
    }
    std::optional<Spot> seen;
    for (const Candidate& c : candidates) {
        const auto hit = sights.at(c.pixel.x, c.pixel.y);
        if (!hit || hit->part != part) continue;
        if (sights.well_on(part, c.pixel)) return Spot{part, hit->frame, hit->at};
        if (!seen) seen = Spot{part, hit->frame, hit->at};
    }
    return seen;
}

}  // namespace

Vec3 azimuth_word_at(double azimuth_deg, const Proportions& p) {
    const double radius = 1.1 * std::max(p.fork_end + 0.35 * p.chord, 2.9 * p.ring) * (azimuth_deg == 0 ? 1.13 : 1);
    return {radius * std::cos(azimuth_deg * degree), radius * std::sin(azimuth_deg * degree), p.ground};
}

std::vector<Spot> spots_of(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                           const Viewport& viewport, const std::optional<Plane>& cut, const std::vector<Spot>& last) {
    const Sights sights{drawn, frames, camera, viewport, cut};
    std::map<Part, std::vector<Candidate>> candidates;
    for (const Drawn& d : drawn) add_candidates(d, sights, candidates[d.part]);
    std::vector<Spot> spots;
    for (auto& [part, places] : candidates) {
        const auto before = std::ranges::find(last, part, &Spot::part);
        const auto pixel = before == last.end() ? std::nullopt : sights.pixel(before->frame, before->at);
        if (pixel && sights.shows(part, pixel->x, pixel->y))
            spots.push_back(*before);
        else if (const auto spot = best_of(part, std::move(places), sights))
            spots.push_back(*spot);
    }
    return spots;
}

std::vector<SolidBox> boxes_to_keep_free(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                                         const Style& style, const Viewport& viewport) {
    std::vector<SolidBox> out;
    for (const Drawn& d : drawn) {
        const bool lit = style.touched == d.part || std::ranges::count(style.lit, d.part) > 0;
        const Placement* placement = lit || d.part.role == Role::servo ? frames.find(d.frame) : nullptr;
        if (placement == nullptr) continue;
        SolidBox box{d.part, {1e9F, 1e9F}, {-1e9F, -1e9F}};
        bool seen = true;
        for (int corner = 0; corner < 8; ++corner) {
            const Vec3 at((corner & 1 ? d.box.high : d.box.low).x(), (corner & 2 ? d.box.high : d.box.low).y(),
                          (corner & 4 ? d.box.high : d.box.low).z());
            const glm::dvec3 p = camera.project(*placement * at, viewport);
            seen = seen && p.z >= 0 && p.z <= 1;
            box.low = glm::min(box.low, glm::vec2(p.x, p.y));
            box.high = glm::max(box.high, glm::vec2(p.x, p.y));
        }
        if (seen) out.push_back(box);
    }
    return out;
}

std::array<std::optional<Vec3>, azimuth_words_deg.size()> azimuth_words_at(
    const std::vector<Drawn>& drawn, const Frames& frames, const Proportions& p, const Camera& camera,
    const Viewport& viewport, double half_width, double half_height, const std::optional<Plane>& cut) {
    struct Shift {
        double out, aside_deg;
    };
    constexpr std::array<Shift, 15> shifts{{{1, 0},
                                            {1.12, 0},
                                            {1, 12},
                                            {1, -12},
                                            {1.12, 12},
                                            {1.12, -12},
                                            {1.25, 0},
                                            {1, 20},
                                            {1, -20},
                                            {1.12, 20},
                                            {1.12, -20},
                                            {1.25, 20},
                                            {1.25, -20},
                                            {1.25, 25},
                                            {1.25, -25}}};
    const Sights sights{drawn, frames, camera, viewport, cut};
    const auto free = [&](const Vec3& place) {
        const glm::dvec3 at = camera.project(place, viewport);
        if (!(at.z >= 0 && at.z <= 1)) return false;
        if (at.x - half_width < viewport.x || at.x + half_width > viewport.x + viewport.width) return false;
        if (at.y - half_height < viewport.y || at.y + half_height > viewport.y + viewport.height) return false;
        for (double x : {-half_width, 0.0, half_width})
            for (double y : {-half_height, half_height})
                if (sights.at(at.x + x, at.y + y)) return false;
        return true;
    };
    std::array<std::optional<Vec3>, azimuth_words_deg.size()> out;
    for (std::size_t k = 0; k < out.size(); ++k)
        for (const Shift& shift : shifts) {
            const Vec3 at = azimuth_word_at(azimuth_words_deg[k], p);
            const Vec3 place = Eigen::AngleAxisd(shift.aside_deg * degree, Vec3::UnitZ()) *
                               Vec3(shift.out * at.x(), shift.out * at.y(), at.z());
            if (!free(place)) continue;
            out[k] = place;
            break;
        }
    return out;
}

}  // namespace swashwright::draw
