#include "viewer/sheet/plots.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/stick_words.h"

namespace swashwright::sheet {
namespace {

using studies::PitchRange;

/// Nearer than this, in deg, two lines are one on paper.
constexpr double same_line_deg = 0.01;
constexpr double same_line_nmm = 0.5;  // likewise, N mm

/// Adds a line, or `more` to the name of one that runs in the same place.
void add_line(Plot& plot, Line added, double same, const std::string& more) {
    for (Line& line : plot.lines) {
        if (!std::ranges::equal(line.y, added.y, [&](double a, double b) { return std::abs(a - b) < same; })) continue;
        line.name += ", " + more;
        return;
    }
    plot.lines.push_back(std::move(added));
}

void add_blade(Plot& plot, int blade, std::vector<double> x, std::vector<double> y) {
    const std::string number = std::to_string(blade + 1);
    add_line(plot, {"blade " + number, blade, std::move(x), std::move(y), true}, same_line_deg, number);
}

/// "blade 1, 2" to "blades 1, 2".
void name_lines(Plot& plot) {
    for (Line& line : plot.lines)
        if (line.name.starts_with("blade ") && line.name.find(',') != std::string::npos)
            line.name.replace(0, 5, "blades");
}

/// Between two rows by the cubic that has their values and their exact slopes (Hermite).
double between(const studies::CollectiveRow& a, const studies::CollectiveRow& b, std::size_t blade, double t) {
    const double step = b.collective - a.collective;
    const double t2 = t * t, t3 = t2 * t;
    return (2 * t3 - 3 * t2 + 1) * a.mean_deg[blade] + (t3 - 2 * t2 + t) * step * a.slope_deg[blade] +
           (3 * t2 - 2 * t3) * b.mean_deg[blade] + (t3 - t2) * step * b.slope_deg[blade];
}

void add_mean(Plot& plot, const PitchRange& range, std::size_t blade) {
    constexpr int pieces = 8;
    std::vector<double> x, y;
    for (std::size_t i = 0; i + 1 < range.collective.size(); ++i) {
        const auto &a = range.collective[i], &b = range.collective[i + 1];
        for (int n = i == 0 ? 0 : 1; n <= pieces; ++n) {
            const double t = static_cast<double>(n) / pieces;
            x.push_back(a.collective + t * (b.collective - a.collective));
            y.push_back(between(a, b, blade, t));
        }
    }
    add_blade(plot, static_cast<int>(blade), std::move(x), std::move(y));
}

struct Ends {
    double low = 0, high = 0;
};

/// Lowest and highest that any blade comes to with aileron or elevator as far as it goes at one collective.
Ends with_cyclic(const PitchRange& range, double collective) {
    Ends ends{1e300, -1e300};
    for (const studies::TurnRow& row : range.cyclic) {
        if (row.sticks.collective != collective) continue;
        for (const studies::Harmonics& h : row.pitch_deg) {
            ends.low = std::min(ends.low, h.mean - h.first().amplitude());
            ends.high = std::max(ends.high, h.mean + h.first().amplitude());
        }
    }
    return ends;
}

/// 1, 2 or 5 times a power of ten, so that at most `most` steps cover the range.
double step_for(double range, int most) {
    const double least = range / most, power = std::pow(10, std::floor(std::log10(least)));
    for (const double factor : {1.0, 2.0, 5.0})
        if (factor * power >= least * (1 - 1e-9)) return factor * power;
    return 10 * power;
}

}  // namespace

Range y_range(const Plot& plot) {
    double low = 1e300, high = -1e300;
    for (const Line& line : plot.lines)
        for (const double y : line.y) low = std::min(low, y), high = std::max(high, y);
    if (low > high) low = high = 0;
    if (high - low < 1) low -= 0.5, high += 0.5;
    const double step = step_for(high - low, 8);
    return {std::floor(low / step - 1e-9) * step, std::ceil(high / step + 1e-9) * step, step};
}

Plot range_plot(const PitchRange& range, const head::Description& description) {
    const bool tail = studies::is_tail(description);
    Plot plot{tail ? "Pitch over the rudder stick, right positive"
                   : "Mean pitch over the collective stick; thin: highest and lowest with full cyclic",
              tail ? "rudder stick" : "collective stick",
              "pitch, deg",
              -1,
              1,
              0.5,
              1,
              {},
              {"range",
               "The plot's numbers: lowest and highest mean pitch of the blades, and what full cyclic makes of it",
               {{"collective", "stick", "", 1, true},
                {"mean_low_deg", "mean, lowest", "deg", 2, true},
                {"mean_high_deg", "highest", "deg", 2, true},
                {"low_deg", "with cyclic, lowest", "deg", 2, true},
                {"high_deg", "highest", "deg", 2, true}},
               {},
               {}}};
    for (std::size_t k = 0; k < range.collective.front().mean_deg.size(); ++k) add_mean(plot, range, k);
    name_lines(plot);
    if (tail) {
        plot.numbers.title = "The plot's numbers: lowest and highest pitch of the blades";
        plot.numbers.columns = {{"rudder", "rudder", "", 1, true},
                                {"mean_low_deg", "lowest", "deg", 2, true},
                                {"mean_high_deg", "highest", "deg", 2, true}};
        for (const studies::CollectiveRow& row : range.collective) {
            const auto [least, most] = std::ranges::minmax(row.mean_deg);
            plot.numbers.rows.push_back({row.collective, least, most});
        }
        return plot;
    }
    Line high{"highest with full cyclic", 0, {}, {}, false}, low{"lowest with full cyclic", 0, {}, {}, false};
    for (const studies::CollectiveRow& row : range.collective) {
        const auto [least, most] = std::ranges::minmax(row.mean_deg);
        std::vector<studies::Cell> cells{row.collective, least, most, {}, {}};
        if (row.collective == std::round(row.collective)) {  // full cyclic is known at the ends and in the middle
            const Ends ends = with_cyclic(range, row.collective);
            high.x.push_back(row.collective), high.y.push_back(ends.high);
            low.x.push_back(row.collective), low.y.push_back(ends.low);
            cells[3] = ends.low, cells[4] = ends.high;
        }
        plot.numbers.rows.push_back(std::move(cells));
    }
    plot.lines.push_back(std::move(high));
    plot.lines.push_back(std::move(low));
    return plot;
}

namespace {

const char* turn_label(bool tail) {
    return tail ? "rotor azimuth, deg (blade 1 from pointing away from the nose, in the direction of rotation)"
                : "rotor azimuth, deg (blade 1 from over the tail, in the direction of rotation)";
}

}  // namespace

Plot turn_plot(const studies::TurnCurve& curve, const head::Sticks& sticks, const head::Description& description) {
    const bool tail = studies::is_tail(description);
    Plot plot{"Pitch through one turn: " + studies::stick_words(description.kind, sticks),
              turn_label(tail),
              "pitch, deg",
              0,
              360,
              90,
              0,
              {},
              {"turn",
               "Of each blade over the turn",
               {{"blade", "blade", "", 0},
                {"mean_deg", "mean", "deg", 2, true},
                {"least_deg", "least", "deg", 2, true},
                {"most_deg", "most", "deg", 2, true}},
               {},
               {}}};
    std::vector<double> azimuth = curve.azimuth_deg;
    azimuth.push_back(360);
    for (std::size_t k = 0; k < curve.blades.size(); ++k) {
        const studies::BladeTurn& blade = curve.blades[k];
        std::vector<double> pitch = blade.pitch_deg;
        pitch.push_back(pitch.front());
        add_blade(plot, static_cast<int>(k), azimuth, std::move(pitch));
        plot.numbers.rows.push_back({static_cast<double>(k + 1), blade.mean_deg, blade.least_deg, blade.most_deg});
    }
    name_lines(plot);
    return plot;
}

Plot loads_plot(const studies::LoadTurn& turn, const head::Sticks& sticks, std::optional<double> azimuth_deg,
                const head::Description& description) {
    Plot plot{fmt::format("What servos hold through one turn in flight, from blade 1 {} on: {}",
                          studies::is_tail(description) ? "pointing away from the nose" : "over the tail",
                          studies::stick_words(description.kind, sticks)),
              "rotor azimuth, deg",
              "moment, N mm; above 0 the servo must raise what it moves, below 0 hold it down",
              0,
              360,
              90,
              0,
              {},
              {"loads",
               "Of each servo over the turn",
               {{"servo", "servo", ""}, {"least_nmm", "least", "N mm", 0, true}, {"most_nmm", "most", "N mm", 0, true}},
               {},
               {}}};
    std::vector<double> azimuth = turn.azimuth_deg;
    azimuth.push_back(360);
    double low = 0, high = 0;
    for (std::size_t j = 0; j < turn.horns_nmm.size(); ++j) {
        std::vector<double> moment = turn.horns_nmm[j];
        moment.push_back(moment.front());
        const auto [least, most] = std::ranges::minmax(moment);
        low = std::min(low, least), high = std::max(high, most);
        const std::string name = head::servo_words(description.servos[j]);
        plot.numbers.rows.push_back({name, least, most});
        add_line(plot, {name, static_cast<int>(j), azimuth, std::move(moment), true}, same_line_nmm, name);
    }
    if (azimuth_deg)
        plot.lines.push_back({fmt::format("rotor as it is, {:.0f} deg", *azimuth_deg),
                              0,
                              {*azimuth_deg, *azimuth_deg},
                              {low, high},
                              false});
    return plot;
}

Plot power_plot(const studies::Power& power, const char* marked, double marked_deg) {
    const double last = power.curve.back().pitch_deg, mark = std::min(last, std::abs(marked_deg));
    Plot plot{"Power over pitch at constant head speed; at negative pitch the same for a model on its back",
              "mean pitch, deg",
              "power at the rotor, W",
              0,
              last,
              2,
              0,
              {},
              {"power",
               "The plot's numbers",
               {{"pitch_deg", "pitch", "deg", 0},
                {"first_w", "before it has moved", "W", 0},
                {"climb_w", "in a steady climb", "W", 0}},
               {},
               {}}};
    Line first{"before it has moved", 0, {}, {}, true}, climb{"in a steady climb", 1, {}, {}, true};
    for (const studies::PitchRow& row : power.curve) {
        first.x.push_back(row.pitch_deg), first.y.push_back(row.standing_w);
        climb.x.push_back(row.pitch_deg), climb.y.push_back(row.climb.power_w);
        plot.numbers.rows.push_back({row.pitch_deg, row.standing_w, row.climb.power_w});
    }
    const double low = first.y.front() / 2, top = first.y.back();
    plot.lines = {std::move(first), std::move(climb)};
    if (const auto engine = power.craft.rotor_w())
        plot.lines.push_back({fmt::format("the engine's {:.0f} W", *engine), 3, {0, last}, {*engine, *engine}, true});
    plot.lines.push_back({fmt::format("{}, {:+.1f} deg", marked, marked_deg), 0, {mark, mark}, {low, top}, false});
    return plot;
}

EnvelopeMap envelope_map(const studies::Envelope& envelope) {
    using State = EnvelopeMap::State;
    EnvelopeMap map{
        envelope.kind == head::Kind::tail
            ? std::string("Stick envelope: the rudder upwards, each cell at its worst azimuth")
            : fmt::format(
                  "Stick envelope: collective upwards, cyclic stick from its centre to the edge of its {}, each "
                  "cell at its worst way and azimuth looked at; on the right how far it may go with every check kept "
                  "(1 = "
                  "full)",
                  word(envelope.mixing.cyclic_stick)),
        envelope.collective,
        envelope.cyclic,
        {},
        {}};
    for (std::size_t c = 0; c < map.collective.size(); ++c)
        for (std::size_t r = 0; r < map.cyclic.size(); ++r) {
            const double share = nearest(envelope, c, r).share;
            map.cells.push_back(!envelope.inside(c, r) ? State::beyond_sticks
                                : share < 0            ? State::fails
                                : share < 1            ? State::close
                                                       : State::free);
        }
    for (const studies::Disc& disc : envelope.discs) map.how_far.push_back(disc.cyclic);
    return map;
}

}  // namespace swashwright::sheet
