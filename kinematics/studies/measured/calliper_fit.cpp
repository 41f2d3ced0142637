#include "kinematics/studies/measured/calliper_fit.h"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "kinematics/head/all_slopes.h"
#include "kinematics/studies/measured/calliper_bench.h"
#include "kinematics/studies/measured/measured.h"

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using measured::Bench;
using measured::Conflict;
using measured::Fit;

constexpr double guessed_lengths = 100;  // times the usual fault; a judgement

/// A reading, or what the scene says in its place.
struct Row {
    double mm = 0, sd = 1;
    bool assumed = false, used = true;
};

double scene_sd(const head::Number& number, SceneNumbers scene) {
    const bool wide = scene == SceneNumbers::guessed && number.unit == head::Unit::mm;
    return number.usual_tolerance * (wide ? guessed_lengths : 1);
}

/// The direction in which the first ball of a lever stands off its pivot is seen, as angles are: x and y of that ball
/// move across it by no more than their usual fault.
struct SeenDirection {
    std::array<Index, 2> xy;
    Vec3 across;
    double sd;
};

std::vector<SeenDirection> seen_directions(const head::Description& d, const std::vector<head::Number>& numbers) {
    std::vector<SeenDirection> out;
    const auto find = [&](const std::string& path) {
        return static_cast<Index>(std::ranges::find(numbers, path, &head::Number::path) - numbers.begin());
    };
    for (std::size_t i = 0; i < d.levers.size(); ++i)
        for (std::size_t b = 0; b < d.levers[i].balls_mm.size(); ++b) {
            const Vec3& ball = d.levers[i].balls_mm[b];
            const double arm = std::hypot(ball.x(), ball.y());
            if (arm < 1) continue;
            const Index x = find(fmt::format("lever[{}].balls_mm[{}][1]", i + 1, b + 1));
            out.push_back(
                {{x, x + 1}, Vec3(-ball.y(), ball.x(), 0) / arm, numbers[static_cast<std::size_t>(x)].usual_tolerance});
            break;
        }
    return out;
}

class Search {
public:
    Search(const head::Head& start, SceneNumbers scene, std::vector<CalliperPlace> places)
        : start_(start.description()), scene_(scene), places_(std::move(places)), bench_(start) {}

    /// A reading of `places_[place]`, middle to middle.
    void add(std::size_t place, double mm, double sd) {
        read_.push_back(place);
        rows_.push_back({mm, sd, false, true});
    }
    void run() {
        assume();
        const VectorXd from = fit_.x;
        const bool mid = std::ranges::any_of(read_, [&](std::size_t p) { return places_[p].at_mid_stick(); });
        set_mid_stick(false);
        solve();
        find_conflicts();
        bench_.follow(from, fit_.x);
        if (!mid) return;
        set_mid_stick(true);
        without_mid_stick_ = !solve();
        if (without_mid_stick_) {
            set_mid_stick(false);
            solve();
        } else {
            // Those of which no one was left out are found again.
            std::erase_if(conflicts_, [](const Conflict& found) { return !found.left_out; });
            find_conflicts();
        }
    }
    tl::expected<CalliperFit, std::string> result();

private:
    void assume() {
        fit_.x = bench_.numbers_of(start_);
        for (const head::Number& number : bench_.numbers())
            rows_.push_back({number.value(start_), scene_sd(number, scene_), true, true});
        seen_ = seen_directions(start_, bench_.numbers());
        for (const SeenDirection& seen : seen_) rows_.push_back({0, seen.sd, true, true});
    }
    void set_mid_stick(bool used) {
        for (std::size_t i = 0; i < read_.size(); ++i)
            if (places_[read_[i]].at_mid_stick()) rows_[i].used = used;
    }
    bool evaluate(Fit& fit) {
        std::vector<const CalliperPlace*> asked;
        std::vector<Index> row_of;
        for (std::size_t i = 0; i < read_.size(); ++i)
            if (rows_[i].used || !places_[read_[i]].at_mid_stick()) {
                asked.push_back(&places_[read_[i]]);
                row_of.push_back(static_cast<Index>(i));
            }
        VectorXd value;
        MatrixXd slopes;
        if (!fit.x.allFinite() || !bench_.read(asked, fit.x, value, slopes)) return false;
        const auto rows = static_cast<Index>(rows_.size()), readings = static_cast<Index>(read_.size());
        const Index n = fit.x.size();
        fit.jacobian = MatrixXd::Zero(rows, n);
        fit.residual = VectorXd::Zero(rows);
        for (std::size_t k = 0; k < asked.size(); ++k) {
            fit.jacobian.row(row_of[k]) = slopes.row(static_cast<Index>(k));
            fit.residual[row_of[k]] = rows_[static_cast<std::size_t>(row_of[k])].mm - value[static_cast<Index>(k)];
        }
        fit.jacobian.middleRows(readings, n).setIdentity();
        const VectorXd moved = fit.x - bench_.numbers_of(start_);
        fit.residual.segment(readings, n) = -moved;
        for (std::size_t s = 0; s < seen_.size(); ++s)
            for (int k = 0; k < 2; ++k) {
                const Index row = readings + n + static_cast<Index>(s), i = seen_[s].xy[static_cast<std::size_t>(k)];
                fit.jacobian(row, i) = seen_[s].across[k];
                fit.residual[row] -= seen_[s].across[k] * moved[i];
            }
        return fit.residual.allFinite() && fit.jacobian.allFinite();
    }
    bool solve() {
        return measured::least_squares(
            rows_, [&](Fit& fit) { return evaluate(fit); }, fit_);
    }
    void find_conflicts() {
        for (Conflict& found : measured::find_conflicts(rows_, fit_, contradiction_sds, [&](Fit&) { solve(); }))
            conflicts_.push_back(std::move(found));
    }
    /// As if the scene were guessed: what the readings tell of one another.
    MatrixXd covariance_of_guessed() const;
    void tell_readings(CalliperFit& out);
    /// Where to look first if the readings make no head.
    std::string farthest() const;
    void tell_pitch(const head::Head& head, CalliperFit& out);
    void tell_next(const VectorXd& pitch, CalliperFit& out);

