#include "kinematics/studies/envelope/clearance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "kinematics/studies/envelope/rigid_motion.h"
#include "kinematics/studies/envelope/sphere_groups.h"

namespace swashwright::studies {

namespace {

using head::Solid;

constexpr double close_mm = 0.5;

constexpr double infinite = std::numeric_limits<double>::infinity();
// How much faster than in its middle things may move elsewhere in a part of the envelope: whole parts, and what is
// smaller.
constexpr double speeds_vary = 1.25, speeds_vary_in_pieces = 1.4;

/// Where two capsules' middle lines come nearest (Ericson, Real-Time Collision Detection, 5.1.9).
struct Lines {
    Vec3 on_a, on_b, way;  // way: unit, from the first to the second
    double distance;
};

Lines nearest_on_lines(const Capsule& a, const Capsule& b) {
    const Vec3 u = a.b - a.a, v = b.b - b.a, w = a.a - b.a;
    const double uu = u.squaredNorm(), vv = v.squaredNorm(), uv = u.dot(v), uw = u.dot(w), vw = v.dot(w);
    constexpr double nothing = 1e-12;  // square mm: a sphere
    double s = 0, t = 0;
    if (uu > nothing && vv > nothing) {
        const double spread = uu * vv - uv * uv;
        if (spread > nothing * uu * vv) s = std::clamp((uv * vw - uw * vv) / spread, 0.0, 1.0);
        t = (uv * s + vw) / vv;
        if (t < 0 || t > 1) {
            t = std::clamp(t, 0.0, 1.0);
            s = std::clamp((uv * t - uw) / uu, 0.0, 1.0);
        }
    } else if (uu > nothing) {
        s = std::clamp(-uw / uu, 0.0, 1.0);
    } else if (vv > nothing) {
        t = std::clamp(vw / vv, 0.0, 1.0);
    }
    const Vec3 on_a = a.a + s * u, on_b = b.a + t * v, between = on_b - on_a;
    const double distance = between.norm();
    return {on_a, on_b, distance > 0 ? Vec3(between / distance) : Vec3(Vec3::UnitZ()), distance};
}

/// How one part moves as seen from another, by each way: of the point at the head frame's origin, and turning.
struct Apart {
    std::size_t ways = 0;
    std::array<Vec3, most_ways> drift, spin;

    /// The most that any point in the sphere moves, at these speeds, within `half` each way.
    double fall(const Sphere& in, const Ways& half) const {
        double out = 0;
        for (std::size_t w = 0; w < ways; ++w)
            if (half[w] > 0)
                out += half[w] * ((drift[w] + spin[w].cross(in.centre)).norm() + spin[w].norm() * in.radius);
        return out;
    }
};

/// A capsule and the sphere round it, at a pose.
struct Placed {
    Capsule is;
    Sphere round;
    std::size_t index;  // in its part
};

Sphere round(const Capsule& c) {
    return {0.5 * (c.a + c.b), 0.5 * (c.b - c.a).norm() + c.radius};
}

class Clearance : public ClearanceChecker {
public:
    explicit Clearance(const head::Head& head) : head_(head) {
        for (PartSolids& solids : part_solids(head)) {
            Part part;
            for (const Solid& solid : solids.others)
                if (auto surface = Surface::of(solid)) {
                    part.others.push_back(std::move(surface));
                    part.skin |= solid.shape == Solid::Shape::mesh;
                }
            for (const Capsule& c : solids.capsules) {
                part.as_surfaces.push_back(Surface::of(c));
                part.rounds.push_back(round(c));
                part.rounds_at_once.add(part.rounds.back());
            }
            part.sphere = around(part);
            part.inputs = inputs_of(solids.part);
            part.solids = std::move(solids);
            if (part.as_surfaces.empty() && part.others.empty()) continue;  // a mesh that was not read
            all_.push_back(std::move(part));
        }
        const double wanted = head.description().clearance_mm;
        head::Solver solver(head);
        look(solver);
        for (std::size_t a = 0; a < all_.size(); ++a)
            for (std::size_t b = a + 1; b < all_.size(); ++b) add_pair(a, b, wanted);
    }
    const std::vector<Check>& checks() const override { return checks_; }
    std::vector<std::string> left_out() const override { return left_out_; }
    bool look(head::Solver& solver) override {
        ws_ = &solver.workspace();
        ++pose_;
        return true;
    }
    double value(std::size_t i) override { return measure(pairs_[i], far_mm_of(checks_[i])).mm; }
    double value_below(std::size_t i, double enough) override {
        return measure(pairs_[i], std::min(far_mm_of(checks_[i]), enough + checks_[i].low)).mm;
    }
    Gap nearest(std::size_t i) override { return measure(pairs_[i], infinite); }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Clearance>(*this); }

