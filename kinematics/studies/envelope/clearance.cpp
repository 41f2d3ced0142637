#include "kinematics/studies/envelope/clearance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "kinematics/studies/envelope/rigid_motion.h"

namespace swashwright::studies {

namespace {

using head::Solid;

constexpr double close_mm = 0.5;

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double speeds_vary =
    1.25;  // how much faster than in its middle things may move elsewhere in a part of the envelope

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

/// A capsule and the sphere round it, at a pose.
struct Placed {
    Capsule is;
    Sphere round;
};

Placed placed(const Capsule& c, const Placement& at) {
    Placed out{{at * c.a, at * c.b, c.radius}, {}};
    out.round = {0.5 * (out.is.a + out.is.b), 0.5 * (out.is.b - out.is.a).norm() + c.radius};
    return out;
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
            for (const Capsule& c : solids.capsules) part.as_surfaces.push_back(Surface::of(c));
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
    double value(std::size_t i) override { return measure(pairs_[i], far_mm).mm; }
    double value_below(std::size_t i, double enough) override {
        return measure(pairs_[i], std::min(far_mm, enough + checks_[i].low)).mm;
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
        const Pair& pair = pairs_[i];
        const Part &a = all_[pair.first], &b = all_[pair.second];
        const Part& small = a.sphere.radius < b.sphere.radius ? a : b;
        const Vec3 middle = placement_of(head_.model(), small.solids.part, at) * small.sphere.centre;
        double out = 0;
        for (std::size_t w = 0; w < at.ways; ++w) {
            if (half[w] == 0) continue;
            const RigidMotion ma = motion(pair.first, at, w), mb = motion(pair.second, at, w);
            out +=
                half[w] * ((mb.of(middle) - ma.of(middle)).norm() + (mb.spin - ma.spin).norm() * small.sphere.radius);
        }
        return speeds_vary * out;
    }
    void near_pieces(const Moment& at, std::size_t i, const Ways& half, double best,
                     std::vector<int>& out) const override {
        const Pair& pair = pairs_[i];
        const Part &a = all_[pair.first], &b = all_[pair.second];
        const Placement at_a = placement_of(head_.model(), a.solids.part, at);
        const Placement at_b = placement_of(head_.model(), b.solids.part, at);
        const Sphere round_a{at_a * a.sphere.centre, a.sphere.radius}, round_b{at_b * b.sphere.centre, b.sphere.radius};
        const double most = best + checks_[i].low + fall(at, i, half);
        if (round_a.apart_from(round_b) > most) return;
        std::vector<Placed> others;
        for (const Capsule& c : b.solids.capsules) others.push_back(placed(c, at_b));
        for (std::size_t x = 0; x < a.solids.capsules.size(); ++x) {
            const Placed one = placed(a.solids.capsules[x], at_a);
            if (one.round.apart_from(round_b) > most) continue;
            for (std::size_t y = 0; y < others.size(); ++y)
                if (one.round.apart_from(others[y].round) <= most && gap_between(one.is, others[y].is).mm <= most)
                    out.push_back(static_cast<int>(x * others.size() + y));
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
        bool skin = false;             // some of it is a mesh, which may be hollow
        Sphere sphere;                 // around everything
        std::uint64_t inputs = 0;
        // Head frame, placed when they are asked for:
        Placement at;
        Vec3 centre = Vec3::Zero();
        std::vector<Placed> capsules;
        long placed_at = 0, capsules_at = 0;  // of which pose they are

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
    /// With its capsules placed.
    const Part& with_capsules(std::size_t index) {
        Part& part = standing(index);
        if (part.capsules_at == pose_) return part;
        part.capsules.resize(part.solids.capsules.size());
        for (std::size_t i = 0; i < part.capsules.size(); ++i)
            part.capsules[i] = studies::placed(part.solids.capsules[i], part.at);
        part.capsules_at = pose_;
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
        if (x.invented && y.invented && !links && measure(pair, far_mm).mm < 0) {
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
    /// Gap of one piece, and the direction from the first part's nearest point to the second's.
    std::pair<Gap, Vec3> piece_gap(const Pair& pair, std::size_t piece, const Moment& at) const {
        const Part &a = all_[pair.first], &b = all_[pair.second];
        const Placement at_a = placement_of(head_.model(), a.solids.part, at);
        const Placement at_b = placement_of(head_.model(), b.solids.part, at);
        if (piece < capsule_pairs(pair)) {
            const std::size_t count = b.solids.capsules.size();
            const Capsule x = studies::placed(a.solids.capsules[piece / count], at_a).is;
            const Capsule y = studies::placed(b.solids.capsules[piece % count], at_b).is;
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
        with_capsules(pair.first), with_capsules(pair.second);
        const Sphere round_b{b.centre, b.sphere.radius};
        Gap best{enough, {}};
        const auto keep = [&](const Gap& gap) {
            if (gap.mm < best.mm) best = gap;
        };
        for (const Placed& x : a.capsules) {
            if (x.round.apart_from(round_b) >= best.mm) continue;
            for (const Placed& y : b.capsules)
                if (x.round.may_be_nearer(y.round, best.mm)) keep(studies::gap_between(x.is, y.is));
        }
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
