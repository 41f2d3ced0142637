// Work in independent parts, shared out over threads.
#pragma once

#include <algorithm>
#include <atomic>
#include <functional>
#include <stop_token>
#include <thread>
#include <vector>

namespace swashwright::studies {

/// Runs `work(worker, task)` for every task on some threads, the caller's among them; `work` must not throw.
inline void share_out(int workers, std::size_t tasks, const std::stop_token& stop,
                      const std::function<void(std::size_t, std::size_t)>& work) {
    std::atomic<std::size_t> next = 0;
    const auto run = [&](std::size_t worker) {
        for (std::size_t task = next++; task < tasks && !stop.stop_requested(); task = next++) work(worker, task);
    };
    std::vector<std::jthread> threads;
    for (int w = 1; w < workers; ++w) threads.emplace_back(run, static_cast<std::size_t>(w));
    run(0);
}

/// How many threads, where 0 stands for as many as there are cores.
inline int workers_for(int wanted) {
    return wanted > 0 ? wanted : static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
}

}  // namespace swashwright::studies
