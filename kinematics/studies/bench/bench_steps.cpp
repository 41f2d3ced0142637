#include "kinematics/studies/bench/bench_steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "kinematics/head/azimuth.h"
#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/pitch/ring.h"
#include "kinematics/studies/pitch/ring_seen.h"
#include "kinematics/studies/pitch/tracking.h"

namespace swashwright::studies {
namespace {

using head::Head;
using head::Result;
using head::Role;

// Common practice, no source.
constexpr double slip_mm = 8, slip_deg = 15;  // a reading farther off is one of another place, or a slip of the pen
constexpr double even_deg = 0.2;              // blades that agree so well agree: two marks of a pitch gauge
constexpr double travel_counts = 0.03;        // of the pitch range: what a transmitter's travel is worth setting by
constexpr double shown_rise = 0.3;            // stick by which a servo is asked to move

std::string blade_words(std::size_t blade) {
    return fmt::format("blade {}", blade + 1);
}

/// Rotor azimuth with a blade over the tail boom.
double over_tail_deg(const Head& head, std::size_t blade) {
    return head::within_turn_deg(-360.0 * static_cast<double>(blade) / head.description().rotor.blades);
}

std::string how_to_turn(const head::Link& link, double change_mm) {
    if (link.rod == head::Rod::turnbuckle)
        return fmt::format("Hold both ends, turn the hexagon so that the ends go {}; {:.2f} mm in all.",
                           change_mm > 0 ? "apart" : "together", std::abs(change_mm));
    return fmt::format(
        "One end off its ball. Turn it {}, seen with that end towards you; {:.2f} mm in all. Right-hand thread.",
        change_mm > 0 ? "anticlockwise" : "clockwise", std::abs(change_mm));
}

/// The nearest whole number of steps; of two that leave as much the smaller, as `tracking` and `lengths` have it.
int whole_steps(double exact) {
    constexpr double as_much = 0.02;  // of a step
    return static_cast<int>(std::copysign(std::max(0.0, std::ceil(std::abs(exact) - 0.5 - as_much)), exact));
}

class Steps {
public:
    Steps(const Head& head, const BenchReadings& read) : head_(head), read_(read) {}

    Result<std::vector<BenchStep>> all() {
        servos();
        for (auto stage : {&Steps::level, &Steps::zero, &Steps::ends, &Steps::track})
            if (const auto done = (this->*stage)(); !done) return tl::unexpected(done.error());
        return std::move(out_);
    }

private:
    /// What is read in one round: of each place the number typed, else none.
    struct Round {
        std::vector<std::optional<double>> typed;
        bool none() const {
            return std::ranges::none_of(typed, [](const auto& value) { return value.has_value(); });
        }
        bool all() const {
            return std::ranges::all_of(typed, [](const auto& value) { return value.has_value(); });
        }
    };

    void add(BenchStep step) { out_.push_back(std::move(step)); }

    std::optional<double> ask(BenchStep step) {
        const BenchReading reading = *step.reading;
        add(std::move(step));
        const auto found = read_.find(reading.key);
        if (found == read_.end() || !bench_slip(reading, found->second).empty()) return std::nullopt;
        return found->second;
    }

    /// `measured`: what was read asks for it, not the numbers of the open head.
    void turn(const std::string& stage, const head::PartName& name, int steps, double change_mm, bool measured) {
        const head::Link& link = *head::link_of(head_.description(), name);
        const LinkStep step = link_step(link);
        add({.stage = stage,
             .say = fmt::format("Make {} {} by {} {}.", head::link_words(head_.description(), name),
                                change_mm > 0 ? "longer" : "shorter", std::abs(steps),
                                std::abs(steps) == 1 ? step.one : step.many),
             .more =
                 (measured ? "" : "By the open head's numbers, nothing was measured. ") + how_to_turn(link, change_mm),
             .tool = BenchTool::hands,
             .way = change_mm > 0 ? BenchWay::longer : BenchWay::shorter,
             .part = head::path_of(name),
             .turn = BenchTurn{name, change_mm, steps, link.rod}});
    }