    const head::Description& start_;
    SceneNumbers scene_;
    std::vector<CalliperPlace> places_;
    std::vector<std::size_t> read_;
    Bench bench_;
    std::vector<Row> rows_;  // readings, what the scene says of each number, directions seen
    std::vector<SeenDirection> seen_;
    Fit fit_;
    std::vector<Conflict> conflicts_;
    bool without_mid_stick_ = false;
};

MatrixXd Search::covariance_of_guessed() const {
    VectorXd weight = measured::weights(rows_);
    for (std::size_t i = 0; i < bench_.numbers().size(); ++i)
        weight[static_cast<Index>(read_.size() + i)] = 1 / scene_sd(bench_.numbers()[i], SceneNumbers::guessed);
    const MatrixXd rows = weight.asDiagonal() * fit_.jacobian;
    return (rows.transpose() * rows).ldlt().solve(MatrixXd::Identity(fit_.x.size(), fit_.x.size()));
}

void Search::tell_readings(CalliperFit& out) {
    constexpr double counts = 0.2;  // of a reading's own deviation: a slip of 15 times the usual error is found
    const MatrixXd guessed = covariance_of_guessed();
    for (std::size_t i = 0; i < read_.size(); ++i) {
        const Row& row = rows_[i];
        const CalliperPlace& place = places_[read_[i]];
        const auto r = static_cast<Index>(i);
        PlacedReading told{place, row.mm, row.sd, bench_.start_value(place), {}, 0, row.used};
        if (without_mid_stick_ && fit_.jacobian.row(r).squaredNorm() == 0) {  // not looked at
            out.readings.push_back(std::move(told));
            continue;
        }
        told.fitted = row.mm - fit_.residual[r];
        /// Of the residual, over the reading's own; of a reading that is left out, if it were used.
        const auto share = [&](const MatrixXd& covariance) {
            const double tells = (fit_.jacobian.row(r) * covariance * fit_.jacobian.row(r).transpose()).value();
            const double square = tells / (row.sd * row.sd);
            return std::sqrt(std::max(0.0, row.used ? 1 - square : 1 / (1 + square)));
        };
        told.checked_by = share(guessed) > counts           ? CheckedBy::readings
                          : share(fit_.covariance) > counts ? CheckedBy::scene
                                                            : CheckedBy::nothing;
        if (told.checked_by != CheckedBy::nothing) {
            const double own = share(fit_.covariance) * row.sd;
            told.times = std::abs(fit_.residual[r]) * (row.used ? 1 / own : own / (row.sd * row.sd));
        }
        out.readings.push_back(std::move(told));
    }
}

/// At every 30 degrees of the turn, sticks in the middle.
void Search::tell_pitch(const head::Head& head, CalliperFit& out) {
    const std::vector<head::Number>& numbers = bench_.numbers();
    head::Solver solver(head);
    head::AllSlopes slopes(head, numbers);
    VectorXd worst;
    for (int azimuth = 0; azimuth < 360; azimuth += 30) {
        if (!solver.pose(head::Sticks{}, azimuth) || !slopes.at(solver)) continue;
        const MatrixXd pitch = slopes.by_numbers(solver).middleRows(head::AllSlopes::first_pitch,
                                                                    static_cast<Index>(head.parts().grips.size()));
        const MatrixXd together = pitch * fit_.covariance;
        for (Index blade = 0; blade < pitch.rows(); ++blade) {
            const double sd = std::sqrt(together.row(blade).dot(pitch.row(blade)));
            if (sd > out.pitch_sd_deg.value_or(0)) {
                out.pitch_sd_deg = sd;
                worst = pitch.row(blade);
            }
            for (std::size_t i = 0; i < numbers.size(); ++i) {
                CalliperNumber& number = out.numbers[i];
                if (!(number.sd > 0)) continue;
                const double goes = std::abs(together(blade, static_cast<Index>(i))) / number.sd;
                number.pitch_deg = std::max(number.pitch_deg.value_or(0), goes);
            }
        }
    }
    if (worst.size() > 0) tell_next(worst, out);
}

