// The slopes of all readings by all numbers at once against those by one number each, which come the other way round
// (`Tangent::along`: the whole motion along one number), over linkages of every kind drawn at random.

#include "kinematics/head/all_slopes.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/heads_of_every_kind.h"

namespace swashwright::head {
namespace {

using linkage::ReadingTerm;

/// Every joint's rates, every body's spin along some direction and every point's motion along another.
std::vector<linkage::Reading> everything(const Head& head, testing::Draw& draw) {
    std::vector<linkage::Reading> out;
    const auto& d = head.plan().description();
    const auto some = [&] { return Vec3(draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1)); };
    for (int b = 1; b < static_cast<int>(d.bodies().size()); ++b) {
        for (int k = 0; k < linkage::freedoms(head.plan().body(b).joint); ++k)
            out.push_back({{ReadingTerm::What::rate, b, k, Vec3::UnitX()}});
        out.push_back({{ReadingTerm::What::spin, b, 0, some()}});
    }
    for (int a = 0; a < static_cast<int>(d.anchors().size()); ++a)
        out.push_back({{ReadingTerm::What::point, a, 0, some()}});
    return out;
}

/// The same off the motion in the workspace.
double along(const linkage::Workspace& ws, const linkage::Reading& reading) {
    double sum = 0;
    for (const ReadingTerm& term : reading) {
        if (term.what == ReadingTerm::What::rate)
            sum += term.weight.x() * linkage::rate(ws, {term.index}, term.k);
        else if (term.what == ReadingTerm::What::spin)
            sum += term.weight.dot(ws.spin[static_cast<std::size_t>(term.index)]);
        else
            sum += term.weight.dot(ws.anchor_drift[static_cast<std::size_t>(term.index)]);
    }
    return sum;
}

/// Both to rounding: of the largest slope of its reading, as each sums up what all rows do to it.
void expect_same(const Eigen::MatrixXd& one, const Eigen::MatrixXd& other, const std::string& words) {
    ASSERT_EQ(one.rows(), other.rows());
    ASSERT_EQ(one.cols(), other.cols());
    for (Eigen::Index r = 0; r < one.rows(); ++r) {
        const double scale = std::max(1.0, other.row(r).cwiseAbs().maxCoeff());
        EXPECT_LT((one.row(r) - other.row(r)).cwiseAbs().maxCoeff(), 1e-12 * scale) << words << ", reading " << r;
    }
}

/// By one number after the other.
Eigen::MatrixXd one_by_one(Solver& solver, const std::vector<Number>& all, const Sticks& sticks,
                           const std::vector<linkage::Reading>& own) {
    Slopes slopes;
    Eigen::MatrixXd out;
    for (std::size_t n = 0; n < all.size(); ++n) {
        solver.slopes_by(all[n], slopes, sticks);
        Eigen::VectorXd column(3 + static_cast<Eigen::Index>(slopes.pitch_deg.size() + own.size()));
        Eigen::Index row = 0;
        for (const double value : {slopes.height_mm, slopes.tilt_forward_deg, slopes.tilt_right_deg})
            column[row++] = value;
        for (const double value : slopes.pitch_deg) column[row++] = value;
        for (const linkage::Reading& reading : own) column[row++] = along(solver.workspace(), reading);
        out.conservativeResize(column.size(), static_cast<Eigen::Index>(n) + 1);
        out.col(static_cast<Eigen::Index>(n)) = column;
    }
    return out;
}

TEST(AllSlopes, AreThoseByOneNumberAfterTheOtherForEveryKindOfLinkage) {
    std::mt19937_64 bits(31);
    testing::Draw draw(bits);
    int compared = 0;
    for (const Head& head : testing::heads_of_every_kind(30, 6)) {
        const auto all = numbers(head.description());
        const auto own = everything(head, draw);
        AllSlopes slopes(head, all, own);
        Solver solver(head);
        Sticks sticks = testing::some_sticks(draw);
        for (int pose = 0; pose < 5; ++pose) {
            if (pose != 1) sticks = testing::some_sticks(draw);  // once the rotor alone turns
            if (!solver.pose(sticks, draw.between(0, 360))) continue;
            ASSERT_TRUE(solver.linearise());
            const auto wanted = one_by_one(solver, all, sticks, own);
            ASSERT_TRUE(slopes.at(solver));
            for (int twice = 0; twice < 2; ++twice)
                expect_same(slopes.by_numbers(solver, sticks), wanted, head.description().name);
            ++compared;
        }
    }
    EXPECT_GT(compared, 200);
}

TEST(AllSlopes, OfWhatMovesTogetherAreTheSum) {
    for (const Head& head : testing::heads_of_every_kind(34, 1)) {
        const auto all = numbers(head.description());
        std::vector<AllSlopes::Together> columns;
        for (std::size_t i = 0; i < all.size(); ++i)
            columns.push_back({{all[i], 0.5}, {all[all.size() - 1 - i], -2.0}});
        AllSlopes single(head, all), together(head, columns);
        Solver solver(head);
        const Sticks sticks{0.3, -0.2, 0.4, 0.3};
        if (!solver.pose(sticks, 40)) continue;
        ASSERT_TRUE(single.at(solver));
        const Eigen::MatrixXd one = single.by_numbers(solver, sticks);
        ASSERT_TRUE(together.at(solver));
        expect_same(together.by_numbers(solver, sticks), 0.5 * one - 2.0 * one.rowwise().reverse(),
                    head.description().name);
    }
}

TEST(AllSlopes, AreTheSameAfterAnyJump) {
    std::mt19937_64 bits(36);
    testing::Draw draw(bits);
    for (const Head& head : testing::heads_of_every_kind(35, 2)) {
        const auto all = numbers(head.description());
        AllSlopes jumped(head, all);
        Solver solver(head);
        for (int pose = 0; pose < 4; ++pose) {
            const Sticks sticks = testing::some_sticks(draw);
            if (!solver.pose(testing::some_sticks(draw), draw.between(0, 360)) || !jumped.at(solver)) continue;
            jumped.by_numbers(solver, sticks);
            if (!solver.pose(sticks, 70)) continue;
            AllSlopes afresh(head, all);
            ASSERT_TRUE(jumped.at(solver));
            ASSERT_TRUE(afresh.at(solver));
            expect_same(jumped.by_numbers(solver, sticks), afresh.by_numbers(solver, sticks), head.description().name);
        }
    }
}

}  // namespace
}  // namespace swashwright::head
