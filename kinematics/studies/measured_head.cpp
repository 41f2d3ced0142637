#include "kinematics/studies/measured_head.h"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <functional>
#include <unsupported/Eigen/AutoDiff>

#include "kinematics/head/solver.h"
#include "kinematics/studies/measured_rows.h"

namespace swashwright::studies {
namespace {

using measured::Rows;
using measured::Unknown;
using measured::unknown_count;
using measured::unknown_index;

constexpr int most_unknowns = 64;  // 22 single ones, 15 of the servos, and a link for each of 2 to 6 blades
using Gradient = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_unknowns, 1>;
using Scalar = Eigen::AutoDiffScalar<Gradient>;
using ExactRows = Rows<Scalar>;

/// An equation: `of` the unknowns should be `mm`.
struct Row {
    std::function<Scalar(const ExactRows&)> of;
    double mm = 0, sd = 1;
    ReadingPlace place;
    bool assumed = false;  // stands in for readings that were not taken
    bool used = true;
};

struct Fit {
    Eigen::VectorXd x;
    Eigen::MatrixXd jacobian;    // of all rows, used or not, at x
    Eigen::VectorXd residual;    // reading less what the numbers give
    Eigen::MatrixXd covariance;  // of x
};

std::vector<Scalar> with_gradients(const Eigen::VectorXd& x) {
    std::vector<Scalar> out;
    for (int i = 0; i < x.size(); ++i) out.emplace_back(x[i], static_cast<int>(x.size()), i);
    return out;
}

void evaluate(const MeasuredLayout& layout, const std::vector<Row>& rows, Fit& fit) {
    const std::vector<Scalar> x = with_gradients(fit.x);
    const ExactRows exact(layout, x);
    fit.jacobian.resize(static_cast<Eigen::Index>(rows.size()), fit.x.size());
    fit.residual.resize(static_cast<Eigen::Index>(rows.size()));
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Scalar value = rows[i].of(exact);
        fit.jacobian.row(static_cast<Eigen::Index>(i)) = value.derivatives().transpose();
        fit.residual[static_cast<Eigen::Index>(i)] = rows[i].mm - value.value();
    }
}

Eigen::VectorXd weights(const std::vector<Row>& rows) {
    Eigen::VectorXd out(static_cast<Eigen::Index>(rows.size()));
    for (std::size_t i = 0; i < rows.size(); ++i)
        out[static_cast<Eigen::Index>(i)] = rows[i].used ? 1 / rows[i].sd : 0.0;
    return out;
}

/// Least squares by Gauss's method; readings are nearly linear in the numbers, so it converges in a few steps.
void solve(const MeasuredLayout& layout, const std::vector<Row>& rows, Fit& fit) {
    constexpr int most_steps = 30;
    const Eigen::VectorXd weight = weights(rows);
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr;
    for (int step = 0; step < most_steps; ++step) {
        evaluate(layout, rows, fit);
        qr.compute(weight.asDiagonal() * fit.jacobian);
        const Eigen::VectorXd change = qr.solve(weight.cwiseProduct(fit.residual));
        fit.x += change;
        if (change.lpNorm<Eigen::Infinity>() < 1e-12 * (1 + fit.x.lpNorm<Eigen::Infinity>())) break;
    }
    evaluate(layout, rows, fit);
    qr.compute(weight.asDiagonal() * fit.jacobian);
    // (J'WJ)^-1 = (P R' R P')^-1
    const Eigen::Index n = fit.x.size();
    const Eigen::MatrixXd inverse =
        qr.matrixR().topLeftCorner(n, n).triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n));
    const Eigen::MatrixXd back = qr.colsPermutation() * inverse;
    fit.covariance = back * back.transpose();
}

struct Assumption {
    Row row;
    std::string sentence;  // what was assumed
};

