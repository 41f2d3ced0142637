// Bytes as a linkage: any tree of bodies, any closures. It is refused with words, or solved with every closure within
// the plan's tolerance, or a reason is given; never a number that is not finite.
#include <fuzzer/FuzzedDataProvider.h>

#include <cmath>
#include <cstdlib>
#include <numbers>
#include <vector>

#include "kinematics/linkage/plan.h"
#include "kinematics/linkage/solve.h"

namespace {

using namespace swashwright;
using namespace swashwright::linkage;

struct Source {
    FuzzedDataProvider bytes;

    double mm() { return bytes.ConsumeFloatingPointInRange(-200.0, 200.0); }
    Vec3 point() { return {mm(), mm(), mm()}; }
    Vec3 direction() {
        const Vec3 v = point();
        return v.norm() > 1e-6 ? Vec3(v.normalized()) : Vec3(Vec3::UnitZ());
    }
    double angle() { return bytes.ConsumeFloatingPointInRange(-std::numbers::pi, std::numbers::pi); }
    int below(int count) { return bytes.ConsumeIntegralInRange(0, count - 1); }
};

Description any_linkage(Source& source) {
    Description out;
    const int bodies = 1 + source.below(7);
    for (int i = 0; i < bodies; ++i) {
        Body body;
        body.name = "body";
        body.parent = BodyId{source.below(static_cast<int>(out.bodies().size()))};
        body.joint_frame.origin = source.point();
        body.joint_frame.turn = Eigen::AngleAxisd(source.angle(), source.direction()).toRotationMatrix();
        body.joint = static_cast<Joint>(source.below(5));
        body.input = source.below(3) == 0;
        body.neutral.angle = source.angle();
        body.neutral.slide = source.mm();
        out.add_body(body);
    }
    const int closures = source.below(10);
    for (int i = 0; i < closures; ++i) {
        const auto anchor = [&] {
            return out.add_anchor(BodyId{source.below(static_cast<int>(out.bodies().size()))}, source.point());
        };
        const AnchorId a = anchor(), b = anchor();
        const int priority = source.below(2);
        switch (source.below(3)) {
            case 0:
                out.add_link("link", a, b, std::abs(source.mm()), priority);
                break;
            case 1:
                out.add_slot("slot", a, b, source.direction(), priority);
                break;
            default:
                out.add_coincidence("pin", a, b, priority);
        }
    }
    return out;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    Source source{{data, size}};
    const auto plan = Plan::make(any_linkage(source));
    if (!plan) {
        if (plan.error().message.empty()) std::abort();
        return 0;
    }
    if (!plan->neutral_shortfalls().empty()) return 0;
    Workspace ws(*plan);
    for (int step = 0; step < 4; ++step) {
        std::vector<double> inputs = plan->neutral_inputs();
        for (double& input : inputs) input += source.bytes.ConsumeFloatingPointInRange(-1.0, 1.0);
        const Report report = solve(*plan, ws, inputs);
        if (!report.closed) continue;
        // Rows that must close do, within what the plan promises.
        if (!(report.residual_mm <= 2 * plan->tolerance())) std::abort();
    }
    return 0;
}
