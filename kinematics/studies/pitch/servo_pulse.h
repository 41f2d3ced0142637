// Horn angles as servo pulses and back.
#pragma once

#include "kinematics/head/description.h"

namespace swashwright::studies {

/// Pulse (microseconds) at which the horn stands at this angle (deg, neutral included; trim is part of the pulse).
inline double pulse_us(const head::Servo& servo, double horn_deg) {
    return servo.pulse_centre_us + (horn_deg - servo.neutral_deg) / servo.pulse_deg_per_us;
}

/// Horn angle (deg) for a pulse.
inline double horn_deg(const head::Servo& servo, double pulse_us) {
    return servo.neutral_deg + servo.pulse_deg_per_us * (pulse_us - servo.pulse_centre_us);
}

}  // namespace swashwright::studies
