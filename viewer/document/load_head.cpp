#include "viewer/document/load_head.h"

#include <fmt/format.h>

#include "kinematics/head/inventory.h"

namespace swashwright::document {
namespace {

/// Where the length of the link stands that falls short, with the length that it must pass.
scene::Mistake shortfall_mistake(const scene::Scene& scene, const head::Shortfall& shortfall) {
    const head::Link* link = shortfall.part ? link_of(scene.head, *shortfall.part) : nullptr;
    const scene::Place* place = shortfall.part ? scene.places.of_link(*shortfall.part) : nullptr;
    if (link == nullptr || place == nullptr)
        return {scene.places.swashplate, fmt::format("{}; correct what was measured", shortfall.sentence)};
    const double length = link->length_mm;
    // With just that length it would stand at a dead point.
    return {*place, fmt::format("{}; expected {} than {:.2f} mm, found {}; correct the length, or what it joins",
                                shortfall.sentence, shortfall.missing_mm > 0 ? "more" : "less",
                                length + shortfall.missing_mm, length)};
}

}  // namespace

scene::Mistakes as_mistakes(const std::string& path, const scene::Scene& scene, const head::Failure& failure) {
    scene::Mistakes mistakes{path, {}};
    for (const head::Shortfall& shortfall : failure.shortfalls)
        mistakes.list.push_back(shortfall_mistake(scene, shortfall));
    if (mistakes.list.empty()) mistakes.list.push_back({scene.places.swashplate, failure.message});
    return mistakes;
}

tl::expected<LoadedHead, NoHead> load_head(const std::string& path, bool must_close) {
    auto scene = scene::load(path);
    if (!scene) return tl::unexpected(NoHead{scene.error().text()});
    auto head = head::Head::build(scene->head);
    if (!head) return tl::unexpected(NoHead{as_mistakes(path, *scene, head.error()).text()});
    if (const head::Failure* failure = head->neutral_failure(); failure && must_close)
        return tl::unexpected(NoHead{as_mistakes(path, *scene, *failure).text(), /*cannot_close=*/true});
    return LoadedHead{std::move(*scene), std::move(*head)};
}

}  // namespace swashwright::document