    void servos() {
        const std::string stage = "Servos";
        add({.stage = stage,
             .say = "Sticks centred, trims and sub-trims at zero. Stabiliser electronics in set-up mode, or off.",
             .more = "Curves straight, end points equal. Horns off their servos for the first power-up: one can run to "
                     "its end.",
             .tool = BenchTool::transmitter});
        const auto middle = head_.pose(head::Sticks{}, 0), up = head_.pose(head::Sticks{.collective = shown_rise}, 0);
        const auto& servos = head_.description().servos;
        for (std::size_t j = 0; middle && up && j < servos.size(); ++j) {
            const double rise = up->skeleton.horn_balls[j].z() - middle->skeleton.horn_balls[j].z();
            if (std::abs(rise) < 0.05) continue;  // mm: it takes no part in collective
            add({.stage = stage,
                 .say = fmt::format("Collective up a little: the horn ball of {} goes {}.",
                                    head::servo_words(servos[j]), rise > 0 ? "up" : "down"),
                 .more = "If it goes the other way, reverse that servo's channel in the transmitter, and look again.",
                 .tool = BenchTool::transmitter,
                 .way = rise > 0 ? BenchWay::ball_up : BenchWay::ball_down,
                 .part = head::path_of({Role::horn, static_cast<int>(j)}),
                 .sticks = {.collective = shown_rise}});
        }
        for (std::size_t j = 0; j < servos.size(); ++j)
            add({.stage = stage,
                 .say = fmt::format("Sticks centred: the horn of {} stands square to its link.",
                                    head::servo_words(servos[j])),
                 .more =
                     "First the nearest tooth of the spline, then sub-trim for the rest. Links off before power, on "
                     "again after.",
                 .tool = BenchTool::square,
                 .part = head::path_of({Role::horn, static_cast<int>(j)})});
    }

    Result<void> level() {
        const std::string stage = "Level ring";
        const auto open = ring(head_);
        const auto level = levelled(head_);
        if (!open || !level || !open->tilts) {
            add({.stage = stage,
                 .say = "Sticks centred: the ring stands level, all the way round.",
                 .more = !level ? "Which links to turn cannot be told of this head: " + level.error().message + "."
                                : "Set the links by the build sheet.",
                 .tool = BenchTool::calliper,
                 .part = "inner_ring"});
            return {};
        }
        const auto& balls = open->places.front().balls;
        for (int round = 1; round <= most_bench_rounds; ++round) {
            Round now;
            for (std::size_t j = 0; j < balls.size(); ++j) now.typed.push_back(ask(height(stage, *open, j, round)));
            if (now.none() && round > 1) return {};
            RingRequest request;
            for (std::size_t j = 0; j < balls.size(); ++j)
                request.seen_mm.push_back(now.none() ? balls[j].top_mm : now.typed[j]);
            const auto seen = seen_ring(head_, request);
            if (!seen) {
                add({.stage = stage,
                     .say = "These heights tell nothing yet: read three at least.",
                     .more = seen.error().message + ".",
                     .tool = BenchTool::calliper,
                     .part = "inner_ring"});
                return {};
            }
            stand_ = now.none() ? after(*seen) : *level;
            if (std::ranges::none_of(seen->turns, [](const LinkTurn& t) { return t.steps != 0; })) {
                add({.stage = stage,
                     .say = now.none() ? "By the open head's numbers the ring is level." : "The ring is level.",
                     .more = fmt::format("{}As near as the links can be set: {:.2f} deg and {:.2f} mm from it.{}",
                                         now.none() ? "Nothing was measured. " : "", seen->tilt_deg,
                                         std::abs(seen->height_mm),
                                         now.none() ? " Only heights that you read and type tell of your model." : ""),
                     .part = "inner_ring"});
                return {};
            }
            for (std::size_t j = 0; j < seen->turns.size(); ++j)
                if (const LinkTurn& t = seen->turns[j]; t.steps != 0)
                    turn(stage, {Role::lower_link, static_cast<int>(j)}, t.steps, t.change_mm, !now.none());
            if (now.none()) return {};
        }
        other_cause(stage, "The ring will not come level by its links.", "inner_ring");
        return {};
    }

    BenchStep height(const std::string& stage, const Ring& open, std::size_t j, int round) const {
        const RingBall& ball = open.places.front().balls[j];
        return {.stage = stage,
                .say = fmt::format("{}ead {}: the top of the ball above {}.", round == 1 ? "R" : "Once more: r",
                                   ball.words, open.face),
                .more = fmt::format("Sticks centred. Level: {:.2f} mm. On the head as it is open: {:.2f} mm.",
                                    ball.level_top_mm, ball.top_mm),
                .tool = BenchTool::calliper,
                .part = "inner_ring",
                .reading = BenchReading{fmt::format("height {}, round {}", j + 1, round), "height of " + ball.words,
                                        "mm", ball.level_top_mm, ball.top_mm, slip_mm}};
    }

    /// The head with links turned as the ring asks.
    Head after(const SeenRing& seen) const {
        head::Description set = head_.description();
        for (std::size_t j = 0; j < seen.turns.size(); ++j) set.lower_links[j].length_mm += seen.turns[j].change_mm;
        return Head::build(set).value_or(head_);
    }

    void other_cause(const std::string& stage, const std::string& say, const std::string& part) {
        add({.stage = stage,
             .say = say,
             .more = "Something else is off: a bent part, a wrong ball, a link that was not the one named. Ask which "
                     "part explains the readings, on the sheet of questions.",
             .part = part});
    }

