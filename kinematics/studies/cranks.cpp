#include "kinematics/studies/cranks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/tangent.h"

namespace swashwright::studies {

namespace {

constexpr double least_angle_deg = 40, close_deg = 5;
constexpr double least_hold = 0.1, close_hold = 0.1;

class Cranks : public Checker {
public:
    explicit Cranks(const head::Head& head) {
        const head::Description& d = head.description();
        const head::Parts& p = head.parts();
        for (std::size_t j = 0; j < p.horns.size(); ++j)
            add(fmt::format("servo[{}]", j + 1), fmt::format("lower_link[{}]", j + 1),
                fmt::format("angle between lower link {} and the horn of servo {}", j + 1, d.servos[j].name),
                fmt::format("angle, lower link {} to its horn", j + 1),
                {p.horns[j], p.horn_balls[j], p.inner_balls[j]});
        for (std::size_t k = 0; k < p.grips.size(); ++k)
            add(fmt::format("grip[{}]", k + 1), fmt::format("upper_link[{}]", k + 1),
                fmt::format("angle between upper link {} and its pitch arm", k + 1),
                fmt::format("angle, upper link {} to its arm", k + 1), {p.grips[k], p.grip_balls[k], p.outer_balls[k]});
        values_.resize(checks_.size());
    }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver& solver) override {
        const linkage::Workspace& ws = solver.workspace();
        for (std::size_t i = 0; i < levers_.size(); ++i) {
            const Lever& lever = levers_[i];
            const Placement& body = ws.placement(lever.body);  // turns about its own z
            const Vec3& ball = ws.point(lever.ball);
            values_[i] =
                transmission_angle_deg(ws.point(lever.other) - ball, body.turn.col(2).cross(ball - body.origin));
        }
        return true;
    }
    double value(std::size_t i) override { return values_[i]; }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Cranks>(*this); }

private:
    struct Lever {
        linkage::BodyId body;
        linkage::AnchorId ball, other;
    };
    void add(const std::string& lever_part, const std::string& link_part, std::string words, std::string label,
             const Lever& lever) {
        checks_.push_back({.kind = CheckKind::transmission,
                           .key = "transmission." + lever_part,
                           .words = std::move(words),
                           .label = std::move(label),
                           .unit = "deg",
                           .parts = {link_part, lever_part},
                           .low = least_angle_deg,
                           .close = close_deg});
        levers_.push_back(lever);
    }

    std::vector<Check> checks_;
    std::vector<Lever> levers_;
    std::vector<double> values_;
};

class DeadPoints : public Checker {
public:
    explicit DeadPoints(const head::Head& head) : plan_(head.plan()) {
        const head::Parts& p = head.parts();
        for (const linkage::Block& block : plan_.blocks()) {
            std::string part = "swashplate", words = "hold of links on the ring";
            const int body = block.joints.front();
            if (body == p.outer_ring.index) part = "swashplate.driver", words = "hold of driver on outer ring";
            for (std::size_t k = 0; k < p.grips.size(); ++k)
                if (body == p.grips[k].index) {
                    part = fmt::format("grip[{}]", k + 1);
                    words = fmt::format("hold of upper link {} on its grip", k + 1);
                }
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
        values_.clear();
        const linkage::Workspace& ws = solver.workspace();
        for (const linkage::Block& block : plan_.blocks())
            values_.push_back(linkage::distance_to_dead_point(ws, block));
        return true;
    }
    double value(std::size_t i) override { return values_[i]; }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<DeadPoints>(*this); }

private:
    linkage::Plan plan_;
    std::vector<Check> checks_;
    std::vector<double> values_;
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
