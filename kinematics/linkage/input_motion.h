// How everything moves by each input at one pose, all inputs side by side.
#pragma once

#include "kinematics/linkage/linearised.h"

namespace swashwright::linkage {

class InputMotion {
public:
    explicit InputMotion(const Plan& plan);

    /// At the settled pose of `ws`, which `linearised` has taken. Allocates nothing.
    void at(const Plan& plan, const Workspace& ws, Linearised& linearised);

    /// By an input at unit rate (rad or mm): rate of a body's joint, its freedom k, mm or rad.
    double rate(int body, int input, int k = 0) const {
        return rates_[static_cast<std::size_t>((4 * body + k) * width_ + input)];
    }
    const Vec3& spin(int body, int input) const { return spin_[place(body, input)]; }    // rad, ground's axes
    const Vec3& drift(int body, int input) const { return drift_[place(body, input)]; }  // of its origin, mm
    /// Of a point that rides on the body and stands at `point`, ground's frame.
    Vec3 velocity(const Workspace& ws, int body, const Vec3& point, int input) const {
        return drift(body, input) + spin(body, input).cross(point - ws.bodies[body].origin);
    }

private:
    std::size_t place(int body, int input) const { return static_cast<std::size_t>(body * inputs_ + input); }
    void move(const Plan& plan, const Workspace& ws, int body, int input);

    int inputs_, width_;
    std::vector<double> rates_;
    std::vector<Vec3> spin_, drift_;
};

}  // namespace swashwright::linkage
