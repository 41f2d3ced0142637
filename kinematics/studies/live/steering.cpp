#include "kinematics/studies/live/steering.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>

#include "kinematics/head/build.h"
#include "kinematics/head/solver.h"
#include "kinematics/head/stick_envelope.h"

namespace swashwright::studies {
namespace {

using head::Sticks;
using Stick = head::Solver::Stick;

constexpr std::array<std::pair<Stick, double Sticks::*>, 4> all_sticks{{{Stick::collective, &Sticks::collective},
                                                                        {Stick::aileron, &Sticks::aileron},
                                                                        {Stick::elevator, &Sticks::elevator},
                                                                        {Stick::rudder, &Sticks::rudder}}};

constexpr int most_steps = 80;
constexpr double longest_step = 0.5;  // of full stick
constexpr double keep_weight = 1e-6;  // of what gives way, in the sum of squares
constexpr double none = 1e-9;         // of full stick

double reading(const head::Pose& pose, const Aim& aim) {
    const auto i = static_cast<std::size_t>(aim.index);
    switch (aim.what) {
        case Aim::What::pitch_deg:
            return pose.pitch_deg[i];
        case Aim::What::height_mm:
            return pose.height_mm;
        case Aim::What::tilt_forward_deg:
            return pose.tilt_forward_deg;
        case Aim::What::tilt_right_deg:
            return pose.tilt_right_deg;
        case Aim::What::horn_deg:
            break;
    }
    return pose.horn_deg[i];
}

enum class End { there, sticks, links, dead_point, no_help };

/// The way from where the sticks stand; one pose at a time.
class Way {
public:
    Way(const head::Head& head, double azimuth_deg, std::span<const double> hand_deg, std::span<const Aim> aims,
        const SteerBy& by)
        : head_(head), solver_(head), azimuth_deg_(azimuth_deg), hand_deg_(hand_deg), aims_(aims) {
        for (std::size_t i = 0; i < hand_deg.size(); ++i) solver_.set_hand(i, hand_deg[i]);
        const std::array<bool, 4> may{by.collective, by.aileron, by.elevator, by.rudder};
        for (std::size_t i = 0; i < may.size(); ++i)
            if (may[i]) free_.push_back(i);
    }

    /// From sticks at which the head closes.
    End go(Sticks& sticks);

private:
    bool pose(const Sticks& sticks) { return solver_.pose(sticks, azimuth_deg_); }
    double now(const Aim& aim, const Sticks& sticks) const;
    double slope(const Aim& aim, Stick stick, const Sticks& sticks);
    Eigen::VectorXd left(const Sticks& sticks) const;  // wanted less now
    double misfit(const Eigen::VectorXd& left) const;  // what gives way counted small
    bool there(const Eigen::VectorXd& left) const;
    /// The least step that brings the aims where they are wanted, and within what that leaves free, those that give
    /// way.
    Eigen::VectorXd step(const Sticks& sticks, const Eigen::VectorXd& left);
    Sticks moved(Sticks sticks, const Eigen::VectorXd& by) const;
    /// The farthest along the step that brings the aims nearer; why there is none.
    End follow(Sticks& sticks, const Eigen::VectorXd& step, const Eigen::VectorXd& left_now);