/// In place of readings that were not taken; in the order of the unknowns. Sizes and their spread: common practice, no
/// source.
class Assumptions {
public:
    explicit Assumptions(const MeasuredLayout& layout) : layout_(layout) {
        using U = Unknown;
        value(U::ball, Taking::ball, "the balls' diameter", 4.8, 0.4);
        value(U::shaft, Taking::shaft, "the shaft's diameter", 10, 2);
        value(U::cross_bolt, Taking::cross_bolt, "the cross-bolt's diameter", 3, 1);
        value(U::barrel, Taking::barrel, "the grip barrel's diameter", 14, 4);
        value(U::boss_lower, Taking::boss_lower, "the lower links' boss diameter", 6, 0.8);
        value(U::boss_upper, Taking::boss_upper, "the upper links' boss diameter", 6, 0.8);
        value(U::sleeve, Taking::sleeve, "half the sleeve's length", 7, 3);
        difference(U::lower_face, U::upper_face, Taking::sleeve_below,
                   "the tilt centre was taken to be midway between the ring's faces", 0, 1);
        value(U::upper_face, Taking::faces, "the upper face above the tilt centre", 6, 3);
        value(U::inner_radius, Taking::inner_span, "the inner balls' radius", 25, 5);
        value(U::inner_height, Taking::inner_ball, "the inner balls' height above the tilt centre", 0, 1);
        difference(U::outer_radius, U::inner_radius, Taking::outer_span,
                   "the outer balls were taken to stand at the inner balls' radius", 0, 2);
        value(U::outer_height, Taking::outer_ball, "the outer balls' height above the tilt centre", 6, 2);
        value(U::ring_height, Taking::block_to_face, "the tilt centre above the datum", layout.block_height_mm + 40,
              10);
        difference(U::hub_height, U::ring_height, Taking::face_to_bolt,
                   "the feathering axis was taken to be 65 mm above the tilt centre", 65, 15);
        value(U::bolt_to_axis, Taking::bolt_to_axis, "the feathering axis above the cross-bolt", 0, 0.5);
        value(U::along, Taking::arm_along, "the arm ball along the blade", 10, 4);
        value(U::lead, Taking::arm_span, "the arm ball's lead", layout.trailing_arm ? -25 : 25, 5);
        value(U::up, Taking::arm_up, "the arm ball above the feathering axis", 0, 0.5);
        difference(U::guide_radius, U::inner_radius, Taking::guide_pin,
                   "the guide pin was taken to stand 9 mm further out than the inner balls", 9, 3);
        difference(U::driver_radius, U::outer_radius, Taking::driver_pin,
                   "the driver pins were taken to stand 6 mm further in than the outer balls", -6, 3);
        value(U::tip, Taking::tip, "the blade tip's radius", 600, 150);
        for (int j = 0; j < 3; ++j) servo(j);
        for (int j = 0; j < 3; ++j)
            add(Taking::lower_link, j,
                fmt::format("lower link {} was taken to be as long as a level ring needs", j + 1), 0, 0.5,
                [j](const ExactRows& r) { return Scalar(r.unknown(U::lower_link, j) - r.lower_needed(j)); });
        for (int k = 0; k < layout.blades; ++k)
            add(Taking::upper_link, k, fmt::format("upper link {} was taken to be as long as zero pitch needs", k + 1),
                0, 0.5, [k](const ExactRows& r) { return Scalar(r.unknown(U::upper_link, k) - r.upper_needed(k)); });
    }

    std::vector<Assumption> all;

private:
    void add(Taking taking, int index, std::string sentence, double mm, double sd,
             std::function<Scalar(const ExactRows&)> of) {
        all.push_back(
            {{std::move(of), mm, sd, {taking, index}, true, true}, fmt::format("{} (within {:.1f} mm)", sentence, sd)});
    }
    void value(Unknown unknown, Taking taking, const char* what, double mm, double sd, int index = 0) {
        add(taking, index, fmt::format("{} was taken to be {:.1f} mm", what, mm), mm, sd,
            [unknown, index](const ExactRows& r) { return r.unknown(unknown, index); });
    }
    void difference(Unknown a, Unknown b, Taking taking, const char* sentence, double mm, double sd) {
        add(taking, 0, sentence, mm, sd, [a, b](const ExactRows& r) { return Scalar(r.unknown(a) - r.unknown(b)); });
    }
    void servo(int j) {
        const std::string& name = layout_.servos[static_cast<std::size_t>(j)].name;
        value(Unknown::horn, Taking::horn, fmt::format("the horn of servo {}", name).c_str(), 14, 3, j);
        value(Unknown::servo_height, Taking::servo_height,
              fmt::format("the axis of servo {} above the datum", name).c_str(), layout_.block_height_mm + 10, 10, j);
        add(Taking::servo_along, j,
            fmt::format("lower link {} was taken to stand upright, seen across its horn", j + 1), 0, 1,
            [j](const ExactRows& r) { return r.upright_along(j); });
        add(Taking::servo_across, j,
            fmt::format("lower link {} was taken to stand upright, seen along its horn", j + 1), 0, 1,
            [j](const ExactRows& r) { return r.upright_across(j); });
    }

