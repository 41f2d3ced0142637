#include "kinematics/scene/solids.h"

#include <fmt/format.h>

#include <algorithm>

namespace swashwright::scene {

namespace {

using head::Solid;

constexpr Kind size{"a size in mm", 0.01, 10000};
constexpr const char* xyz = "[x, y, z]";

Vec3 point(Keys& keys, const char* key) {
    const auto numbers = keys.numbers(key, 3, coordinate, xyz);
    return numbers ? Vec3((*numbers)[0], (*numbers)[1], (*numbers)[2]) : Vec3(0, 0, 0);
}

Vec3 optional_point(Keys& keys, const char* key) {
    keys.allow(key);
    return keys.has(key) ? point(keys, key) : Vec3(0, 0, 0);
}

std::string read_part(Keys& keys, const head::Description& head, std::size_t blades) {
    std::vector<std::string> names{"frame", "inner_ring", "outer_ring", "hub"};
    const auto add = [&](const char* kind, std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) names.push_back(fmt::format("{}[{}]", kind, i + 1));
    };
    add("servo", head.servos.empty() ? 3 : head.servos.size());  // servos that are wrong are told elsewhere
    add("grip", blades);
    add("lever", head.levers.size());
    add("slider", head.sliders.size());
    std::string part = keys.text("part", 40);
    if (keys.has("part") && std::ranges::find(names, part) == names.end())
        keys.mistake("part", fmt::format("expected one of {}, found \"{}\"", fmt::join(names, ", "), part));
    return part;
}

std::string text(const Vec3& v) {
    return fmt::format("[{}, {}, {}]", v.x(), v.y(), v.z());
}

}  // namespace

Solid read_solid(Keys& keys, const head::Description& head, std::size_t blades, Place& place) {
    Solid solid;
    solid.part = read_part(keys, head, blades);
    solid.shape = static_cast<Solid::Shape>(keys.word("shape", {"capsule", "cylinder", "box", "ring", "mesh"}, true));
    switch (solid.shape) {
        case Solid::Shape::capsule:
        case Solid::Shape::cylinder:
            solid.at = point(keys, "at_mm");
            solid.to = point(keys, "to_mm");
            solid.diameter_mm = keys.number("diameter_mm", size);
            if (keys.sound() && solid.shape == Solid::Shape::cylinder && !((solid.to - solid.at).norm() > 0.01))
                keys.mistake("to_mm", "expected the other end of the axis, found the same point as at_mm");
            break;
        case Solid::Shape::box:
            solid.at = point(keys, "at_mm");
            solid.size_mm = point(keys, "size_mm");
            if (keys.sound() && !(solid.size_mm.minCoeff() > 0.01))
                keys.mistake("size_mm",
                             fmt::format("expected three edges above 0.01 mm, found {}", text(solid.size_mm)));
            break;
        case Solid::Shape::ring:
            solid.at = point(keys, "at_mm");
            solid.diameter_mm = keys.number("diameter_mm", size);
            solid.section_mm = keys.number("section_mm", size);
            break;
        case Solid::Shape::mesh:
            solid.at = optional_point(keys, "at_mm");
            solid.file = keys.text("file", 1000);
            place = keys.place("file");
            break;
    }
    keys.finish();
    return solid;
}

}  // namespace swashwright::scene
