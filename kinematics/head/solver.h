// Posing one head many times: keeps its place from call to call, allocates nothing, solves only what changed.
//
// Warm: a pose starts from the one before. It ends where `Head::pose` ends unless poses that cannot be assembled lie
// between; where that matters call `Head::pose`.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/head/numbers.h"
#include "kinematics/linkage/solve.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::head {

/// How every reading changes with one number.
struct Slopes {
    double height_mm = 0;  // per unit of the number, as all below
    double tilt_forward_deg = 0, tilt_right_deg = 0;
    std::vector<double> pitch_deg;  // of each blade
};

class Solver {
public:
    explicit Solver(const Head& head);

    const Head& head() const { return head_; }

    /// True if every loop closes. Otherwise the readings stay at the last pose that closed.
    bool pose(const Sticks& sticks, double azimuth_deg);
    /// Horn angles in deg, one for each servo, finite.
    bool pose(std::span<const double> horn_deg, double azimuth_deg);
    /// Where a lever that is moved by hand (`Parts::hands`) stands from the next pose on; at neutral until then.
    void set_hand(std::size_t hand, double deg);
    /// Sticks and rotor back to neutral.
    void reset();
    /// The next pose solves every block anew, also those whose inputs do not change.
    void forget() { linkage::forget(ws_); }

    double height_mm() const { return ws_.slide(head_.parts().inner_ring); }
    Vec3 ring_normal() const { return ws_.placement(head_.parts().inner_ring).turn.col(2); }
    double tilt_forward_deg() const { return tilt().forward_deg; }
    double tilt_right_deg() const { return tilt().right_deg; }
    double pitch_deg(int blade) const {
        return ws_.angle(head_.parts().grips[blade]) / degree + pitch_offset_deg_[blade];
    }
    const linkage::Report& report() const { return report_; }
    /// Everything placed. Do not keep it: `pose` leaves grips to be placed when they are asked for.
    linkage::Workspace& workspace();

    /// Exact derivatives at the present pose. Call `linearise` once, then ask; false at a dead point.
    bool linearise();
    /// By one number of the head; `sticks` matter for the mixing's own numbers only.
    void slopes_by(const Number& number, Slopes& out, const Sticks& sticks = {});
    /// By a servo's horn angle (per deg) and by the rotor's azimuth (per deg).
    void slopes_by_horn(int servo, Slopes& out);
    void slopes_by_azimuth(Slopes& out);
    /// By a stick (per full deflection), through the mixing.
    enum class Stick { collective, aileron, elevator, rudder };
    void slopes_by_stick(Stick stick, Slopes& out);

private:
    struct Tilt {
        Vec3 normal = Vec3::UnitZ();  // the ring's, to which the angles belong
        double forward_deg = 0, right_deg = 0;
    };
    /// Worked out anew only when the ring has moved.
    const Tilt& tilt() const;
    void read_slopes(Slopes& out) const;

    Head head_;
    linkage::Workspace ws_;
    linkage::Report report_;
    std::vector<double> inputs_, pitch_offset_deg_;
    std::vector<linkage::Change> changes_;
    linkage::Tangent tangent_;
    mutable Tilt tilt_;
};

}  // namespace swashwright::head
