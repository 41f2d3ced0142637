#include "viewer/draw/base/traces.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "kinematics/head/inventory.h"
#include "kinematics/head/proportions.h"
#include "kinematics/head/solver.h"
#include "kinematics/studies/pitch/flap.h"

namespace swashwright::draw {
namespace {

/// The largest of 1, 2, 5, 10 and so on that draws `largest_mm` no larger than `room_mm`; at least 1.
double round_magnification(double largest_mm, double room_mm) {
    if (!(largest_mm > 1e-9)) return 1;
    const double most = room_mm / largest_mm;
    double found = 1;
    for (double unit = 1; unit <= 1000; unit *= 10) {
        for (double factor : {1.0, 2.0, 5.0}) {
            if (factor * unit <= most) found = factor * unit;
        }
    }
    return found;
}

/// Mean pitch says how high a tip flies; cyclic pitch moves all tips alike.
void add_tips(Traces& traces, const head::Description& d, const std::vector<double>& mean_deg, int samples) {
    const auto flap = studies::flap(studies::blade_numbers(d), d.rotor.head_speed_rpm);
    if (!flap || mean_deg.empty()) return;
    const double all = std::accumulate(mean_deg.begin(), mean_deg.end(), 0.0) / static_cast<double>(mean_deg.size());
    double largest = 0;
    for (double mean : mean_deg) {
        traces.tip_mm.push_back(flap->tip_mm_per_deg * (mean - all));
        largest = std::max(largest, std::abs(traces.tip_mm.back()));
    }
    traces.magnified = round_magnification(largest, 0.5 * head::proportions_of(d).ring);
    const double precone = d.rotor.precone_deg * degree, radius = traces.tips_at_mm * std::cos(precone);
    for (std::size_t k = 0; k < mean_deg.size(); ++k) {
        Trace trace{{Role::blade, static_cast<int>(k)}, {}};
        const double height =
            d.rotor.hub_height_mm + traces.tips_at_mm * std::sin(precone) + traces.magnified * traces.tip_mm[k];
        for (int i = 0; i < samples; ++i) {
            const double a = 2 * pi * i / samples;
            trace.points.emplace_back(radius * std::cos(a), radius * std::sin(a), height);
        }
        traces.tips.push_back(std::move(trace));
    }
}

struct Followed {
    Part part;
    linkage::AnchorId ball;
};

/// The balls at both ends of every upper link, and those of levers that stand on a grip: hinged links.
std::vector<Followed> followed_balls(const head::Description& d, const head::Parts& parts) {
    std::vector<Followed> out;
    for (const Part& link : links_of(d))
        if (const auto ends = ends_of(d, link); ends && link.role == Role::upper_link)
            for (const head::BallName& end : *ends) out.push_back({link, parts.ball(end)});
    for (std::size_t i = 0; i < d.levers.size(); ++i)
        if (d.levers[i].on.on == head::Carrier::On::grip)
            for (const linkage::AnchorId ball : parts.lever_balls[i])
                out.push_back({{Role::grip, d.levers[i].on.index}, ball});
    return out;
}

}  // namespace

std::shared_ptr<const Traces> traces_of(const head::Head& head, const head::Sticks& sticks, bool whole_blades,
                                        int samples, std::span<const double> hand_deg) {
    if (head.neutral_failure() != nullptr || samples < 3) return nullptr;
    const head::Description& d = head.description();
    const head::Parts& parts = head.parts();
    const std::size_t blades = head::count_of(d, Role::blade);
    const auto traces = std::make_shared<Traces>();
    const head::Proportions p = head::proportions_of(d);
    constexpr double outside = 1.04;
    traces->tips_at_mm = outside * (whole_blades ? p.blade_end : p.stub_end);
    const std::vector<Followed> followed = followed_balls(d, parts);
    for (const Followed& ball : followed) traces->balls.push_back({ball.part, {}});
    std::vector<double> mean_deg(blades, 0.0);
    head::Solver solver(head);
    for (std::size_t i = 0; i < hand_deg.size(); ++i) solver.set_hand(i, hand_deg[i]);
    for (int i = 0; i < samples; ++i) {
        if (!solver.pose(sticks, 360.0 * i / samples)) return nullptr;
        linkage::Workspace& ws = solver.workspace();
        for (std::size_t b = 0; b < followed.size(); ++b) traces->balls[b].points.push_back(ws.point(followed[b].ball));
        for (std::size_t k = 0; k < blades; ++k) mean_deg[k] += solver.pitch_deg(static_cast<int>(k)) / samples;
    }
    if (d.kind == head::Kind::main) add_tips(*traces, d, mean_deg, samples);
    return traces;
}

}  // namespace swashwright::draw