    const MeasuredLayout& layout_;
};

std::vector<Row> rows_of(const MeasuredHead& measured) {
    std::vector<Row> out;
    for (const ReadingPlace& place : reading_places(measured.layout)) {
        const auto found = measured.taken.find(place);
        if (found == measured.taken.end()) continue;
        out.push_back({[place](const ExactRows& r) { return r.reading(place); }, found->second.mm,
                       found->second.sd_mm.value_or(info(place.taking).sd), place, false, true});
    }
    return out;
}

/// A place to start from: near any head of the usual kind. The order is that of the unknowns.
Eigen::VectorXd start(const MeasuredLayout& layout) {
    Eigen::VectorXd x = Eigen::VectorXd::Constant(unknown_count(layout), 10);
    const auto set = [&](Unknown unknown, double value) { x[unknown_index(unknown)] = value; };
    set(Unknown::inner_radius, 25);
    set(Unknown::outer_radius, 25);
    set(Unknown::lead, layout.trailing_arm ? -25 : 25);
    set(Unknown::ring_height, layout.block_height_mm + 40);
    set(Unknown::hub_height, layout.block_height_mm + 105);
    // Horn balls apart from one another, whichever way the horns point: under the inner balls.
    for (int j = 0; j < 3; ++j) {
        const auto& servo = layout.servos[static_cast<std::size_t>(j)];
        const double turn = (servo.ball_azimuth_deg - servo.horn_azimuth_deg) * degree;
        x[unknown_index(Unknown::servo_along, j)] = 25 * std::cos(turn) - 10;
        x[unknown_index(Unknown::servo_across, j)] = 25 * std::sin(turn) * (servo.axis_left ? 1 : -1);
    }
    return x;
}

/// Adds an assumption for each unknown that the readings leave free.
void assume(const MeasuredLayout& layout, std::vector<Row>& rows, const Eigen::VectorXd& at, Measured& out) {
    for (const Assumption& assumption : Assumptions(layout).all) {
        const auto rank = [&](const std::vector<Row>& of) {
            Fit fit;
            fit.x = at;
            evaluate(layout, of, fit);
            Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(fit.jacobian);
            qr.setThreshold(1e-9);
            return of.empty() ? Eigen::Index{0} : qr.rank();
        };
        const Eigen::Index now = rank(rows);
        if (now == at.size()) return;
        rows.push_back(assumption.row);
        if (rank(rows) == now) {
            rows.pop_back();
            continue;
        }
        out.missing.push_back(assumption.row.place);
        out.taken_for_them.push_back(assumption.sentence);
    }
}

/// Standard deviation of a reading's residual; 0 if nothing else tells what the reading tells.
double residual_sd(const Fit& fit, const std::vector<Row>& rows, std::size_t i) {
    const auto row = fit.jacobian.row(static_cast<Eigen::Index>(i));
    const double square = rows[i].sd * rows[i].sd - (row * fit.covariance * row.transpose()).value();
    return square > 1e-6 * rows[i].sd * rows[i].sd ? std::sqrt(square) : 0.0;
}

