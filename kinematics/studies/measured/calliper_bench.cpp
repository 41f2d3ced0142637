#include "kinematics/studies/measured/calliper_bench.h"

#include <algorithm>

#include "kinematics/head/all_slopes.h"

namespace swashwright::studies::measured {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

std::vector<head::Number> numbers_of_metal(const head::Description& d) {
    std::vector<head::Number> out;
    for (head::Number& number : head::numbers(d))
        if (number.usual_tolerance > 0 && !head::is_error(number.kind) && number.kind != head::NumberKind::trim)
            out.push_back(std::move(number));
    return out;
}

Bench::Bench(const head::Head& start)
    : start_(start), numbers_(numbers_of_metal(start.description())), base_(head::mixer_kept(start)) {}

VectorXd Bench::numbers_of(const head::Description& d) const {
    VectorXd x(static_cast<Index>(numbers_.size()));
    for (std::size_t i = 0; i < numbers_.size(); ++i) x[static_cast<Index>(i)] = numbers_[i].value(d);
    return x;
}

void Bench::set(const VectorXd& x, head::Description& d) const {
    for (std::size_t i = 0; i < numbers_.size(); ++i) numbers_[i].at(d) = x[static_cast<Index>(i)];
}

head::Description Bench::described(const VectorXd& x) const {
    head::Description d = base_;
    set(x, d);
    return d;
}

bool Bench::read(const std::vector<const CalliperPlace*>& places, const VectorXd& x, VectorXd& value,
                 MatrixXd& slopes) {
    at_rest(places, x, value, slopes);
    if (std::ranges::none_of(places, &CalliperPlace::at_mid_stick)) return true;
    const auto head = head::Head::build(described(x));
    if (!head || head->neutral_failure()) return false;
    std::vector<linkage::Reading> slides;
    for (const CalliperPlace* place : places)
        if (place->at_mid_stick())
            slides.push_back(
                {{linkage::ReadingTerm::What::rate, place->slides.index, 0, Vec3(place->slide_sense, 0, 0)}});
    head::Solver solver(*head);
    head::AllSlopes all(*head, numbers_, std::move(slides));
    if (!solver.pose(head::Sticks{}, 0) || !all.at(solver)) return false;
    keep_place(*head, solver);
    const auto by_numbers = all.by_numbers(solver);
    Index row = all.own();
    for (std::size_t p = 0; p < places.size(); ++p) {
        if (!places[p]->at_mid_stick()) continue;
        value[static_cast<Index>(p)] += places[p]->slide_sense * solver.workspace().slide(places[p]->slides);
        slopes.row(static_cast<Index>(p)) += by_numbers.row(row++);
    }
    return true;
}

void Bench::follow(const VectorXd& from, const VectorXd& to) {
    constexpr int steps = 8;
    for (int i = 1; i <= steps; ++i) {
        const auto head = head::Head::build(described(from + (to - from) * (double(i) / steps)));
        if (!head || head->neutral_failure()) continue;
        head::Solver solver(*head);
        if (solver.pose(head::Sticks{}, 0)) keep_place(*head, solver);
    }
}

void Bench::copy_place(head::Description& to) const {
    to.swashplate.neutral_height_mm = base_.swashplate.neutral_height_mm;
    for (std::size_t i = 0; i < to.levers.size(); ++i)
        if (!to.levers[i].by_hand_deg) to.levers[i].angle_deg = base_.levers[i].angle_deg;
    for (std::size_t i = 0; i < to.sliders.size(); ++i) to.sliders[i].place_mm = base_.sliders[i].place_mm;
}

void Bench::at_rest(const std::vector<const CalliperPlace*>& places, const VectorXd& x, VectorXd& value,
                    MatrixXd& slopes) const {
    constexpr double step = 1e-3;  // mm or deg: third order leaves some 1e-9 of a slope, rounding 1e-11
    const auto values = [&](const VectorXd& at) {
        const head::Description d = described(at);
        const AtRest rest{d, head::assemble(d)};
        VectorXd out(static_cast<Index>(places.size()));
        for (std::size_t p = 0; p < places.size(); ++p) out[static_cast<Index>(p)] = places[p]->at_rest(rest);
        return out;
    };
    value = values(x);
    slopes.resize(value.size(), x.size());
    for (Index i = 0; i < x.size(); ++i) {
        VectorXd high = x, low = x;
        high[i] += step, low[i] -= step;
        slopes.col(i) = (values(high) - values(low)) / (2 * step);
    }
}

void Bench::keep_place(const head::Head& head, head::Solver& solver) {
    const linkage::Workspace& ws = solver.workspace();
    base_.swashplate.neutral_height_mm = solver.height_mm();
    for (std::size_t i = 0; i < base_.levers.size(); ++i)
        if (!base_.levers[i].by_hand_deg) base_.levers[i].angle_deg = ws.angle(head.parts().levers[i]) / degree;
    for (std::size_t i = 0; i < base_.sliders.size(); ++i)
        base_.sliders[i].place_mm = ws.slide(head.parts().sliders[i]);
}

}  // namespace swashwright::studies::measured
