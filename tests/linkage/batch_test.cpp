#include "kinematics/linkage/batch.h"

#include <gtest/gtest.h>

#include "tests/linkage/cases.h"

namespace swashwright::linkage {
namespace {

/// A crank that turns fully while its lever rocks (Grashof: 40 + 120 < 80 + 100).
Plan rocker() {
    const Vec3 z = Vec3::UnitZ(), x = Vec3::UnitX();
    return *Plan::make(TwoCranks{frame(Vec3::Zero(), z, x), frame(100 * x, z, x), 40, 80, 120, 40, 57}.description());
}

std::vector<double> sweep(const Plan& plan, std::size_t count, const BatchOptions& options,
                          BatchReport* report = nullptr) {
    std::vector<double> angles(count);
    const auto done = batch(
        plan, count,
        [&](std::size_t i, std::span<double> inputs) {
            inputs[0] = 2 * pi * static_cast<double>(i) / static_cast<double>(count);
        },
        [&](std::size_t i, Workspace& ws, const Report&) { angles[i] = ws.angle(TwoCranks::lever); }, options);
    if (report) *report = done;
    return angles;
}

TEST(Batch, GivesTheSameNumbersWhateverTheNumberOfWorkers) {
    const Plan plan = rocker();
    BatchReport report;
    const auto one = sweep(plan, 5000, {.workers = 1, .chunk = 100}, &report);
    EXPECT_EQ(report.solved, 5000u);
    EXPECT_EQ(report.failed, 0u);
    EXPECT_LT(report.residual_mm, 1e-10);
    for (const int workers : {2, 4}) EXPECT_EQ(sweep(plan, 5000, {.workers = workers, .chunk = 100}), one);
}

TEST(Batch, CanBeStoppedAndTellsHowFarItCame) {
    const Plan plan = rocker();
    std::stop_source source;
    std::atomic<std::size_t> done{0};
    source.request_stop();
    BatchReport report;
    sweep(plan, 5000, {.workers = 2, .chunk = 100, .stop = source.get_token(), .done = &done}, &report);
    EXPECT_TRUE(report.stopped);
    EXPECT_EQ(report.solved + report.failed, done.load());
}

TEST(Batch, OfNothingIsNothing) {
    BatchReport report;
    sweep(rocker(), 0, {}, &report);
    EXPECT_EQ(report.solved, 0u);
}

}  // namespace
}  // namespace swashwright::linkage
