#include "kinematics/studies/clearance.h"

#include <fcl/geometry/bvh/BVH_model.h>
#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/capsule.h>
#include <fcl/geometry/shape/cylinder.h>
#include <fcl/narrowphase/distance.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace swashwright::studies {

namespace {

using head::Solid;

constexpr double close_mm = 0.5;

/// A frame with its origin at `centre` and z along `axis`.
fcl::Transform3d stand_on(const Vec3& centre, const Vec3& axis) {
    fcl::Transform3d out = fcl::Transform3d::Identity();
    out.linear() = Quat::FromTwoVectors(Vec3::UnitZ(), axis).toRotationMatrix();
    out.translation() = centre;
    return out;
}

fcl::Transform3d as_transform(const Placement& placement) {
    fcl::Transform3d out = fcl::Transform3d::Identity();
    out.linear() = placement.turn;
    out.translation() = placement.origin;
    return out;
}

/// A shape in its part's frame, as FCL takes it.
struct Shape {
    std::shared_ptr<fcl::CollisionGeometryd> geometry;
    fcl::Transform3d at;
};

Shape shape_of(const Capsule& capsule) {
    const Vec3 axis = capsule.b - capsule.a;
    return {std::make_shared<fcl::Capsuled>(capsule.radius, axis.norm()),
            stand_on(0.5 * (capsule.a + capsule.b), axis.norm() > 0 ? Vec3(axis.normalized()) : Vec3::UnitZ())};
}

Shape shape_of(const Solid& solid) {
    if (solid.shape == Solid::Shape::box)
        return {std::make_shared<fcl::Boxd>(solid.size_mm.x(), solid.size_mm.y(), solid.size_mm.z()),
                stand_on(solid.at, Vec3::UnitZ())};
    if (solid.shape == Solid::Shape::cylinder) {
        const Vec3 axis = solid.to - solid.at;
        return {std::make_shared<fcl::Cylinderd>(solid.diameter_mm / 2, axis.norm()),
                stand_on(0.5 * (solid.at + solid.to), axis.normalized())};
    }
    auto mesh = std::make_shared<fcl::BVHModel<fcl::OBBRSSd>>();
    std::vector<fcl::Triangle> faces;
    for (const auto& f : solid.mesh->faces)
        faces.emplace_back(static_cast<std::size_t>(f[0]), static_cast<std::size_t>(f[1]),
                           static_cast<std::size_t>(f[2]));
    mesh->beginModel();
    mesh->addSubModel(solid.mesh->points, faces);
    mesh->endModel();
    return {std::move(mesh), stand_on(solid.at, Vec3::UnitZ())};
}

Gap gap_between(const Shape& a, const fcl::Transform3d& at_a, const Shape& b, const fcl::Transform3d& at_b) {
    const fcl::Transform3d ta = at_a * a.at, tb = at_b * b.at;
    fcl::DistanceRequestd request(true, true);
    request.gjk_solver_type = fcl::GST_LIBCCD;
    fcl::DistanceResultd result;
    const double distance = fcl::distance(a.geometry.get(), ta, b.geometry.get(), tb, request, result);
    return {distance, {result.nearest_points[0], result.nearest_points[1]}};
}

struct Sphere {
    Vec3 centre = Vec3::Zero();
    double radius = 0;
};

/// Around everything of a part, in its frame.
Sphere around(const PartSolids& part, const std::vector<Shape>& others) {
    std::vector<std::pair<Vec3, double>> balls;
    for (const Capsule& c : part.capsules) balls.insert(balls.end(), {{c.a, c.radius}, {c.b, c.radius}});
    for (const Shape& s : others) balls.emplace_back(s.at * s.geometry->aabb_center, s.geometry->aabb_radius);
    Sphere out;
    for (const auto& [centre, radius] : balls) out.centre += centre / static_cast<double>(balls.size());
    for (const auto& [centre, radius] : balls) out.radius = std::max(out.radius, (centre - out.centre).norm() + radius);
    return out;
}

class Clearance : public ClearanceChecker {
public:
    explicit Clearance(const head::Head& head) : parts_(head.parts()) {
        for (PartSolids& solids : part_solids(head)) {
            Part part;
            for (const Solid& solid : solids.others)
                if (solid.shape != Solid::Shape::mesh || solid.mesh) part.others.push_back(shape_of(solid));
            for (const Shape& s : part.others) s.geometry->computeLocalAABB();
            for (const Capsule& c : solids.capsules) part.as_shapes.push_back(shape_of(c));
            part.sphere = around(solids, part.others);
            part.solids = std::move(solids);
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
    const std::vector<std::string>& left_out() const override { return left_out_; }
    bool look(head::Solver& solver) override {
        place(solver.workspace());
        return true;
    }
    double value(std::size_t i) override { return measure(pairs_[i].first, pairs_[i].second, true).mm; }
    Gap nearest(std::size_t i) override { return measure(pairs_[i].first, pairs_[i].second, false); }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Clearance>(*this); }

private:
    struct Part {
        PartSolids solids;
        std::vector<Shape> others, as_shapes;  // the user's; the capsules as FCL takes them
        Sphere sphere;
        // At the pose last looked at, head frame:
        Placement at;
        std::vector<Capsule> capsules;
        Vec3 centre = Vec3::Zero();
    };

    void place(const linkage::Workspace& ws) {
        for (Part& part : all_) {
            part.at = placement_of(part.solids.carrier, parts_, ws);
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
        const bool same_body = x.carrier.link < 0 && y.carrier.link < 0 && x.carrier.body.index == y.carrier.body.index;
        if (same_body || joined(x, y)) return;
        if (x.invented && y.invented && measure(a, b, true).mm < 0) {
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
        if (a.others.empty() && b.others.empty()) return best;
        const fcl::Transform3d at_a = as_transform(a.at), at_b = as_transform(b.at);
        for (const Shape& x : a.others) {
            for (const Shape& y : b.others) keep(gap_between(x, at_a, y, at_b));
            for (const Shape& y : b.as_shapes) keep(gap_between(x, at_a, y, at_b));
        }
        for (const Shape& x : a.as_shapes)
            for (const Shape& y : b.others) keep(gap_between(x, at_a, y, at_b));
        return best;
    }

    head::Parts parts_;
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
