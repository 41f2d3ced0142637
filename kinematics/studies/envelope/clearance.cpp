#include "kinematics/studies/envelope/clearance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace swashwright::studies {

namespace {

using head::Solid;

constexpr double close_mm = 0.5;

class Clearance : public ClearanceChecker {
public:
    explicit Clearance(const head::Head& head) : head_(head) {
        for (PartSolids& solids : part_solids(head)) {
            Part part;
            for (const Solid& solid : solids.others)
                if (auto surface = Surface::of(solid)) part.others.push_back(std::move(surface));
            for (const Capsule& c : solids.capsules) part.as_surfaces.push_back(Surface::of(c));
            part.sphere = around(part);
            part.solids = std::move(solids);
            if (part.as_surfaces.empty() && part.others.empty()) continue;  // a mesh that was not read
            all_.push_back(std::move(part));
        }
        const double wanted = head.description().clearance_mm;
        head::Solver solver(head);
        const linkage::Workspace& neutral = solver.workspace();
        place(neutral);
        for (std::size_t a = 0; a < all_.size(); ++a)
            for (std::size_t b = a + 1; b < all_.size(); ++b) add_pair(a, b, wanted);
    }
    const std::vector<Check>& checks() const override { return checks_; }
    std::vector<std::string> left_out() const override { return left_out_; }
    bool look(head::Solver& solver) override {
        place(solver.workspace());
        return true;
    }
    double value(std::size_t i) override { return measure(pairs_[i].first, pairs_[i].second, true).mm; }
    Gap nearest(std::size_t i) override { return measure(pairs_[i].first, pairs_[i].second, false); }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Clearance>(*this); }

private:
    using Surfaces = std::vector<std::shared_ptr<const Surface>>;
    struct Part {
        PartSolids solids;
        Surfaces others, as_surfaces;  // what is no capsule; the capsules, to meet those
        Sphere sphere;                 // around everything
        // At the pose last looked at, head frame:
        Placement at;
        std::vector<Capsule> capsules;
        Vec3 centre = Vec3::Zero();

        Sphere placed(const Sphere& s) const { return {at * s.centre, s.radius}; }
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

    void place(const linkage::Workspace& ws) {
        for (Part& part : all_) {
            part.at = head_.model().placement(part.solids.part, ws);
            part.centre = part.at * part.sphere.centre;
            part.capsules.resize(part.solids.capsules.size());
            for (std::size_t i = 0; i < part.capsules.size(); ++i) {
                const Capsule& c = part.solids.capsules[i];
                part.capsules[i] = {part.at * c.a, part.at * c.b, c.radius};
            }
        }
    }

    void add_pair(std::size_t a, std::size_t b, double wanted) {
        const PartSolids &x = all_[a].solids, &y = all_[b].solids;
        const head::Model& model = head_.model();
        if (model.joined(x.part, y.part)) return;
        // The sizes of links are the user's.
        const bool links = is_link(model.part(x.part).role) && is_link(model.part(y.part).role);
        if (x.invented && y.invented && !links && measure(a, b, true).mm < 0) {
            left_out_.push_back(
                fmt::format("{} and {} are not checked: the shapes made up for them are too coarse, they "
                            "overlap at neutral.",
                            x.words, y.words));
            return;
        }
        pairs_.emplace_back(a, b);
        checks_.push_back({.kind = CheckKind::clearance,
                           .key = fmt::format("clearance.{}.{}", x.path, y.path),
                           .words = fmt::format("gap between {} and {}", x.words, y.words),
                           .label = fmt::format("gap, {} to {}", x.label, y.label),
                           .unit = "mm",
                           .parts = {x.path, y.path},
                           .low = wanted,
                           .close = close_mm});
    }

    /// `coarse`: a lower bound will do where they are far apart.
    Gap measure(std::size_t first, std::size_t second, bool coarse) const {
        const Part &a = all_[first], &b = all_[second];
        const double apart = (a.centre - b.centre).norm() - a.sphere.radius - b.sphere.radius;
        if (coarse && apart > far_mm) return {apart, {}};
        Gap best{std::numeric_limits<double>::infinity(), {}};
        const auto keep = [&](const Gap& gap) {
            if (gap.mm < best.mm) best = gap;
        };
        for (const Capsule& x : a.capsules)
            for (const Capsule& y : b.capsules) keep(studies::gap_between(x, y));
        const auto meet = [&](const Surface& x, const Surface& y) {
            const double enough = coarse ? std::min(best.mm, far_mm) : best.mm;
            const double least = a.placed(x.sphere()).apart_from(b.placed(y.sphere()));
            keep(least > enough ? Gap{least, {}} : studies::gap_between(x, a.at, y, b.at, enough));
        };
        for (const auto& x : a.others) {
            for (const auto& y : b.others) meet(*x, *y);
            for (const auto& y : b.as_surfaces) meet(*x, *y);
        }
        for (const auto& x : a.as_surfaces)
            for (const auto& y : b.others) meet(*x, *y);
        return best;
    }

    head::Head head_;
    std::vector<Part> all_;
    std::vector<std::pair<std::size_t, std::size_t>> pairs_;
    std::vector<Check> checks_;
    std::vector<std::string> left_out_;
};

}  // namespace

Gap gap_between(const Capsule& a, const Capsule& b) {
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
    const Vec3 way = distance > 0 ? Vec3(between / distance) : Vec3::UnitZ();
    return {distance - a.radius - b.radius, {on_a + a.radius * way, on_b - b.radius * way}};
}

std::unique_ptr<ClearanceChecker> clearance_checker(const head::Head& head) {
    return std::make_unique<Clearance>(head);
}

}  // namespace swashwright::studies