    // Pieces: every capsule of one part with every capsule of the other, then what surfaces are to be met.
    int pieces(std::size_t i) const override {
        return static_cast<int>(capsule_pairs(pairs_[i]) + pairs_[i].meetings.size());
    }
    Piece piece(const Moment& at, std::size_t i, int piece) const override {
        const Pair& pair = pairs_[i];
        const auto [between, way] = piece_gap(pair, static_cast<std::size_t>(piece), at);
        Piece out;
        out.margin = between.mm - checks_[i].low;
        for (std::size_t w = 0; w < at.ways; ++w)
            out.slope[w] =
                way.dot(motion(pair.second, at, w).of(between.at[1]) - motion(pair.first, at, w).of(between.at[0]));
        return out;
    }
    bool smooth(std::size_t i, int piece) const override {
        const Pair& pair = pairs_[i];
        return static_cast<std::size_t>(piece) < capsule_pairs(pair) ||
               !(all_[pair.first].skin || all_[pair.second].skin);
    }
    double fall(const Moment& at, std::size_t i, const Ways& half) const override {
        return speeds_vary * moving_apart(pairs_[i], at).fall(smaller_of(pairs_[i], at), half);
    }
    void near_pieces(const Moment& at, std::size_t i, const Ways& half, double best,
                     std::vector<int>& out) const override {
        const Pair& pair = pairs_[i];
        const Part &a = all_[pair.first], &b = all_[pair.second];
        const Placement at_a = placement_of(head_.model(), a.solids.part, at);
        const Placement at_b = placement_of(head_.model(), b.solids.part, at);
        const Sphere round_a{at_a * a.sphere.centre, a.sphere.radius}, round_b{at_b * b.sphere.centre, b.sphere.radius};
        const Apart apart = moving_apart(pair, at);
        const double low = best + checks_[i].low;
        const double most = low + speeds_vary * apart.fall(round_a.radius < round_b.radius ? round_a : round_b, half);
        if (round_a.apart_from(round_b) > most) return;
        auto& [ones, others] = near_;
        a.capsules_near(at_a, round_b, most, ones);
        if (!ones.empty()) b.capsules_near(at_b, round_a, most, others);
        for (const Placed& one : ones)
            for (const Placed& other : others) {
                if (!one.round.may_be_nearer(other.round, most)) continue;
                const double near = low + fall_of(apart, one.round, other.round, half);
                if (one.round.may_be_nearer(other.round, near) && gap_between(one.is, other.is).mm <= near)
                    out.push_back(static_cast<int>(one.index * b.solids.capsules.size() + other.index));
            }
        for (std::size_t m = 0; m < pair.meetings.size(); ++m) {
            const auto& [p, q] = pair.meetings[m];
            const Sphere round_p{at_a * p->sphere().centre, p->sphere().radius};
            const Sphere round_q{at_b * q->sphere().centre, q->sphere().radius};
            if (round_p.apart_from(round_q) <= most) out.push_back(static_cast<int>(capsule_pairs(pair) + m));
        }
    }
    std::uint64_t inputs(std::size_t i) const override {
        return all_[pairs_[i].first].inputs | all_[pairs_[i].second].inputs;
    }

private:
    using Surfaces = std::vector<std::shared_ptr<const Surface>>;
    struct Part {
        PartSolids solids;
        Surfaces others, as_surfaces;  // what is no capsule; the capsules, to meet those
        std::vector<Sphere> rounds;    // round the capsules
        SphereGroups rounds_at_once;   // the same
        bool skin = false;             // some of it is a mesh, which may be hollow
        Sphere sphere;                 // around everything
        std::uint64_t inputs = 0;
        // Head frame, placed when they are asked for:
        Placement at;
        Vec3 centre = Vec3::Zero();
        long placed_at = 0;  // of which pose they are

