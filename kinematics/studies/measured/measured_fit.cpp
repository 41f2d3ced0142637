#include "kinematics/studies/measured/measured_fit.h"

#include <fmt/format.h>

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <utility>

namespace swashwright::studies::measured {

namespace {

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
        above_block(U::ring_height, Taking::block_to_face, "the tilt centre", 40);
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
    void above_block(Unknown unknown, Taking taking, const std::string& what, double mm, int index = 0) {
        add(taking, index, fmt::format("{} was taken to be {:.1f} mm above the bearing block", what, mm),
            layout_.block_height_mm + mm, 10,
            [unknown, index](const ExactRows& r) { return r.unknown(unknown, index); });
    }
    void difference(Unknown a, Unknown b, Taking taking, const char* sentence, double mm, double sd) {
        add(taking, 0, sentence, mm, sd, [a, b](const ExactRows& r) { return Scalar(r.unknown(a) - r.unknown(b)); });
    }
    void servo(int j) {
        const std::string& name = layout_.servos[static_cast<std::size_t>(j)].name;
        value(Unknown::horn, Taking::horn, fmt::format("the horn of servo {}", name).c_str(), 14, 3, j);
        above_block(Unknown::servo_height, Taking::servo_height, fmt::format("the pivot of servo {}", name), 10, j);
        add(Taking::servo_along, j,
            fmt::format("lower link {} was taken to stand upright, seen across its horn", j + 1), 0, 1,
            [j](const ExactRows& r) { return r.upright_along(j); });
        add(Taking::servo_across, j,
            fmt::format("lower link {} was taken to stand upright, seen along its horn", j + 1), 0, 1,
            [j](const ExactRows& r) { return r.upright_across(j); });
    }

    const MeasuredLayout& layout_;
};

}  // namespace

std::vector<Scalar> with_gradients(const Eigen::VectorXd& x) {
    std::vector<Scalar> out;
    for (int i = 0; i < x.size(); ++i) out.emplace_back(x[i], static_cast<int>(x.size()), i);
    return out;
}

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

void solve(const MeasuredLayout& layout, const std::vector<Row>& rows, Fit& fit) {
    least_squares(
        rows,
        [&](Fit& at) {
            evaluate(layout, rows, at);
            return at.residual.allFinite();
        },
        fit);
}

void assume(const MeasuredLayout& layout, std::vector<Row>& rows, const Eigen::VectorXd& at, Measured& out) {
    const auto rank = [&](const std::vector<Row>& of) {
        Fit fit;
        fit.x = at;
        evaluate(layout, of, fit);
        Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(fit.jacobian);
        qr.setThreshold(1e-9);
        return of.empty() ? Eigen::Index{0} : qr.rank();
    };
    Eigen::Index now = rank(rows);
    for (const Assumption& assumption : Assumptions(layout).all) {
        if (now == at.size()) return;
        rows.push_back(assumption.row);
        const Eigen::Index with = rank(rows);
        if (with == now) {
            rows.pop_back();
            continue;
        }
        now = with;
        out.missing.push_back(assumption.row.place);
        out.taken_for_them.push_back(assumption.sentence);
    }
}

void find_contradictions(const MeasuredLayout& layout, std::vector<Row>& rows, Fit& fit, Measured& out) {
    for (Conflict& found :
         find_conflicts(rows, fit, contradiction_sds, [&](Fit& again) { solve(layout, rows, again); })) {
        Contradiction told{{}, std::move(found.off), found.times, found.left_out};
        for (const std::size_t i : found.rows) told.places.push_back(rows[i].place);
        out.contradictions.push_back(std::move(told));
    }
}

}  // namespace swashwright::studies::measured