    /// Pitch of each blade, itself over the tail, on the head as it stands by now.
    Result<std::vector<double>> pitches(const head::Sticks& sticks) const {
        std::vector<double> out;
        for (std::size_t k = 0; k < blades(); ++k) {
            const auto pose = stand_.pose(sticks, over_tail_deg(stand_, k));
            if (!pose) return tl::unexpected(pose.error());
            out.push_back(pose->pitch_deg[k]);
        }
        return out;
    }
    std::size_t blades() const { return static_cast<std::size_t>(head_.description().rotor.blades); }

    BenchStep gauge(const std::string& stage, std::size_t blade, const head::Sticks& sticks, const std::string& stick,
                    int round, double wanted, double as_open) const {
        return {.stage = stage,
                .say = fmt::format("{}{}, {} over the tail: read its pitch.", round == 1 ? "" : "Once more: ", stick,
                                   blade_words(blade)),
                .more = fmt::format("Wanted: {} deg. On the head as it is open: {} deg. Leading edge up is plus.",
                                    signed_figure(wanted, 1), signed_figure(as_open, 1)),
                .tool = BenchTool::pitch_gauge,
                .part = head::path_of({Role::blade, static_cast<int>(blade)}),
                .sticks = sticks,
                .azimuth_deg = over_tail_deg(head_, blade),
                .reading = BenchReading{fmt::format("{}, blade {}, round {}", stick, blade + 1, round),
                                        "pitch of " + blade_words(blade), "deg", wanted, as_open, slip_deg}};
    }

    /// Upper links that bring each blade from what it reads to zero, in whole steps; empty where no blade has its own.
    std::vector<LinkSetting> to_zero(const std::vector<std::optional<double>>& read) const {
        const auto track = tracking(stand_, head::Sticks{});
        if (!track) return {};
        std::vector<LinkSetting> out = track->settings;
        for (std::size_t k = 0; k < out.size(); ++k) {
            const double step = link_step(*head::link_of(head_.description(), out[k].link)).mm;
            out[k].exact_mm = read[k] ? -*read[k] / out[k].deg_per_mm : 0;
            out[k].steps = whole_steps(out[k].exact_mm / step);
            out[k].change_mm = out[k].steps * step;
        }
        return out;
    }

    /// Pitch that one step of an upper link makes, the largest: what zeroing by whole steps may leave.
    double step_deg() const {
        double out = 0;
        if (const auto track = tracking(stand_, head::Sticks{}))
            for (const LinkSetting& s : track->settings)
                out = std::max(out, std::abs(s.deg_per_mm) * link_step(*head::link_of(head_.description(), s.link)).mm);
        return out;
    }

    /// The head with its links set so.
    Head with(const std::vector<LinkSetting>& settings) const {
        head::Description set = stand_.description();
        for (const LinkSetting& s : settings) head::link_of(set, s.link)->length_mm += s.change_mm;
        return Head::build(set).value_or(stand_);
    }

    Result<void> zero() {
        const auto open = pitches(head::Sticks{});
        if (!open) return tl::unexpected(open.error());
        const std::vector<LinkSetting> as_open = to_zero({open->begin(), open->end()});
        read_to_zero(*open, as_open);
        stand_ = with(as_open);  // and so the model stands, whatever was wrong with it
        return {};
    }

    /// `as_open`: what to turn where nothing is read.
    void read_to_zero(const std::vector<double>& open_deg, const std::vector<LinkSetting>& as_open) {
        const std::string stage = "Zero pitch";
        for (int round = 1; round <= most_bench_rounds; ++round) {
            Round now;
            for (std::size_t k = 0; k < blades(); ++k)
                now.typed.push_back(ask(gauge(stage, k, head::Sticks{}, "Sticks centred", round, 0, open_deg[k])));
            if (now.none() && round > 1) return;
            const std::vector<LinkSetting> settings = now.none() ? as_open : to_zero(now.typed);
            if (settings.empty())
                return add({.stage = stage,
                            .say = "Every blade at zero with the sticks centred.",
                            .more = "No blade of this head has an upper link of its own: ask how long its links must "
                                    "be, on the sheet of questions."});
            if (std::ranges::none_of(settings, [](const LinkSetting& s) { return s.steps != 0; }))
                return add({.stage = stage,
                            .say = now.none()  ? "By the open head's numbers every blade is at zero."
                                   : now.all() ? "Every blade is at zero."
                                               : "Every blade that was read is at zero.",
                            .more = now.none()
                                        ? "Nothing was measured. Only pitch that you read and type tells of your model."
                                        : "As near as a step of its link can bring it. So they agree at mid "
                                          "stick; track in the air is seen in the air."});
            for (const LinkSetting& s : settings)
                if (s.steps != 0) turn(stage, s.link, s.steps, s.change_mm, !now.none());
            if (now.none()) return;
        }
        other_cause(stage, "The blades will not come to zero by their links.", "");
    }