        Placed capsule(std::size_t i, const Placement& where) const {
            const Capsule& c = solids.capsules[i];
            const Vec3 from = where * c.a, to = where * c.b;
            return {{from, to, c.radius}, {0.5 * (from + to), rounds[i].radius}, i};
        }
        /// Capsules whose spheres come nearer to another than `than`. Most do not: so they are asked where they are.
        void capsules_near(const Placement& where, const Sphere& other, double than, std::vector<Placed>& out) const {
            out.clear();
            const Sphere seen{where.turn.transpose() * (other.centre - where.origin), other.radius};
            rounds_at_once.near(seen, than, [&](std::size_t i) { out.push_back(capsule(i, where)); });
        }
        Sphere placed(const Sphere& s) const { return {at * s.centre, s.radius}; }
    };
    struct Pair {
        std::size_t first, second;
        std::vector<std::pair<const Surface*, const Surface*>> meetings;  // kept alive by their parts
    };

    static Sphere around(const Part& part) {
        std::vector<Sphere> spheres;
        for (const Surfaces* list : {&part.others, &part.as_surfaces})
            for (const auto& surface : *list) spheres.push_back(surface->sphere());
        Sphere out;
        for (const Sphere& s : spheres) out.centre += s.centre / static_cast<double>(spheres.size());
        for (const Sphere& s : spheres) out.radius = std::max(out.radius, (s.centre - out.centre).norm() + s.radius);
        return out;
    }

    std::uint64_t inputs_of(head::PartId id) const {
        const head::Part& part = head_.model().part(id);
        const auto of = [&](linkage::BodyId body) { return head_.plan().body(body.index).inputs; };
        if (part.rod.index < 0) return of(part.body);
        const auto& ends = head_.model().rod(part.rod).ends;
        return of(ends[0].body) | of(ends[1].body);
    }

    /// At the pose last looked at.
    Part& standing(std::size_t index) {
        Part& part = all_[index];
        if (part.placed_at == pose_) return part;
        part.at = head_.model().placement(part.solids.part, *ws_);
        part.centre = part.at * part.sphere.centre;
        part.placed_at = pose_;
        return part;
    }

    void add_pair(std::size_t a, std::size_t b, double wanted) {
        const PartSolids &x = all_[a].solids, &y = all_[b].solids;
        const head::Model& model = head_.model();
        if (model.joined(x.part, y.part)) return;
        Pair pair{a, b, {}};
        for (const auto& p : all_[a].others) {
            for (const auto& q : all_[b].others) pair.meetings.emplace_back(p.get(), q.get());
            for (const auto& q : all_[b].as_surfaces) pair.meetings.emplace_back(p.get(), q.get());
        }
        for (const auto& p : all_[a].as_surfaces)
            for (const auto& q : all_[b].others) pair.meetings.emplace_back(p.get(), q.get());
        // The sizes of links are the user's.
        const bool links = is_link(model.part(x.part).role) && is_link(model.part(y.part).role);
        if (x.invented && y.invented && !links && measure(pair, wanted).mm < 0) {
            left_out_.push_back(
                fmt::format("{} and {} are not checked: the shapes made up for them are too coarse, they "
                            "overlap at neutral.",
                            x.words, y.words));
            return;
        }
        pairs_.push_back(std::move(pair));
        checks_.push_back({.kind = CheckKind::clearance,
                           .key = fmt::format("clearance.{}.{}", x.path, y.path),
                           .words = fmt::format("gap between {} and {}", x.words, y.words),
                           .label = fmt::format("gap, {} to {}", x.label, y.label),
                           .unit = "mm",
                           .parts = {x.path, y.path},
                           .low = wanted,
                           .close = close_mm});
    }

