#include "viewer/panels/picture/hiding.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/inventory.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::panels {

namespace {

bool has(const head::Description& d, const draw::Part& part) {
    const std::size_t count =
        part.role == head::Role::driver ? d.swashplate.driver_pins.size() : head::count_of(d, part.role);
    return part.index >= 0 && static_cast<std::size_t>(part.index) < std::max<std::size_t>(1, count);
}

bool has(const head::Description& d, const draw::Place& place) {
    if (place.at == draw::Place::At::face) return has(d, place.part);
    const auto places = draw::every_place(d);
    return std::ranges::find(places, place) != places.end();
}

}  // namespace

bool is_hidden(const View& view, const draw::Part& part) {
    return std::ranges::binary_search(view.hidden, part);
}

void hide(View& view, const draw::Part& part) {
    const auto at = std::ranges::lower_bound(view.hidden, part);
    if (at == view.hidden.end() || *at != part) view.hidden.insert(at, part);
}

void show(View& view, const draw::Part& part) {
    std::erase(view.hidden, part);
}

void show_alone(View& view, const head::Description& description, const draw::Part& part) {
    view.hidden.clear();
    for (const draw::Solid& solid : draw::solids_of(description, view.whole_blades))
        if (solid.part != part) hide(view, solid.part);
}

void show_all(View& view) {
    view.hidden.clear();
}

std::string hidden_words(const View& view) {
    return fmt::format("{} {} hidden", view.hidden.size(), view.hidden.size() == 1 ? "part" : "parts");
}

void follow_parts(View& view, const head::Description& description) {
    std::erase_if(view.hidden, [&](const draw::Part& part) { return !has(description, part); });
    std::erase_if(view.distances, [&](const draw::Distance& distance) {
        return !has(description, distance.from) || !has(description, distance.to);
    });
}

void forget_parts(View& view, Sights& sights) {
    view.hidden.clear();
    view.distances.clear();
    sights.drag.reset();
    sights.menu = {};
    sights.distance = {};
}

}  // namespace swashwright::panels