    const head::Head& head_;
    head::Solver solver_;
    double azimuth_deg_;
    std::span<const double> hand_deg_;
    std::span<const Aim> aims_;
    std::vector<std::size_t> free_;
    head::Slopes slopes_;
};

double Way::now(const Aim& aim, const Sticks& sticks) const {
    switch (aim.what) {
        case Aim::What::pitch_deg:
            return solver_.pitch_deg(aim.index);
        case Aim::What::height_mm:
            return solver_.height_mm();
        case Aim::What::tilt_forward_deg:
            return solver_.tilt_forward_deg();
        case Aim::What::tilt_right_deg:
            return solver_.tilt_right_deg();
        case Aim::What::horn_deg:
            break;
    }
    return head_.horn_angle_deg(static_cast<std::size_t>(aim.index), sticks);
}

/// `slopes_` are of that stick.
double Way::slope(const Aim& aim, Stick stick, const Sticks& sticks) {
    const auto i = static_cast<std::size_t>(aim.index);
    switch (aim.what) {
        case Aim::What::pitch_deg:
            return slopes_.pitch_deg[i];
        case Aim::What::height_mm:
            return slopes_.height_mm;
        case Aim::What::tilt_forward_deg:
            return slopes_.tilt_forward_deg;
        case Aim::What::tilt_right_deg:
            return slopes_.tilt_right_deg;
        case Aim::What::horn_deg:
            break;
    }
    const head::Servo& servo = head_.description().servos[i];
    const double more_deg = head_.horn_angle_deg(i, sticks) - servo.neutral_deg - servo.trim_deg;
    return head::end_share(servo, head_.raise_signs()[i] * more_deg) *
           head_.stick_gains_deg(aim.index)[static_cast<std::size_t>(stick)];
}

Eigen::VectorXd Way::left(const Sticks& sticks) const {
    Eigen::VectorXd out(static_cast<Eigen::Index>(aims_.size()));
    for (Eigen::Index i = 0; i < out.size(); ++i) {
        const Aim& aim = aims_[static_cast<std::size_t>(i)];
        out[i] = aim.wanted - now(aim, sticks);
    }
    return out;
}

double Way::misfit(const Eigen::VectorXd& left) const {
    double sum = 0;
    for (Eigen::Index i = 0; i < left.size(); ++i)
        sum += left[i] * left[i] * (aims_[static_cast<std::size_t>(i)].keep ? keep_weight : 1);
    return sum;
}

bool Way::there(const Eigen::VectorXd& left) const {
    for (Eigen::Index i = 0; i < left.size(); ++i)
        if (!aims_[static_cast<std::size_t>(i)].keep && std::abs(left[i]) > 0.1 * steered_within) return false;
    return true;
}

Eigen::VectorXd Way::step(const Sticks& sticks, const Eigen::VectorXd& left) {
    const auto columns = static_cast<Eigen::Index>(free_.size());
    const auto giving = static_cast<Eigen::Index>(std::ranges::count_if(aims_, &Aim::keep));
    Eigen::MatrixXd firm(left.size() - giving, columns), soft(giving, columns);
    Eigen::VectorXd firm_left(firm.rows()), soft_left(soft.rows());
    for (Eigen::Index k = 0; k < columns; ++k) {
        const Stick stick = all_sticks.at(free_[static_cast<std::size_t>(k)]).first;
        solver_.slopes_by_stick(stick, slopes_);
        for (Eigen::Index i = 0, f = 0, s = 0; i < left.size(); ++i) {
            const Aim& aim = aims_[static_cast<std::size_t>(i)];
            (aim.keep ? soft(s, k) : firm(f, k)) = slope(aim, stick, sticks);
            (aim.keep ? soft_left[s++] : firm_left[f++]) = left[i];
        }
    }
    Eigen::VectorXd out = Eigen::VectorXd::Zero(columns);
    Eigen::MatrixXd still = Eigen::MatrixXd::Identity(columns, columns);  // moves none of the firm aims
    if (firm.rows() > 0) {
        Eigen::JacobiSVD<Eigen::MatrixXd> svd(firm, Eigen::ComputeFullU | Eigen::ComputeFullV);
        svd.setThreshold(1e-9);
        out = svd.solve(firm_left);
        still = svd.matrixV().rightCols(columns - svd.rank());
    }
    if (giving > 0 && still.cols() > 0)
        out += still * (soft * still).completeOrthogonalDecomposition().solve(soft_left - soft * out);
    return out;
}

Sticks Way::moved(Sticks sticks, const Eigen::VectorXd& by) const {
    for (Eigen::Index k = 0; k < by.size(); ++k)
        sticks.*all_sticks.at(free_[static_cast<std::size_t>(k)]).second += by[k];
    return sticks;
}

Sticks held(const head::Mixing& mixing, const Sticks& sticks) {
    Sticks out = head::held_back(mixing, sticks);
    out.rudder = std::clamp(out.rudder, -1.0, 1.0);
    return out;
}

End Way::follow(Sticks& sticks, const Eigen::VectorXd& step, const Eigen::VectorXd& left_now) {
    const auto& mixing = head_.description().mixing;
    End end = End::no_help;
    for (double share = 1; share > 1e-4; share /= 2) {
        const Sticks whole = moved(sticks, share * step), next = held(mixing, whole);
        if (next == sticks) {
            end = End::sticks;
            break;
        }
        if (!pose(next)) {
            end = End::links;
            continue;
        }
        if (misfit(left(next)) < misfit(left_now) * (1 - 1e-9)) {
            if (!head_.pose(next, azimuth_deg_, hand_deg_)) {  // poses that cannot be assembled lie between
                end = End::links;
                continue;
            }
            sticks = next;
            return End::there;
        }
        if (!(next == whole) && end != End::links) end = End::sticks;
    }
    pose(sticks);
    return end;
}

End Way::go(Sticks& sticks) {
    if (!pose(sticks)) return End::links;
    const bool some_give_way = std::ranges::any_of(aims_, &Aim::keep);
    End end = End::sticks;
    for (int count = 0; count < most_steps; ++count) {
        const Eigen::VectorXd left_now = left(sticks);
        if (there(left_now) && !some_give_way) return End::there;
        if (free_.empty()) return there(left_now) ? End::there : End::no_help;
        if (!solver_.linearise()) return End::dead_point;
        Eigen::VectorXd by = step(sticks, left_now);
        if (!by.allFinite()) return End::dead_point;
        end = End::no_help;
        if (by.norm() < none) break;
        if (by.norm() > longest_step) by *= longest_step / by.norm();
        end = follow(sticks, by, left_now);
        if (end != End::there) break;
        end = End::sticks;
    }
    return there(left(sticks)) ? End::there : end;
}

bool same(double a, double b) {
    return std::abs(a - b) < 1e-6;
}

/// The sticks' end that stands in the way, in words.
std::string end_words(const head::Mixing& mixing, const Sticks& sticks, const SteerBy& by) {
    const double out = head::cyclic_out(mixing.cyclic_stick, sticks.aileron, sticks.elevator);
    const double most = head::most_cyclic_out(mixing, sticks.collective);
    const bool cyclic = (by.aileron || by.elevator) && out > most - 1e-6;
    if (by.rudder && same(std::abs(sticks.rudder), 1)) return "The rudder stick is at its end.";
    if (by.collective && same(std::abs(sticks.collective), std::min(1.0, mixing.combined_limit)))
        return cyclic ? "The collective and the cyclic stick are at their end." : "The collective stick is at its end.";
    if (cyclic && most < 1 - 1e-6)
        return "The cyclic stick is at its end: with so much collective the transmitter lets no more through.";
    if (cyclic) return "The cyclic stick is at its end.";
    return "The sticks are at their end.";
}

std::string why_not(End end, const head::Head& head, const Sticks& sticks, const SteerBy& by) {
    switch (end) {
        case End::there:
            return {};
        case End::sticks:
            return end_words(head.description().mixing, sticks, by);
        case End::links:
            return "Beyond this the links no longer reach.";
        case End::dead_point:
            return "The linkage stands at a dead point here: no stick says which way it goes on.";
        case End::no_help:
            break;
    }
    return "No stick brings it farther this way.";
}

}  // namespace

head::Result<Steered> steer(const head::Head& head, const Sticks& from, double azimuth_deg,
                            std::span<const double> hand_deg, std::span<const Aim> aims, const SteerBy& by) {
    const Sticks start = held(head.description().mixing, from);
    auto pose = head.pose(start, azimuth_deg, hand_deg);
    if (!pose) return tl::unexpected(pose.error());
    Way way(head, azimuth_deg, hand_deg, aims, by);
    Steered out{start, std::move(*pose), {}, false, {}};
    End end = way.go(out.sticks);
    if (auto found = head.pose(out.sticks, azimuth_deg, hand_deg)) {
        out.pose = std::move(*found);
    } else {  // poses that cannot be assembled lie between
        out.sticks = start;
        end = End::links;
    }
    out.there = true;
    for (const Aim& aim : aims) {
        out.reached.push_back(reading(out.pose, aim));
        if (!aim.keep && !(std::abs(out.reached.back() - aim.wanted) <= steered_within)) out.there = false;
    }
    if (!out.there) out.why_not = why_not(end == End::there ? End::links : end, head, out.sticks, by);
    return out;
}

std::string moved_words(const Sticks& before, const Sticks& now) {
    constexpr std::array<const char*, 4> names{"collective", "aileron", "elevator", "rudder"};
    std::string out;
    for (std::size_t i = 0; i < names.size(); ++i) {
        const double value = now.*all_sticks.at(i).second;
        if (std::abs(value - before.*all_sticks.at(i).second) < 0.005) continue;
        if (!out.empty()) out += ", ";
        out += fmt::format("{} {:+.2f}", names.at(i), std::abs(value) < 0.005 ? 0.0 : value);
    }
    return out;
}

}  // namespace swashwright::studies
