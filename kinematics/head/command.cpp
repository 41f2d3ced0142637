#include "kinematics/head/command.h"

#include "kinematics/head/build.h"

namespace swashwright::head {

double Command::horn_deg(const Sticks& sticks) const {
    const double more_deg = gains_deg[0] * sticks.collective + gains_deg[1] * sticks.aileron +
                            gains_deg[2] * sticks.elevator + gains_deg[3] * sticks.rudder;
    return rest_deg + head::end_share(end_share, raise * more_deg) * more_deg;
}

Command command_of(const Description& d, std::size_t servo, double raise) {
    const StickGains w = mixing_weights(d, servo);
    const Servo& s = d.servos[servo];
    return {s.neutral_deg + s.trim_deg,
            {raise * d.mixing.collective_deg * w[0], raise * d.mixing.cyclic_deg * w[1],
             raise * d.mixing.cyclic_deg * w[2], raise * d.mixing.rudder_deg * w[3]},
            raise,
            s.end_share};
}

double end_share(const std::array<double, 2>& shares, double command_deg) {
    const auto& [negative, positive] = shares;
    constexpr double nothing = 1e-9;  // deg: what rounding leaves of no command
    return command_deg > nothing ? positive : command_deg < -nothing ? negative : (negative + positive) / 2;
}

}  // namespace swashwright::head
