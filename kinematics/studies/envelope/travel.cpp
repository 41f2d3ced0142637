#include "kinematics/studies/envelope/travel.h"

#include <fmt/format.h>

#include <cmath>
#include <functional>

namespace swashwright::studies {

namespace {

using Reading = std::function<double(const linkage::Workspace&)>;
/// Its rate along a way.
using Rate = std::function<double(const Moment&, std::size_t)>;

class Travel : public Checker {
public:
    explicit Travel(const head::Head& head) {
        for (std::size_t j = 0; j < head.description().servos.size(); ++j) add_servo(head, j);
        add_ring(head);
        if (head.description().swashplate.driver_reach_mm) add_driver_pins(head);
        left_out_ = travel_not_checked(head.description());
    }
    const std::vector<Check>& checks() const override { return checks_; }
    bool look(head::Solver& solver) override {
        ws_ = &solver.workspace();
        return true;
    }
    double value(std::size_t i) override { return readings_[i].value(*ws_); }
    std::unique_ptr<Checker> clone() const override { return std::make_unique<Travel>(*this); }
    std::vector<std::string> left_out() const override { return left_out_; }
    /// The distances to either bound.
    int pieces(std::size_t) const override { return 2; }
    Piece piece(const Moment& at, std::size_t i, int piece) const override {
        const double sense = piece == 0 ? 1 : -1, bound = piece == 0 ? checks_[i].low : checks_[i].high;
        Piece out;
        out.margin = sense * (readings_[i].value(at.stands()) - bound);
        for (std::size_t w = 0; w < at.ways; ++w) out.slope[w] = sense * readings_[i].rate(at, w);
        return out;
    }
    std::uint64_t inputs(std::size_t i) const override { return readings_[i].inputs; }
    int only_servo(std::size_t i) const override { return readings_[i].servo; }

private:
    struct Read {
        Reading value;
        Rate rate;
        std::uint64_t inputs = 0;
        int servo = -1;  // the only one on which it depends
    };

    void add_servo(const head::Head& head, std::size_t j) {
        const head::Servo& servo = head.description().servos[j];
        const std::string part = fmt::format("servo[{}]", j + 1);
        const linkage::BodyId horn = head.model().body(head::Role::horn, j);
        add({.kind = CheckKind::travel,
             .key = "travel." + part,
             .words = fmt::format("horn of {}, from neutral,", servo_words(servo)),
             .label = fmt::format("horn {} from neutral", servo.name),
             .unit = "deg",
             .parts = {part},
             .low = servo.travel_deg[0],
             .high = servo.travel_deg[1],
             .close = 2},
            {[horn, neutral = servo.neutral_deg](const linkage::Workspace& ws) {
                 return std::remainder(ws.angle(horn) / degree - neutral, 360.0);
             },
             [horn](const Moment& at, std::size_t way) {
                 return at.of(horn, way).spin.dot(at.stands().placement(horn).turn.col(2)) / degree;
             },
             inputs_of(head, horn), static_cast<int>(j)});
    }
    static std::uint64_t inputs_of(const head::Head& head, linkage::BodyId body) {
        return head.plan().body(body.index).inputs;
    }
    void add_ring(const head::Head& head) {
        const auto& ring = head.description().swashplate;
        const linkage::BodyId inner = head.parts().inner_ring;
        const std::string height = ring.tilts ? "ring height" : "pitch slider's height";
        if (ring.height_stops_mm)
            add({.kind = CheckKind::travel,
                 .key = "travel.ring_height",
                 .words = height,
                 .label = height,
                 .unit = "mm",
                 .parts = {"swashplate"},
                 .low = (*ring.height_stops_mm)[0],
                 .high = (*ring.height_stops_mm)[1],
                 .close = 0.5},
                {[inner](const linkage::Workspace& ws) { return ws.slide(inner); },
                 [inner](const Moment& at, std::size_t way) {
                     return at.of(inner, way)
                         .drift.dot(at.stands().frames[static_cast<std::size_t>(inner.index)].turn.col(2));
                 },
                 inputs_of(head, inner)});
        if (ring.tilt_limit_deg && ring.tilts)
            add({.kind = CheckKind::travel,
                 .key = "travel.ring_tilt",
                 .words = "ring tilt",
                 .label = "ring tilt",
                 .unit = "deg",
                 .parts = {"swashplate"},
                 .high = *ring.tilt_limit_deg,
                 .close = 1},
                {[inner](const linkage::Workspace& ws) {
                     const Vec3 n = ws.placement(inner).turn.col(2);
                     return std::atan2(std::hypot(n.x(), n.y()), n.z()) / degree;
                 },
                 [inner](const Moment& at, std::size_t way) {
                     const Vec3 n = at.stands().placement(inner).turn.col(2), rate = at.of(inner, way).spin.cross(n);
                     const double sine = std::hypot(n.x(), n.y());
                     return sine > 0 ? -rate.z() / sine / degree : 0.0;
                 },
                 inputs_of(head, inner)});
    }
    void add_driver_pins(const head::Head& head) {
        const auto& reach_mm = *head.description().swashplate.driver_reach_mm;
        const auto& pins = head.parts().driver_pins;
        for (std::size_t i = 0; i < pins.size(); ++i)
            add({.kind = CheckKind::travel,
                 .key = fmt::format("travel.driver_pin[{}]", i + 1),
                 .words = fmt::format("driver pin {}'s distance from the shaft", i + 1),
                 .label = fmt::format("driver pin {} from the shaft", i + 1),
                 .unit = "mm",
                 .parts = {"swashplate.driver"},
                 .low = reach_mm[0],
                 .high = reach_mm[1],
                 .close = 0.5},
                {[pin = pins[i]](const linkage::Workspace& ws) {
                     return std::hypot(ws.point(pin).x(), ws.point(pin).y());
                 },
                 [pin = pins[i], ring = head.parts().outer_ring](const Moment& at, std::size_t way) {
                     const Vec3& point = at.stands().point(pin);
                     return point.head<2>().normalized().dot(at.velocity(ring, point, way).head<2>());
                 },
                 inputs_of(head, head.parts().outer_ring)});
    }
    void add(Check check, Read reading) {
        checks_.push_back(std::move(check));
        readings_.push_back(std::move(reading));
    }

    std::vector<Check> checks_;
    std::vector<Read> readings_;
    const linkage::Workspace* ws_ = nullptr;
    std::vector<std::string> left_out_;
};

}  // namespace

std::unique_ptr<Checker> travel_checker(const head::Head& head) {
    return std::make_unique<Travel>(head);
}

std::vector<std::string> travel_not_checked(const head::Description& description) {
    const auto& ring = description.swashplate;
    std::vector<std::string> out;
    if (!ring.height_stops_mm)
        out.push_back(fmt::format("{} height is not checked: the scene does not give its stops on the shaft.",
                                  ring.tilts ? "Ring" : "The pitch slider's"));
    if (!ring.tilt_limit_deg && ring.tilts)
        out.push_back("Ring tilt is not checked: the scene does not say how far the ring tilts.");
    if (!ring.driver_reach_mm && !ring.driver_pins.empty())
        out.push_back("Driver pins are not checked: the scene does not say how far from the shaft they may be.");
    return out;
}

}  // namespace swashwright::studies
