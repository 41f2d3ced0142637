// Slopes of every check's margin by every way of the envelope, against central differences of the margin itself.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/envelope/probe.h"
#include "kinematics/studies/envelope/reach.h"
#include "tests/support/demo_head.h"
#include "tests/support/random_linkage.h"
#include "tests/support/worst_by_force.h"

namespace swashwright::studies {
namespace {

constexpr int places = 12, most_pieces = 12;

/// Every piece's slopes at a place; how many were compared.
int compare(Probe& probe, const Chart& chart, const Ways& at) {
    probe.reset();
    if (!probe.move(chart, at)) return 0;
    const linkage::Workspace stands = *probe.moment().ws;
    Moment moment = probe.moment();
    moment.ws = &stands;
    int compared = 0;
    for (std::size_t w = 0; w < chart.ways(); ++w) {
        const double step = 1e-5 * (chart.cuts(w).back() - chart.cuts(w).front());
        Ways more = at, less = at;
        more[w] += step, less[w] -= step;
        for (std::size_t k = 0; k < probe.size(); ++k)
            for (int p = 0; p < std::min(most_pieces, probe.pieces(k)); ++p) {
                const Piece here = *probe.piece(chart, at, moment, k, p);
                if (!std::isfinite(here.margin)) continue;
                if (!probe.move(chart, more)) continue;
                const double high = probe.piece(chart, more, probe.moment(), k, p)->margin;
                if (!probe.move(chart, less)) continue;
                const double low = probe.piece(chart, less, probe.moment(), k, p)->margin;
                // A difference over 2e-5 of a way is off by rounding in the pose, and where nearly parallel capsules
                // bend a gap's slope fast.
                const double slope = (high - low) / (2 * step);
                EXPECT_NEAR(here.slope[w], slope, 5e-3 * (1 + std::abs(slope)))
                    << probe.check(k).key << ", piece " << p << ", way " << w;
                ++compared;
            }
    }
    return compared;
}

int compare(const head::Head& head, std::uint64_t seed) {
    const Chart chart(head, hands_of(head));
    Probe probe(head, checkers_of(head, true));
    std::mt19937_64 bits(seed);
    testing::Draw draw(bits);
    int compared = 0;
    for (int i = 0; i < places; ++i) {
        Ways at{};
        for (std::size_t w = 0; w < chart.ways(); ++w)
            at[w] = draw.between(chart.cuts(w).front(), chart.cuts(w).back());
        compared += compare(probe, chart, at);
    }
    return compared;
}

TEST(Slopes, OfRandomHeadsAreThoseOfDifferences) {
    for (std::uint64_t seed = 1; seed <= 4; ++seed) EXPECT_GT(compare(testing::easy_head(seed), seed), 1000) << seed;
}

TEST(Slopes, OfEveryLinkageAreThoseOfDifferences) {
    for (const head::Description& d : testing::linkages()) {
        const auto head = head::Head::build(d);
        ASSERT_TRUE(head);
        EXPECT_GT(compare(*head, 3), 200) << d.name;
    }
}

// With the stick in a square, and held together with the collective: other ways, with a kink in the room that is left.
TEST(Slopes, OfASquareAndOfALimitAreThoseOfDifferences) {
    auto d = testing::easy_head(5).description();
    d.mixing.combined_limit = 1.4;
    EXPECT_GT(compare(*head::Head::build(d), 5), 1000);
    d.mixing.cyclic_stick = head::CyclicStick::square;
    EXPECT_GT(compare(*head::Head::build(d), 6), 1000);
}

}  // namespace
}  // namespace swashwright::studies