    Result<void> ends() {
        const std::string stage = "Ends";
        const auto up = pitches({.collective = 1}), down = pitches({.collective = -1});
        if (!up || !down) {
            add({.stage = stage,
                 .say = "Less collective travel: at full stick the links no longer reach.",
                 .more = (!up ? up.error().message : down.error().message) + ".",
                 .tool = BenchTool::transmitter});
            return {};
        }
        add({.stage = stage,
             .say = "Collective to both ends, the cyclic stick all the way round: nothing binds, nothing touches.",
             .more = "Turn the rotor by hand meanwhile. A servo that hums against a stop wants less travel.",
             .tool = BenchTool::transmitter,
             .sticks = {.collective = 1}});
        const double wanted = up->front() - down->front();
        for (int round = 1; round <= most_bench_rounds; ++round) {
            const auto high =
                ask(gauge(stage, 0, {.collective = 1}, "Collective full up", round, up->front(), up->front()));
            const auto low =
                ask(gauge(stage, 0, {.collective = -1}, "Collective full down", round, down->front(), down->front()));
            if (!high || !low) return {};
            if (wanted * (*high - *low) < 0) {
                add({.stage = stage,
                     .say = "Collective runs the wrong way: reverse it in the transmitter.",
                     .more = fmt::format("Full up read {} deg, full down {} deg. Look at the horns' way again, too.",
                                         signed_figure(*high, 1), signed_figure(*low, 1)),
                     .tool = BenchTool::transmitter});
                continue;
            }
            const double share = wanted / (*high - *low) - 1;
            if (!(std::abs(share) < 5) || std::abs(share) < travel_counts) return {};
            add({.stage = stage,
                 .say = fmt::format("Collective travel in the transmitter: {:.0f} % {}.", 100 * std::abs(share),
                                    share > 0 ? "more" : "less"),
                 .more = fmt::format("From end to end it read {:.1f} deg; this head makes {:.1f} deg with the travel "
                                     "that it is described with.",
                                     std::abs(*high - *low), std::abs(wanted)),
                 .tool = BenchTool::transmitter});
        }
        other_cause(stage, "The range does not come by travel alone.", "");
        return {};
    }

    Result<void> track() {
        const std::string stage = "Track";
        const auto open = pitches({.collective = 1});
        if (!open || blades() < 2) return {};
        std::vector<double> read;
        for (std::size_t k = 0; k < blades(); ++k)
            if (const auto value =
                    ask(gauge(stage, k, {.collective = 1}, "Collective full up again", 1, (*open)[k], (*open)[k])))
                read.push_back(*value);
        if (read.size() < blades()) return {};
        const auto [low, high] = std::ranges::minmax_element(read);
        if (*high - *low <= even_deg + step_deg())
            add({.stage = stage,
                 .say = "The blades agree at the end of the stick, too.",
                 .more = fmt::format("{:.1f} deg apart. What is left shows in the air: from afar, tips marked, never a "
                                     "head in the plane of the disc.",
                                     *high - *low)});
        else
            add({.stage = stage,
                 .say = fmt::format("{:.1f} deg apart at full stick. Where they agree at mid stick, no link does that.",
                                    *high - *low),
                 .more = "Look at pitch arms, ring balls and grips of the blade that goes farther, and ask which part "
                         "explains the readings, on the sheet of questions. Turn no link for it.",
                 .part = head::path_of({Role::grip, static_cast<int>((*high > -*low ? high : low) - read.begin())})});
        return {};
    }

    const Head& head_;
    const BenchReadings& read_;
    Head stand_ = head_;  // as it stands by now: links turned, level and at zero once read
    std::vector<BenchStep> out_;
};

}  // namespace

Result<std::vector<BenchStep>> bench_steps(const Head& head, const BenchReadings& read) {
    if (head.description().kind == head::Kind::tail)
        return tl::unexpected(
            head::Failure{"of a tail there are no such steps: its order of work is on the build sheet", {}});
    if (head.neutral_failure()) return tl::unexpected(*head.neutral_failure());
    return Steps(head, read).all();
}

std::string bench_slip(const BenchReading& reading, double value) {
    if (std::abs(value - reading.wanted) <= reading.off_at_most) return {};
    const bool other_way = reading.unit == "deg" && std::abs(value + reading.wanted) <= reading.off_at_most;
    return fmt::format(
        "{:.2f} {} is {:.1f} {} from what it should be: another place, or a slip? Read again, and type it anew.{}",
        value, reading.unit, std::abs(value - reading.wanted), reading.unit,
        other_way ? " If it stays so, collective runs the wrong way: reverse it in the transmitter." : "");
}

}  // namespace swashwright::studies
