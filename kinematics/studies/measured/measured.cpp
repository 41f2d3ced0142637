#include "kinematics/studies/measured/measured.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/all_slopes.h"
#include "kinematics/studies/measured/measured_fit.h"

namespace swashwright::studies {
namespace {

using namespace measured;

Vec3 direction(double azimuth_deg) {
    return {std::cos(azimuth_deg * degree), std::sin(azimuth_deg * degree), 0};
}

void fill_servos(const MeasuredLayout& layout, const Eigen::VectorXd& x, head::Description& d) {
    const auto get = [&](Unknown unknown, int j) { return x[unknown_index(unknown, j)]; };
    for (int j = 0; j < 3; ++j) {
        const auto& place = layout.servos[static_cast<std::size_t>(j)];
        head::Servo servo;
        servo.name = place.name;
        servo.horn_zero = direction(place.horn_azimuth_deg);
        servo.axis = direction(place.horn_azimuth_deg + (place.axis_left ? 90 : -90));
        servo.pivot_mm =
            Vec3(get(Unknown::servo_along, j) * servo.horn_zero + get(Unknown::servo_across, j) * servo.axis +
                 get(Unknown::servo_height, j) * Vec3::UnitZ());
        servo.horn_mm = get(Unknown::horn, j);
        d.servos.push_back(servo);
        d.swashplate.inner_balls.push_back(
            {x[unknown_index(Unknown::inner_radius)], place.ball_azimuth_deg, x[unknown_index(Unknown::inner_height)]});
    }
}

head::Link link_of(double length, double boss, double ball) {
    head::Link link;
    const double size = ball / link.ball_mm[0];  // socket and neck in the proportions of the usual ball
    link.length_mm = length;
    link.boss_mm = {boss, boss};
    link.ball_mm = {ball, ball};
    for (auto* sizes : {&link.socket_mm, &link.neck_mm})
        for (double& mm : *sizes) mm *= size;
    return link;
}

head::Description description_of(const MeasuredLayout& layout, const Eigen::VectorXd& x) {
    const auto get = [&](Unknown unknown, int index = 0) { return x[unknown_index(unknown, index)]; };
    head::Description d;
    d.name = layout.name;
    d.rotor = {layout.blades,      layout.direction,  get(Unknown::hub_height),
               layout.precone_deg, get(Unknown::tip), layout.head_speed_rpm};
    d.measured_from = head::Face{.height_mm = layout.block_height_mm};  // the bearing block, as the readings
    d.swashplate.lower_face_mm = -get(Unknown::lower_face);
    d.swashplate.neutral_height_mm = get(Unknown::ring_height);
    d.swashplate.guide_pin = {get(Unknown::guide_radius), layout.guide_azimuth_deg, 0};
    for (const double ahead : layout.driver_ahead_deg)
        d.swashplate.driver_pins.push_back({get(Unknown::driver_radius), ahead, 0});
    d.swashplate.driver_pins_as_list = d.swashplate.driver_pins.size() > 1;
    fill_servos(layout, x, d);
    for (int j = 0; j < 3; ++j)
        d.lower_links.push_back(link_of(get(Unknown::lower_link, j), get(Unknown::boss_lower), get(Unknown::ball)));
    for (int k = 0; k < layout.blades; ++k) {
        d.upper_links.push_back(link_of(get(Unknown::upper_link, k), get(Unknown::boss_upper), get(Unknown::ball)));
        d.swashplate.outer_balls.push_back({get(Unknown::outer_radius),
                                            layout.outer_ahead_deg + 360.0 * k / layout.blades,
                                            get(Unknown::outer_height)});
        head::Grip grip;
        grip.pitch_arm = {get(Unknown::along), get(Unknown::lead), get(Unknown::up)};
        d.grips.push_back(grip);
    }
    d.mixing.collective_deg = layout.trailing_arm ? -layout.collective_deg : layout.collective_deg;
    d.mixing.cyclic_deg = layout.cyclic_deg;
    return d;
}

/// How an unknown enters the head: how fast each number of the description grows with it.
struct Entry {
    std::string path;  // as in a scene file
    double rate;
};

/// An unknown that is a number of the head, in words.
struct Told {
    Unknown unknown;
    int index;
    std::string words, part;
    std::vector<Entry> entries;
};

std::vector<Told> told_servo(const MeasuredLayout& layout, int j) {
    const auto& servo = layout.servos[static_cast<std::size_t>(j)];
    const Vec3 u = direction(servo.horn_azimuth_deg);
    const Vec3 k = direction(servo.horn_azimuth_deg + (servo.axis_left ? 90 : -90));
    const std::string part = fmt::format("servo[{}]", j + 1), of = "servo " + servo.name;
    return {
        {Unknown::horn, j, of + ", horn length", part, {{fmt::format("servo[{}].horn_mm", j + 1), 1}}},
        {Unknown::servo_height, j, of + ", pivot height", part, {{fmt::format("servo[{}].pivot_mm[3]", j + 1), 1}}},
        {Unknown::servo_along,
         j,
         of + ", pivot along horn",
         part,
         {{fmt::format("servo[{}].pivot_mm[1]", j + 1), u.x()}, {fmt::format("servo[{}].pivot_mm[2]", j + 1), u.y()}}},
        {Unknown::servo_across,
         j,
         of + ", ball across horn",
         part,
         {{fmt::format("servo[{}].pivot_mm[1]", j + 1), k.x()}, {fmt::format("servo[{}].pivot_mm[2]", j + 1), k.y()}}}};
}

std::vector<Told> told_numbers(const MeasuredLayout& layout) {
    using U = Unknown;
    const auto each = [](const char* path, int n) {
        std::vector<Entry> out;
        for (int i = 0; i < n; ++i) out.push_back({fmt::format(fmt::runtime(path), i + 1), 1});
        return out;
    };
    const int n = layout.blades, pins = static_cast<int>(layout.driver_ahead_deg.size());
    std::vector<Told> out{
        {U::ball, 0, "balls, diameter", "", {}},
        {U::boss_lower, 0, "lower links, boss", "", {}},
        {U::boss_upper, 0, "upper links, boss", "", {}},
        {U::lower_face, 0, "tilt centre above ring's lower face", "swashplate", {}},
        {U::ring_height, 0, "tilt centre at mid travel", "swashplate", {}},
        {U::inner_radius, 0, "inner balls, radius", "swashplate.inner_balls[1]",
         each("swashplate.inner_balls[{}].radius_mm", 3)},
        {U::inner_height, 0, "inner balls, height", "swashplate.inner_balls[1]",
         each("swashplate.inner_balls[{}].height_mm", 3)},
        {U::outer_radius, 0, "outer balls, radius", "swashplate.outer_balls[1]",
         each("swashplate.outer_balls[{}].radius_mm", n)},
        {U::outer_height, 0, "outer balls, height", "swashplate.outer_balls[1]",
         each("swashplate.outer_balls[{}].height_mm", n)},
        {U::guide_radius, 0, "guide pin, radius", "swashplate.guide_pin", {}},
        {U::driver_radius, 0, "driver pins, radius", "swashplate.driver_pin",
         each(pins > 1 ? "swashplate.driver_pins[{}].radius_mm" : "swashplate.driver_pin.radius_mm", pins)},
        {U::hub_height, 0, "hub height", "rotor", {{"rotor.hub_height_mm", 1}}},
        {U::along, 0, "pitch-arm balls, along", "grip[1]", each("grip[{}].pitch_arm.along_mm", n)},
        {U::lead, 0, "pitch-arm balls, lead", "grip[1]", each("grip[{}].pitch_arm.lead_mm", n)},
        {U::up, 0, "pitch-arm balls, up", "grip[1]", each("grip[{}].pitch_arm.up_mm", n)},
        {U::tip, 0, "blade tip, radius", "rotor", {}}};
    for (int j = 0; j < 3; ++j) std::ranges::move(told_servo(layout, j), std::back_inserter(out));
    for (int j = 0; j < 3; ++j)
        out.push_back({U::lower_link,
                       j,
                       fmt::format("lower link {}, length", j + 1),
                       fmt::format("lower_link[{}]", j + 1),
                       {{fmt::format("lower_link[{}].length_mm", j + 1), 1}}});
    for (int k = 0; k < n; ++k)
        out.push_back({U::upper_link,
                       k,
                       fmt::format("upper link {}, length", k + 1),
                       fmt::format("upper_link[{}]", k + 1),
                       {{fmt::format("upper_link[{}].length_mm", k + 1), 1}}});
    return out;
}

/// Slopes of every blade's pitch by every unknown, deg per mm; one column for each unknown.
using PitchSlopes = Eigen::MatrixXd;

/// What each unknown moves.
std::vector<head::AllSlopes::Together> moved_by(const head::Description& d, const std::vector<Told>& told,
                                                Eigen::Index unknowns) {
    std::vector<head::AllSlopes::Together> out(static_cast<std::size_t>(unknowns));
    const auto all = head::numbers(d);
    for (const Told& number : told)
        for (const Entry& entry : number.entries)
            if (const head::Number* found = head::find_number(all, entry.path))
                out[static_cast<std::size_t>(unknown_index(number.unknown, number.index))].emplace_back(*found,
                                                                                                        entry.rate);
    return out;
}

/// By how much one standard deviation of each number moves a blade, over mid stick and both ends of the collective,
/// blade 1 over the tail and to the side.
void add_pitch_effects(const head::Head& head, const std::vector<Told>& told, const Fit& fit, Measured& out) {
    head::Solver solver(head);
    head::AllSlopes all(head, moved_by(head.description(), told, fit.x.size()));
    for (const double collective : {0.0, 1.0, -1.0})
        for (const double azimuth : {0.0, 90.0}) {
            if (!solver.pose(head::Sticks{collective, 0, 0}, azimuth) || !all.at(solver)) continue;
            const PitchSlopes slopes =
                all.by_numbers(solver).middleRows(head::AllSlopes::first_pitch, head.description().rotor.blades);
            for (std::size_t i = 0; i < told.size(); ++i) {
                const double most =
                    slopes.col(unknown_index(told[i].unknown, told[i].index)).cwiseAbs().maxCoeff() * out.numbers[i].sd;
                out.numbers[i].pitch_deg = std::max(out.numbers[i].pitch_deg.value_or(0), most);
            }
            if (collective == 0 && azimuth == 0)
                out.pitch_sd_deg = std::sqrt((slopes.row(0) * fit.covariance * slopes.row(0).transpose()).value());
        }
}

/// The row whose own error makes most of an unknown's variance.
std::optional<ReadingPlace> most_of(const Fit& fit, const std::vector<Row>& rows, int unknown) {
    std::optional<ReadingPlace> out;
    double most = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const double gain = std::abs(
            (fit.jacobian.row(static_cast<Eigen::Index>(i)) * fit.covariance.col(unknown)).value() / rows[i].sd);
        if (!rows[i].used || gain <= most) continue;
        most = gain;
        out = rows[i].place;
    }
    return out;
}

void tell_numbers(const Fit& fit, const std::vector<Row>& rows, const std::vector<Told>& told, Measured& out) {
    constexpr double counts = 0.25;  // of the variance
    for (const Told& number : told) {
        const int i = unknown_index(number.unknown, number.index);
        out.numbers.push_back({number.words, number.part, fit.x[i], std::sqrt(fit.covariance(i, i)),
                               assumed_share(fit, rows, i) > counts, std::nullopt, most_of(fit, rows, i)});
    }
}

void fit_links(const MeasuredHead& measured, const Fit& fit, Measured& out) {
    const std::vector<Scalar> x = with_gradients(fit.x);
    const ExactRows rows(measured.layout, x);
    const auto add = [&](const char* which, Unknown unknown, Taking taking, int i, const Scalar& needed) {
        LinkFit link;
        const Scalar& length = rows.unknown(unknown, i);
        const Scalar over = length - needed;
        link.words = fmt::format("{} link {}", which, i + 1);
        link.part = fmt::format("{}_link[{}]", which, i + 1);
        link.measured_mm = length.value();
        link.needed_mm = needed.value();
        link.sd_mm =
            std::sqrt(std::max(0.0, (over.derivatives().transpose() * fit.covariance * over.derivatives()).value()));
        link.taken = measured.taken.contains({taking, i});
        out.links.push_back(std::move(link));
    };
    for (int j = 0; j < 3; ++j) add("lower", Unknown::lower_link, Taking::lower_link, j, rows.lower_needed(j));
    for (int k = 0; k < measured.layout.blades; ++k)
        add("upper", Unknown::upper_link, Taking::upper_link, k, rows.upper_needed(k));
}

void count_checked(const Fit& fit, const std::vector<Row>& rows, Measured& out) {
    constexpr double counts = 0.2;  // of a reading's own deviation: a slip of 15 times the usual error is found
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (rows[i].assumed) continue;
        ++out.readings;
        if (rows[i].used && residual_sd(fit, rows, i) > counts * rows[i].sd) ++out.checked;
    }
}

}  // namespace

