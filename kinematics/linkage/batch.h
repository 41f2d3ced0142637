// Many poses of one linkage on all cores.
#pragma once

#include <atomic>
#include <cstddef>
#include <functional>
#include <span>
#include <stop_token>

#include "kinematics/linkage/solve.h"

namespace swashwright::linkage {

struct BatchOptions {
    int workers = 0;                           // 0: as many as there are cores
    std::size_t chunk = 1024;                  // poses that follow one another in one worker
    std::stop_token stop = {};                 // asked between chunks
    std::atomic<std::size_t>* done = nullptr;  // poses finished so far, for a progress bar
};

struct BatchReport {
    std::size_t solved = 0, failed = 0;  // failed: poses that do not close
    bool stopped = false;                // before all were done
    double residual_mm = 0;              // the largest
};

/// Solves poses 0 .. count-1. `inputs_of(i, inputs)` writes the inputs of pose i; `visit(i, workspace, report)` reads
/// the result. Both are called from several threads at once and must not throw; a visit may write to a place of its own
/// pose only. Each chunk starts at neutral and goes on warm, so results do not depend on the number of workers. Put the
/// input that fewest blocks depend on (the rotor's azimuth) innermost: unchanged blocks are not solved again.
BatchReport batch(const Plan& plan, std::size_t count,
                  const std::function<void(std::size_t, std::span<double>)>& inputs_of,
                  const std::function<void(std::size_t, Workspace&, const Report&)>& visit,
                  const BatchOptions& options = {});

}  // namespace swashwright::linkage
