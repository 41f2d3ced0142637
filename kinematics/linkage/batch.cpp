#include "kinematics/linkage/batch.h"

#include <algorithm>
#include <thread>
#include <vector>

namespace swashwright::linkage {

BatchReport batch(const Plan& plan, std::size_t count,
                  const std::function<void(std::size_t, std::span<double>)>& inputs_of,
                  const std::function<void(std::size_t, Workspace&, const Report&)>& visit,
                  const BatchOptions& options) {
    const std::size_t chunk = std::max<std::size_t>(1, options.chunk);
    const auto cores = std::max(1u, std::thread::hardware_concurrency());
    const std::size_t workers = std::min<std::size_t>(
        options.workers > 0 ? static_cast<std::size_t>(options.workers) : cores, (count + chunk - 1) / chunk);
    std::atomic<std::size_t> next{0};
    std::vector<BatchReport> parts(std::max<std::size_t>(1, workers));
    const auto work = [&](BatchReport& part) {
        Workspace ws(plan);
        std::vector<double> inputs(plan.inputs().size());
        for (;;) {
            const std::size_t first = next.fetch_add(chunk);
            if (first >= count) return;
            if (options.stop.stop_requested()) {
                part.stopped = true;
                return;
            }
            reset(plan, ws);
            const std::size_t last = std::min(count, first + chunk);
            for (std::size_t i = first; i < last; ++i) {
                inputs_of(i, inputs);
                const Report report = solve(plan, ws, inputs);
                ++(report.closed ? part.solved : part.failed);
                if (report.closed) part.residual_mm = std::max(part.residual_mm, report.residual_mm);
                visit(i, ws, report);
            }
            if (options.done) options.done->fetch_add(last - first);
        }
    };
    {
        std::vector<std::jthread> threads;
        for (std::size_t w = 1; w < workers; ++w) threads.emplace_back([&work, &part = parts[w]] { work(part); });
        work(parts[0]);
    }
    BatchReport total;
    for (const BatchReport& part : parts) {
        total.solved += part.solved;
        total.failed += part.failed;
        total.stopped |= part.stopped;
        total.residual_mm = std::max(total.residual_mm, part.residual_mm);
    }
    return total;
}

}  // namespace swashwright::linkage
