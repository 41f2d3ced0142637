#include "kinematics/studies/envelope/cranks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/dead_point.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::studies {

namespace {

constexpr double least_angle_deg = 40, close_deg = 5;
constexpr double least_arm_mm = 1e-3;  // a ball nearer to the axis is on it
constexpr double least_hold = 0.1, close_hold = 0.1;

class Cranks : public Checker {
public:
    explicit Cranks(const head::Head& head) {
        for (const head::LinkRod& rod : head.model().rods())
            for (std::size_t e = 0; e < 2; ++e) add(head, rod, rod.ends[e], rod.ends[1 - e]);
    }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver& solver) override {
        ws_ = &solver.workspace();
        return true;
    }
    double value(std::size_t i) override {
        const Arm arm = arm_of(levers_[i], *ws_);
        return transmission_angle_deg(arm.link, arm.axis.cross(arm.out));
    }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Cranks>(*this); }
    int pieces(std::size_t) const override { return 1; }
    Piece piece(const Moment& at, std::size_t i, int) const override {
        const Lever& lever = levers_[i];
        const Arm arm = arm_of(lever, at.stands());
        const Vec3 free = arm.axis.cross(arm.out);
        const double lengths = arm.link.norm() * free.norm(), share = arm.link.dot(free) / lengths;
        Piece out;
        out.margin = checks_[i].margin(std::asin(std::min(1.0, std::abs(share))) / degree);
        const double steep = std::sqrt(1 - std::min(1.0, share * share)) * degree;
        if (steep < 1e-9) return out;  // at the top of the margin
        for (std::size_t w = 0; w < at.ways; ++w) {
            const linkage::RigidRates& by = at.of(lever.body, w);
            const Vec3 ball = at.velocity(lever.body, at.stands().point(lever.ball), w);
            const Vec3 link = at.velocity(lever.other_body, at.stands().point(lever.other), w) - ball;
            const Vec3 turned = by.spin.cross(arm.axis).cross(arm.out) + arm.axis.cross(ball - by.drift);
            const double rate =
                (link.dot(free) + arm.link.dot(turned)) / lengths -
                share * (link.dot(arm.link) / arm.link.squaredNorm() + turned.dot(free) / free.squaredNorm());
            out.slope[w] = std::copysign(1.0, share) * rate / steep;
        }
        return out;
    }
    std::uint64_t inputs(std::size_t i) const override { return levers_[i].inputs; }

private:
    struct Lever {
        linkage::BodyId body, other_body;
        linkage::AnchorId ball, other;
        std::uint64_t inputs;
    };
    struct Arm {
        Vec3 link, axis, out;  // from the ball along the link; the lever's axis, unit; from its pivot to the ball
    };
    static Arm arm_of(const Lever& lever, const linkage::Workspace& ws) {
        const Placement& body = ws.placement(lever.body);  // turns about its own z
        const Vec3& ball = ws.point(lever.ball);
        return {ws.point(lever.other) - ball, body.turn.col(2), ball - body.origin};
    }
    /// If the ball rides on a horn, grip or lever, and off its axis.
    void add(const head::Head& head, const head::LinkRod& rod, const head::BallEnd& end, const head::BallEnd& other) {
        const head::Part &part = head.model().part(end.part), &link = head.model().part(rod.part);
        using enum head::Role;
        if (part.role != horn && part.role != grip && part.role != lever) return;
        const Vec3 at = head.plan().description().anchors()[static_cast<std::size_t>(end.ball.index)].position;
        if (std::hypot(at.x(), at.y()) < least_arm_mm) return;
        std::string key = "transmission." + part.path;
        // A lever takes several links; so may a horn.
        if (part.role == lever || std::ranges::find(checks_, key, &Check::key) != checks_.end()) key += "." + link.path;
        checks_.push_back({.kind = CheckKind::transmission,
                           .key = std::move(key),
                           .words = fmt::format("angle between {} and {}", link.words,
                                                part.role == grip ? "its pitch arm" : part.words),
                           .label = fmt::format("angle, {} to {}", link.label,
                                                part.role == horn   ? "its horn"
                                                : part.role == grip ? "its arm"
                                                                    : part.words),
                           .unit = "deg",
                           .parts = {link.path, part.path},
                           .low = least_angle_deg,
                           .close = close_deg});
        const auto inputs_of = [&](linkage::BodyId body) { return head.plan().body(body.index).inputs; };
        levers_.push_back({end.body, other.body, end.ball, other.ball, inputs_of(end.body) | inputs_of(other.body)});
    }

    std::vector<Check> checks_;
    std::vector<Lever> levers_;
    const linkage::Workspace* ws_ = nullptr;
};