/// One contradiction after another, the largest first. A reading that alone explains one is not used any more; where
/// several explain it equally well all stay in use.
void find_contradictions(const MeasuredLayout& layout, std::vector<Row>& rows, Fit& fit, Measured& out) {
    constexpr double as_well = 0.95;  // of the largest normalised residual
    std::vector<std::size_t> set_aside;
    for (std::size_t tries = 0; tries < rows.size(); ++tries) {
        std::vector<double> times(rows.size(), 0);
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const double sd = rows[i].used && !rows[i].assumed ? residual_sd(fit, rows, i) : 0;
            if (sd > 0) times[i] = std::abs(fit.residual[static_cast<Eigen::Index>(i)]) / sd;
        }
        const std::size_t worst = static_cast<std::size_t>(std::ranges::max_element(times) - times.begin());
        if (rows.empty() || times[worst] <= contradiction_sds) break;
        Contradiction found;
        found.times = times[worst];
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (times[i] < as_well * times[worst]) continue;
            const double sd = residual_sd(fit, rows, i), share = sd * sd / (rows[i].sd * rows[i].sd);
            found.places.push_back(rows[i].place);
            found.off_mm.push_back(fit.residual[static_cast<Eigen::Index>(i)] / share);
        }
        found.left_out = found.places.size() == 1;
        rows[worst].used = false;
        if (!found.left_out) set_aside.push_back(worst);
        out.contradictions.push_back(std::move(found));
        solve(layout, rows, fit);
    }
    if (set_aside.empty()) return;
    for (const std::size_t i : set_aside) rows[i].used = true;
    solve(layout, rows, fit);
}

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
    head::Measure measure;
    int index;
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
    using M = head::Measure;
    const auto& servo = layout.servos[static_cast<std::size_t>(j)];
    const Vec3 u = direction(servo.horn_azimuth_deg);
    const Vec3 k = direction(servo.horn_azimuth_deg + (servo.axis_left ? 90 : -90));
    const std::string part = fmt::format("servo[{}]", j + 1), of = "servo " + servo.name;
    return {
        {Unknown::horn, j, of + ", horn", part, {{M::horn_length, j, 1}}},
        {Unknown::servo_height, j, of + ", axis height", part, {{M::pivot_z, j, 1}}},
        {Unknown::servo_along, j, of + ", axis along horn", part, {{M::pivot_x, j, u.x()}, {M::pivot_y, j, u.y()}}},
        {Unknown::servo_across, j, of + ", ball across horn", part, {{M::pivot_x, j, k.x()}, {M::pivot_y, j, k.y()}}}};
}

std::vector<Told> told_numbers(const MeasuredLayout& layout) {
    using M = head::Measure;
    using U = Unknown;
    const auto each = [](M measure, int n) {
        std::vector<Entry> out;
        for (int i = 0; i < n; ++i) out.push_back({measure, i, 1});
        return out;
    };
    const int n = layout.blades, pins = static_cast<int>(layout.driver_ahead_deg.size());
    std::vector<Told> out{
        {U::ball, 0, "balls, diameter", "", {}},
        {U::boss_lower, 0, "lower links, boss", "", {}},
        {U::boss_upper, 0, "upper links, boss", "", {}},
        {U::lower_face, 0, "tilt centre above ring's lower face", "swashplate", {}},
        {U::ring_height, 0, "tilt centre at mid travel", "swashplate", {}},
        {U::inner_radius, 0, "inner balls, radius", "swashplate.inner_balls[1]", each(M::inner_ball_radius, 3)},
        {U::inner_height, 0, "inner balls, height", "swashplate.inner_balls[1]", each(M::inner_ball_height, 3)},
        {U::outer_radius, 0, "outer balls, radius", "swashplate.outer_balls[1]", each(M::outer_ball_radius, n)},
        {U::outer_height, 0, "outer balls, height", "swashplate.outer_balls[1]", each(M::outer_ball_height, n)},
        {U::guide_radius, 0, "guide pin, radius", "swashplate.guide_pin", {}},
        {U::driver_radius, 0, "driver pins, radius", "swashplate.driver_pin", each(M::driver_pin_radius, pins)},
        {U::hub_height, 0, "feathering axes, height", "rotor", {{M::hub_height, 0, 1}}},
        {U::along, 0, "pitch arm, along", "grip[1]", each(M::arm_along, n)},
        {U::lead, 0, "pitch arm, lead", "grip[1]", each(M::arm_lead, n)},
        {U::up, 0, "pitch arm, up", "grip[1]", each(M::arm_up, n)},
        {U::tip, 0, "blade tip, radius", "rotor", {}}};
    for (int j = 0; j < 3; ++j) std::ranges::move(told_servo(layout, j), std::back_inserter(out));
    for (int j = 0; j < 3; ++j)
        out.push_back({U::lower_link,
                       j,
                       fmt::format("lower link {}, length", j + 1),
                       fmt::format("lower_link[{}]", j + 1),
                       {{M::lower_length, j, 1}}});
    for (int k = 0; k < n; ++k)
        out.push_back({U::upper_link,
                       k,
                       fmt::format("upper link {}, length", k + 1),
                       fmt::format("upper_link[{}]", k + 1),
                       {{M::upper_length, k, 1}}});
    return out;
}

