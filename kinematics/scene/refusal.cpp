#include "kinematics/scene/refusal.h"

#include <algorithm>

#include "kinematics/head/build.h"

namespace swashwright::scene {
namespace {

std::vector<Mistake> mistakes_of(const Scene& scene) {
    // The rules are those of the scene's file, so its text is what is asked.
    const auto read = parse(write(scene), "");
    return read ? std::vector<Mistake>{} : read.error().list;
}

}  // namespace

std::optional<std::string> refusal(const Scene& now, const Scene& next, bool hanging) {
    if (const auto mistakes = mistakes_of(next); !mistakes.empty()) {
        const auto before = mistakes_of(now);
        const auto fresh = std::ranges::find_if(mistakes, [&](const Mistake& mistake) {
            return std::ranges::find(before, mistake.message, &Mistake::message) == before.end();
        });
        if (fresh != mistakes.end()) return fresh->message;
        return std::nullopt;
    }
    if (hanging) {
        std::string wrong = head::check(next.head);
        return wrong.empty() || !head::check(now.head).empty() ? std::nullopt : std::optional(std::move(wrong));
    }
    auto built = head::Head::build(next.head);
    if (built || !head::Head::build(now.head)) return std::nullopt;
    return built.error().message;
}

}  // namespace swashwright::scene
