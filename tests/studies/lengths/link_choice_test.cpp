#include "kinematics/studies/lengths/lengths.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/demo_head.h"
#include "tests/support/random_head.h"

namespace swashwright::studies {
namespace {

using head::Description;
using testing::Draw;

double misfit_at_mid_stick(const Description& d) {
    const auto head = head::Head::build(d);
    EXPECT_TRUE(head);
    return head->pose(head::Sticks{}, 0)->misfit_mm.value();
}

/// The links that a result turns, by their numbers.
std::vector<std::string> turned(const Lengths& found) {
    std::vector<std::string> out;
    for (const Setting& s : found.settings)
        if (std::abs(s.set - s.present) > 1e-9) out.push_back(s.free.number.part);
    return out;
}

// Four servos hold one ring: of one wrong link's error e, posed in least squares, each of four like links is left with
// about e/4. A half turn is 0.20 mm, so whatever is wrong, no more than half of that has to stay.
TEST(LinkLengths, LinksThatAreTooManyFitNoWorseThanBefore) {
    std::mt19937_64 bits(6);
    Draw draw(bits);
    for (int i = 0; i < 24; ++i) {
        Description d = testing::demo("four_servos_700.toml");
        const auto link = static_cast<std::size_t>(i) % 4;
        const double error = draw.between(-1.5, 1.5);
        (i % 2 == 0 ? d.lower_links[link].error_mm : d.lower_links[link].length_mm) += error;
        const double before = misfit_at_mid_stick(d);
        for (int time = 0; time < 2; ++time) {
            SCOPED_TRACE(error);
            const auto found = link_lengths(d, {.wishes = {}, .free = free_links(d)});
            ASSERT_TRUE(found) << found.error();
            const WishOutcome& fit = found->wishes.back();
            ASSERT_EQ(fit.kind, WishKind::misfit);
            EXPECT_NEAR(misfit_at_mid_stick(found->exact), 0, 1e-6);
            EXPECT_NEAR(fit.set, misfit_at_mid_stick(found->set), 1e-9);
            EXPECT_LE(fit.set, before + 1e-9);
            EXPECT_LT(fit.set, 0.2 / 2 / 4 * 1.1);  // the geometry of level links is off by less than a tenth
            const std::string told = fmt::format("and the links misfit by {:.3f} mm", fit.set);
            EXPECT_EQ(answer(*found).text.find(told) != std::string::npos, fit.set >= 5e-4) << answer(*found).text;
            EXPECT_LE(turned(*found).size(), 1U);
            d = found->set;  // the result made, then asked again: nothing is left to do
            EXPECT_TRUE(time == 0 || turned(*found).empty());
        }
    }
}

TEST(LinkLengths, OfLinksInSeriesTheOneThatIsKnownToBeOffIsTurned) {
    Description d = testing::demo("bellcranks_500.toml");
    for (const double error : {0.7, -1.1, 3.0}) {
        d.links[0].error_mm = error;
        const auto found = link_lengths(d, {.wishes = {}, .free = free_links(d)});
        ASSERT_TRUE(found) << found.error();
        EXPECT_EQ(turned(*found), std::vector<std::string>{"link[1]"}) << error;
        for (const Setting& s : found->settings)  // exactly, too, its error is all that is wrong
            EXPECT_NEAR(s.exact, s.free.number.part == "link[1]" ? 65.0 : s.present, 1e-6) << s.free.number.label;
        EXPECT_LE(found->left_set, found->left_set_each);
    }
}

TEST(LinkLengths, LinksThatNeedNoTurnGetNone) {
    const Description cranks = testing::demo("bellcranks_500.toml"), tail = testing::demo("tail_600.toml");
    const auto more = link_lengths(cranks, {.wishes = {.pitch_deg = 3}, .free = free_links(cranks)});
    ASSERT_TRUE(more) << more.error();
    EXPECT_EQ(turned(*more), (std::vector<std::string>{"upper_link[1]", "upper_link[2]"}));
    const auto same = link_lengths(tail, {.wishes = {.pitch_deg = 8}, .free = free_links(tail)});
    ASSERT_TRUE(same) << same.error();
    EXPECT_TRUE(turned(*same).empty());
}

TEST(LinkLengths, ATailKeepsThePitchThatItIsDrawnWith) {
    Description d = testing::demo("tail_600.toml");
    const double drawn = head::Head::build(d)->pose(head::Sticks{}, 0)->pitch_deg[0];
    ASSERT_NEAR(drawn, 8, 0.01);
    d.upper_links[0].error_mm = 0.4;
    const auto found = link_lengths(d, {.wishes = {}, .free = free_links(d)});
    ASSERT_TRUE(found) << found.error();
    const auto set = head::Head::build(found->set)->pose(head::Sticks{}, 0);
    for (const double pitch : set->pitch_deg)
        EXPECT_NEAR(pitch, drawn, 1e-6);  // two half turns of 0.20 mm take all of it back
    EXPECT_EQ(found->wishes.back().words, "pitch at centred rudder as drawn, +8.00 deg");
    EXPECT_EQ(turned(*found), std::vector<std::string>{"upper_link[1]"});
    const auto zero = link_lengths(d, {.wishes = {.pitch_deg = 0}, .free = free_links(d)});
    ASSERT_TRUE(zero) << zero.error();
    EXPECT_EQ(zero->wishes.back().words, "zero pitch at centred rudder");
}

}  // namespace
}  // namespace swashwright::studies
