// How everything moves by each input at one pose, all inputs side by side. Blocks and bodies for which nothing has
// changed since the last pose are kept: a rotor that turns costs its ring nothing.
#pragma once

#include "kinematics/linkage/linearised.h"
#include "kinematics/linkage/rigid_rates.h"

namespace swashwright::linkage {

class InputMotion {
public:
    explicit InputMotion(const Plan& plan);

    /// Takes the settled pose at which `ws` stands: `rate`. Allocates nothing. False at a dead point, where no
    /// derivative exists. Where a misfit is shared the motion in `ws` is overwritten.
    bool at(const Plan& plan, Workspace& ws);
    /// After `at`, at the same pose: `spin`, `drift` and `velocity`.
    void move_bodies(const Plan& plan, const Workspace& ws);

    /// After `move_bodies`, at the same pose: the motion of every body with these rates of the inputs, rad or mm.
    /// `rates`: `width()` numbers, those beyond the inputs 0; `out`: of each body.
    void along(const double* rates, RigidRates* out) const;
    int width() const { return width_; }

    /// By an input at unit rate (rad or mm): rate of a body's joint, its freedom k, mm or rad.
    double rate(int body, int input, int k = 0) const {
        return rates_[static_cast<std::size_t>((4 * body + k) * width_ + input)];
    }
    Vec3 spin(int body, int input) const { return vector(spins_, body, input); }    // rad, about the ground's axes
    Vec3 drift(int body, int input) const { return vector(drifts_, body, input); }  // of its origin, mm
    /// Of a point that rides on the body and stands at `point`, ground's frame, mm.
    Vec3 velocity(const Workspace& ws, int body, const Vec3& point, int input) const {
        return drift(body, input) + spin(body, input).cross(point - ws.bodies[body].origin);
    }

private:
    Vec3 vector(const std::vector<double>& of, int body, int input) const {
        const double* const x = &of[static_cast<std::size_t>(3 * body * width_ + input)];
        return {x[0], x[width_], x[2 * width_]};
    }
    template <int W>
    void move(const Plan& plan, const Workspace& ws, int body);

    Linearised linearised_;
    Linearised::Known known_;
    int width_;
    std::vector<int> block_of_;           // of each body: the block that settles its joint; -1: none
    std::vector<char> moved_, anew_;      // of each body: since the last `move_bodies`; by it
    std::vector<char> rates_anew_;        // of each block, since then
    std::vector<double> rates_;           // of every freedom
    std::vector<double> spins_, drifts_;  // of every body x, y and z
};

}  // namespace swashwright::linkage