void Search::tell_next(const VectorXd& pitch, CalliperFit& out) {
    constexpr double worth_it = 0.98;  // of what the pitch is known to now
    std::vector<const CalliperPlace*> open;
    for (std::size_t p = 0; p < places_.size(); ++p)
        if (std::ranges::find(read_, p) == read_.end()) open.push_back(&places_[p]);
    VectorXd value;
    MatrixXd slopes;
    if (open.empty() || !bench_.read(open, fit_.x, value, slopes)) return;
    const VectorXd along = fit_.covariance * pitch;
    double least = worth_it * *out.pitch_sd_deg;
    for (std::size_t p = 0; p < open.size(); ++p) {
        const auto row = slopes.row(static_cast<Index>(p));
        const double gain = (row * along).value();
        const double doubt = open[p]->sd * open[p]->sd + (row * fit_.covariance * row.transpose()).value();
        const double left = std::sqrt(std::max(0.0, pitch.dot(along) - gain * gain / doubt));
        if (left >= least) continue;
        least = left;
        out.next = CalliperFit::Next{*open[p], left};
    }
}

std::string Search::farthest() const {
    std::string place;
    double most = 0;
    for (std::size_t i = 0; i < read_.size(); ++i) {
        const double off = std::abs(rows_[i].mm - bench_.start_value(places_[read_[i]]).value_or(rows_[i].mm));
        if (off <= most) continue;
        most = off;
        place = places_[read_[i]].words;
    }
    return place.empty()
               ? place
               : fmt::format(". The reading \"{}\" is farthest from the scene, by {:.2f} mm: look there for a slip",
                             place, most);
}

tl::expected<CalliperFit, std::string> Search::result() {
    CalliperFit out;
    if (!fit_.x.allFinite() || !fit_.covariance.allFinite())
        return tl::unexpected(std::string("The readings fit no head at all: look for a slip by a factor or a sign."));
    const auto head = head::Head::build(bench_.described(fit_.x));
    if (!head) return tl::unexpected(head.error().message + farthest());
    out.head = start_;
    bench_.set(fit_.x, out.head);
    const std::vector<head::Number>& numbers = bench_.numbers();
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        const auto k = static_cast<Index>(i);
        const head::Number& number = numbers[i];
        out.numbers.push_back({number.path, number.label, number.part, number.unit, number.value(start_), fit_.x[k],
                               scene_sd(number, scene_), std::sqrt(fit_.covariance(k, k)), std::nullopt});
    }
    tell_readings(out);
    out.conflicts = conflicts_;
    out.places = places_;
    out.without_mid_stick = without_mid_stick_;
    if (const head::Failure* failure = head->neutral_failure()) {
        out.does_not_close = failure->message;
        return out;
    }
    bench_.copy_place(out.head);
    tell_pitch(*head, out);
    return out;
}

/// A link that was measured has no error beyond its length.
head::Description with_whole_lengths(head::Description d, const CalliperReadings& readings) {
    const auto whole = [&](std::vector<head::Link>& links, const char* path) {
        for (std::size_t i = 0; i < links.size(); ++i) {
            const std::string key = fmt::format("{}[{}]", path, i + 1);
            if (std::ranges::find(readings.list, key, &CalliperReading::place) == readings.list.end()) continue;
            links[i].length_mm = links[i].actual_mm();
            links[i].error_mm = 0;
        }
    };
    whole(d.lower_links, "lower_link");
    whole(d.upper_links, "upper_link");
    whole(d.links, "link");
    return d;
}

}  // namespace

Told CalliperNumber::told() const {
    constexpr double hardly = 0.95, half = 0.5;
    return sd > hardly * sd_before ? Told::no : sd > half * sd_before ? Told::partly : Told::yes;
}

tl::expected<CalliperFit, std::string> calliper_fit(const head::Head& start, const CalliperReadings& readings) {
    const auto head = head::Head::build(with_whole_lengths(start.description(), readings));
    if (!head) return tl::unexpected(head.error().message);
    std::vector<CalliperPlace> places = calliper_places(*head);
    Search search(*head, readings.scene, places);
    for (const CalliperReading& reading : readings.list) {
        const CalliperPlace* place = find_place(places, reading.place);
        if (!place) return tl::unexpected(fmt::format("This head has no place \"{}\".", reading.place));
        if (!std::isfinite(reading.mm))
            return tl::unexpected(fmt::format("The reading \"{}\" is not a number.", place->words));
        const auto mm = centre_to_centre(*place, reading.mm, reading.jaws, readings.sizes);
        if (!mm)
            return tl::unexpected(
                fmt::format("The reading \"{}\": {}.", place->words, cannot_lay(*place, readings.sizes)));
        search.add(static_cast<std::size_t>(place - places.data()), *mm, reading.sd_mm.value_or(place->sd));
    }
    search.run();
    return search.result();
}

}  // namespace swashwright::studies