    std::size_t capsule_pairs(const Pair& pair) const {
        return all_[pair.first].solids.capsules.size() * all_[pair.second].solids.capsules.size();
    }
    RigidMotion motion(std::size_t part, const Moment& at, std::size_t way) const {
        return motion_of(head_.model(), all_[part].solids.part, at, way);
    }
    Apart moving_apart(const Pair& pair, const Moment& at) const {
        Apart out;
        out.ways = at.ways;
        const auto take = [&](std::size_t w, const RigidMotion& a, const RigidMotion& b) {
            out.spin[w] = b.spin - a.spin;
            out.drift[w] = b.drift - a.drift;
        };
        if (!at.parts_by) {
            for (std::size_t w = 0; w < at.ways; ++w) take(w, motion(pair.first, at, w), motion(pair.second, at, w));
        } else {
            const RigidMotion *a = at.part_by(all_[pair.first].solids.part),
                              *b = at.part_by(all_[pair.second].solids.part);
            for (std::size_t w = 0; w < at.ways; ++w) take(w, a[w], b[w]);
        }
        return out;
    }
    /// The smaller of both parts.
    Sphere smaller_of(const Pair& pair, const Moment& at) const {
        const Part &a = all_[pair.first], &b = all_[pair.second];
        const Part& small = a.sphere.radius < b.sphere.radius ? a : b;
        return {placement_of(head_.model(), small.solids.part, at) * small.sphere.centre, small.sphere.radius};
    }
    /// Of two capsules: what either's points move as seen from the other, whichever is less, is the most by which the
    /// gap can fall.
    static double fall_of(const Apart& apart, const Sphere& a, const Sphere& b, const Ways& half) {
        return speeds_vary_in_pieces * apart.fall(a.radius < b.radius ? a : b, half);
    }
    /// Gap of one piece, and the direction from the first part's nearest point to the second's.
    std::pair<Gap, Vec3> piece_gap(const Pair& pair, std::size_t piece, const Moment& at) const {
        const Part &a = all_[pair.first], &b = all_[pair.second];
        const Placement at_a = placement_of(head_.model(), a.solids.part, at);
        const Placement at_b = placement_of(head_.model(), b.solids.part, at);
        if (piece < capsule_pairs(pair)) {
            const std::size_t count = b.solids.capsules.size();
            const Capsule x = a.capsule(piece / count, at_a).is, y = b.capsule(piece % count, at_b).is;
            const Lines lines = nearest_on_lines(x, y);
            return {{lines.distance - x.radius - y.radius, {lines.on_a, lines.on_b}}, lines.way};
        }
        const auto& [p, q] = pair.meetings[piece - capsule_pairs(pair)];
        const Gap gap = gap_between(*p, at_a, *q, at_b, infinite);
        const Vec3 span = gap.at[1] - gap.at[0];
        return {gap, std::abs(gap.mm) > 1e-9 ? Vec3(span / gap.mm) : Vec3(Vec3::Zero())};
    }

    /// Not above the true gap, and that itself where it is below `enough`.
    Gap measure(const Pair& pair, double enough) {
        const Part &a = standing(pair.first), &b = standing(pair.second);
        const double apart = (a.centre - b.centre).norm() - a.sphere.radius - b.sphere.radius;
        if (apart > enough) return {apart, {}};
        Gap best{enough, {}};
        const auto keep = [&](const Gap& gap) {
            if (gap.mm < best.mm) best = gap;
        };
        a.capsules_near(a.at, {b.centre, b.sphere.radius}, enough, near_[0]);
        if (!near_[0].empty()) b.capsules_near(b.at, {a.centre, a.sphere.radius}, enough, near_[1]);
        for (const Placed& x : near_[0])
            for (const Placed& y : near_[1])
                if (x.round.may_be_nearer(y.round, best.mm)) keep(studies::gap_between(x.is, y.is));
        for (const auto& [p, q] : pair.meetings)
            if (a.placed(p->sphere()).may_be_nearer(b.placed(q->sphere()), best.mm))
                keep(studies::gap_between(*p, a.at, *q, b.at, best.mm));
        return best;
    }

    head::Head head_;
    std::vector<Part> all_;
    std::vector<Pair> pairs_;
    std::vector<Check> checks_;
    std::vector<std::string> left_out_;
    const linkage::Workspace* ws_ = nullptr;  // of the pose last looked at
    long pose_ = 0;
    mutable std::array<std::vector<Placed>, 2> near_;  // scratch: a checker belongs to one thread
};

}  // namespace

Gap gap_between(const Capsule& a, const Capsule& b) {
    const Lines lines = nearest_on_lines(a, b);
    return {lines.distance - a.radius - b.radius,
            {lines.on_a + a.radius * lines.way, lines.on_b - b.radius * lines.way}};
}

std::unique_ptr<ClearanceChecker> clearance_checker(const head::Head& head) {
    return std::make_unique<Clearance>(head);
}

}  // namespace swashwright::studies
