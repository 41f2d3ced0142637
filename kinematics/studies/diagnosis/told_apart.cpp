#include "kinematics/studies/diagnosis/told_apart.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace swashwright::studies {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// What hides behind the stand: with zero and lean known it would show at twice `told_apart`'s deviations.
constexpr double would_show = 4 * told_apart;

/// The readings with the gauge as it is, zeroed on the shaft, and with its zero checked as well.
struct Whitenings {
    MatrixXd as_is, on_shaft, known;
};

class Rivals {
public:
    Rivals(Ranking& ranking, const Expected& at_best)
        : ranking_(ranking), best_(ranking.ranked().front()), at_best_(at_best) {
        const Prepared& to = ranking.prepared(best_.weighing.accounts.front().misread);
        rows_ = to.whitened.rows;
        const Accounts& accounts = ranking.accounts();
        Gauge shaft = accounts.readings().gauge;
        shaft.zeroed_on = ZeroedOn::shaft;
        white_.as_is = to.whitened.whiten;
        white_.on_shaft = accounts.with(shaft).whitened(to.account).whiten;
        shaft.zero_within_deg = 0;
        white_.known = accounts.with(shaft).whitened(to.account).whiten;
    }

    /// In place of the i-th fault of the best.
    void in_place_of(std::size_t i, std::vector<StandIn>& out) const {
        const int member = best_.hypothesis.fit.faults[i];
        if (suspect(member).scatters()) return;
        const auto& chosen = best_.hypothesis.fit.faults;
        for (int rival = the_stand; rival < static_cast<int>(ranking_.subject().suspects.size()); ++rival) {
            if (std::ranges::find(chosen, rival) != chosen.end()) continue;
            if (rival != the_stand && !shows(rival)) continue;
            const double apart = between(white_.as_is, i, rival);
            if (apart < told_apart)
                out.push_back({rival, member, apart, between(white_.on_shaft, i, rival) >= told_apart,
                               between(white_.known, i, rival) >= told_apart});
        }
    }

    /// In place of a zero or a lean: what these take up so well that it does not show beside them.
    void behind_the_stand(std::vector<StandIn>& out) const {
        for (int rival = 0; rival < static_cast<int>(ranking_.subject().suspects.size()); ++rival) {
            if (!shows(rival)) continue;
            const VectorXd moved = moves(rival)(rows_);
            const double known = (white_.known * moved).squaredNorm();
            const double scale = suspect(rival).sized() ? would_show / known : 1;
            const auto hidden = [&](const MatrixXd& whiten) { return scale * (whiten * moved).squaredNorm(); };
            if (known * usual(rival) * usual(rival) < would_show || hidden(white_.as_is) >= told_apart) continue;
            out.push_back({rival, the_stand, hidden(white_.as_is), hidden(white_.on_shaft) >= told_apart, true});
        }
    }

private:
    const Fault& suspect(int f) const { return ranking_.subject().suspect(f); }
    double usual(int f) const { return suspect(f).sized() ? suspect(f).usual_size() : 1; }
    bool shows(int f) const { return !suspect(f).scatters() && (suspect(f).sized() || ranking_.single(f)); }

    /// Every blade's rows per unit of the fault's size, or by one that has none.
    VectorXd moves(int f) const {
        if (suspect(f).sized()) return at_best_.slopes.col(f);
        const Candidate* alone = ranking_.single(f);
        const VectorXd& sound = ranking_.subject().sound.value;
        return alone ? VectorXd(alone->rows.value - sound) : VectorXd(VectorXd::Zero(sound.size()));
    }

    /// What of the effect of the best hypothesis' fault i no size of the rival (and of the other fault) can make, in
    /// squared deviations; endless if it asks for a size that the part cannot have.
    double between(const MatrixXd& whiten, std::size_t i, int rival) const {
        const FaultFit& fit = best_.hypothesis.fit;
        const int member = fit.faults[i];
        VectorXd effect = moves(member) * (suspect(member).sized() ? fit.size[static_cast<Index>(i)] : 1);
        std::vector<int> free;
        if (rival != the_stand && suspect(rival).sized())
            free.push_back(rival);
        else if (rival != the_stand)
            effect -= moves(rival);
        for (const int other : fit.faults)
            if (other != member && suspect(other).sized()) free.push_back(other);
        const VectorXd aim = whiten * effect(rows_);
        if (free.empty()) return aim.squaredNorm();
        const MatrixXd columns = whiten * at_best_.slopes(rows_, free);
        const VectorXd sizes = columns.colPivHouseholderQr().solve(aim);
        if (free.front() == rival && std::abs(sizes[0]) > suspect(rival).largest())
            return std::numeric_limits<double>::infinity();
        return (aim - columns * sizes).squaredNorm();
    }

    Ranking& ranking_;
    const Candidate& best_;
    const Expected& at_best_;
    std::vector<Index> rows_;
    Whitenings white_;
};

}  // namespace

std::vector<StandIn> find_stand_ins(Ranking& ranking, const Expected& at_best) {
    const Rivals rivals(ranking, at_best);
    std::vector<StandIn> out;
    const std::size_t count = ranking.ranked().front().hypothesis.fit.faults.size();
    for (std::size_t i = 0; i < count; ++i) rivals.in_place_of(i, out);
    if (count == 0) rivals.behind_the_stand(out);
    std::ranges::stable_sort(out, [](const StandIn& a, const StandIn& b) { return a.chi_square < b.chi_square; });
    return out;
}

}  // namespace swashwright::studies