tl::expected<Measured, std::string> measured_head(const MeasuredHead& measured) {
    const MeasuredLayout& layout = measured.layout;
    if (layout.blades < 2 || layout.blades > 6)
        return tl::unexpected(fmt::format("A head has 2 to 6 blades here, not {}.", layout.blades));
    Measured out;
    out.name = layout.name;
    for (const auto& [place, reading] : measured.taken) {
        if (place.index >= count(layout, place.taking)) continue;  // left from a head of more blades
        if (!std::isfinite(reading.mm) || !(reading.sd_mm.value_or(1) > 0))
            return tl::unexpected(fmt::format("The reading \"{}\" is not a number.", words(layout, place)));
        const TakingInfo& usual = info(place.taking);
        if (reading.mm < usual.low || reading.mm > usual.high) out.unusual.push_back(place);
    }
    std::vector<Row> rows = rows_of(measured);
    Fit fit;
    fit.x = start(layout);
    assume(layout, rows, fit.x, out);
    solve(layout, rows, fit);
    if (!fit.x.allFinite() || !fit.covariance.allFinite())
        return tl::unexpected(std::string("The readings fit no head at all: look for a slip by a factor or a sign."));
    find_contradictions(layout, rows, fit, out);
    const std::vector<Told> told = told_numbers(layout);
    out.head = description_of(layout, fit.x);
    tell_numbers(fit, rows, told, out);
    fit_links(measured, fit, out);
    count_checked(fit, rows, out);
    const auto head = head::Head::build(out.head);
    if (!head) return tl::unexpected(head.error().message);
    if (const head::Failure* failure = head->neutral_failure())
        out.does_not_close = failure->message;
    else
        add_pitch_effects(*head, told, fit, out);
    return out;
}

}  // namespace swashwright::studies