class DeadPoints : public Checker {
public:
    explicit DeadPoints(const head::Head& head) : plan_(head.plan()) {
        for (const linkage::Block& block : plan_.blocks()) {
            const auto [part, words] = name_of(head.model(), block);
            checks_.push_back({.kind = CheckKind::dead_point,
                               .key = "dead_point." + part,
                               .words = words,
                               .label = words,
                               .unit = "mm/mm",
                               .parts = {part},
                               .low = least_hold,
                               .close = close_hold});
        }
    }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver& solver) override {
        ws_ = &solver.workspace();
        return true;
    }
    double value(std::size_t i) override { return linkage::distance_to_dead_point(*ws_, plan_.blocks()[i]); }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<DeadPoints>(*this); }
    int pieces(std::size_t) const override { return 1; }
    Piece piece(const Moment& at, std::size_t i, int) const override {
        Piece out;
        out.margin = checks_[i].margin(
            linkage::dead_point_slopes(plan_, at.stands(), plan_.blocks()[i], at.bodies, out.slope.data()));
        return out;
    }
    std::uint64_t inputs(std::size_t i) const override { return plan_.blocks()[i].inputs; }

private:
    struct Named {
        std::string part, words;
    };
    /// Of a block: the parts that it places, and what holds them.
    static Named name_of(const head::Model& model, const linkage::Block& block) {
        std::vector<const head::Part*> parts;
        for (const int body : block.joints)
            for (const head::Part& part : model.parts())
                if (part.body.index == body) parts.push_back(&part);
        const auto held_by = [&](linkage::ClosureKind kind) {
            return std::ranges::find(block.rows, kind, &linkage::Row::kind) != block.rows.end();
        };
        const bool links = held_by(linkage::ClosureKind::link), pins = held_by(linkage::ClosureKind::coincidence);
        const head::Part& first = *parts.front();
        using enum head::Role;
        if (first.role == outer_ring && !links && !pins) return {"swashplate.driver", "hold of driver on outer ring"};
        if (first.role == grip && block.rows.size() == 1)
            for (const head::LinkRod& rod : model.rods())
                if (block.rows.front().closure == rod.closure.index)
                    return {first.path, fmt::format("hold of {} on its grip", model.part(rod.part).words)};
        std::string words = fmt::format("hold of {} on {}",
                                        !pins   ? "links"
                                        : links ? "links and pins"
                                                : "pins",
                                        first.role == inner_ring && model.ring_tilts() ? "the ring"
                                        : first.role == outer_ring                     ? "outer ring"
                                                                                       : first.words);
        if (parts.size() == 2) words += " and " + parts.back()->words;
        if (parts.size() > 2) words += fmt::format(" and {} more", parts.size() - 1);
        return {first.role == inner_ring ? "swashplate" : first.path, words};
    }

    linkage::Plan plan_;
    std::vector<Check> checks_;
    const linkage::Workspace* ws_ = nullptr;
};

}  // namespace

double transmission_angle_deg(const Vec3& link, const Vec3& free) {
    return std::asin(std::min(1.0, std::abs(link.normalized().dot(free.normalized())))) / degree;
}

std::unique_ptr<Checker> crank_checker(const head::Head& head) {
    return std::make_unique<Cranks>(head);
}

std::unique_ptr<Checker> dead_point_checker(const head::Head& head) {
    return std::make_unique<DeadPoints>(head);
}

}  // namespace swashwright::studies