/// Slopes of every blade's pitch by every unknown, deg per mm; one column for each unknown.
using PitchSlopes = Eigen::MatrixXd;

PitchSlopes slopes_at(head::Solver& solver, const std::vector<Told>& told, Eigen::Index unknowns) {
    const head::Description& d = solver.head().description();
    PitchSlopes out = PitchSlopes::Zero(d.rotor.blades, unknowns);
    const auto all = head::parameters(d);
    head::Slopes slopes;
    for (const Told& number : told)
        for (const Entry& entry : number.entries) {
            const auto found = std::ranges::find_if(
                all, [&](const head::Parameter& p) { return p.measure == entry.measure && p.index == entry.index; });
            if (found == all.end()) continue;
            solver.slopes_by(*found, slopes);
            for (int blade = 0; blade < d.rotor.blades; ++blade)
                out(blade, unknown_index(number.unknown, number.index)) +=
                    entry.rate * slopes.pitch_deg[static_cast<std::size_t>(blade)];
        }
    return out;
}

/// By how much one standard deviation of each number moves a blade, over mid stick and both ends of the collective,
/// blade 1 over the tail and to the side.
void add_pitch_effects(const head::Head& head, const std::vector<Told>& told, const Fit& fit, Measured& out) {
    head::Solver solver(head);
    for (const double collective : {0.0, 1.0, -1.0})
        for (const double azimuth : {0.0, 90.0}) {
            if (!solver.pose(head::Sticks{collective, 0, 0}, azimuth) || !solver.linearise()) continue;
            const PitchSlopes slopes = slopes_at(solver, told, fit.x.size());
            for (std::size_t i = 0; i < told.size(); ++i) {
                const double most =
                    slopes.col(unknown_index(told[i].unknown, told[i].index)).cwiseAbs().maxCoeff() * out.numbers[i].sd;
                out.numbers[i].pitch_deg = std::max(out.numbers[i].pitch_deg.value_or(0), most);
            }
            if (collective == 0 && azimuth == 0)
                out.pitch_sd_deg = std::sqrt((slopes.row(0) * fit.covariance * slopes.row(0).transpose()).value());
        }
}

/// Share of a number's variance that comes from what was assumed.
double assumed_share(const Fit& fit, const std::vector<Row>& rows, int unknown) {
    double assumed = 0;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!rows[i].assumed) continue;
        const double gain =
            (fit.jacobian.row(static_cast<Eigen::Index>(i)) * fit.covariance.col(unknown)).value() / rows[i].sd;
        assumed += gain * gain;
    }
    return assumed / fit.covariance(unknown, unknown);
}

void tell_numbers(const Fit& fit, const std::vector<Row>& rows, const std::vector<Told>& told, Measured& out) {
    constexpr double counts = 0.25;  // of the variance
    for (const Told& number : told) {
        const int i = unknown_index(number.unknown, number.index);
        out.numbers.push_back({number.words, number.part, fit.x[i], std::sqrt(fit.covariance(i, i)),
                               assumed_share(fit, rows, i) > counts, std::nullopt});
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
