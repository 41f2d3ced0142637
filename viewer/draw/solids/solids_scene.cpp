// Solids that the scene gives: what else may touch.
#include <optional>

#include "viewer/draw/solids/solid_maker.h"

namespace swashwright::draw {
namespace {

constexpr std::size_t most_faces = 4000;  // a finer mesh is checked but not drawn

/// What a solid rides on: what it is checked with, and drawn as.
struct Place {
    Part part;
    Frame frame;
};

std::optional<Place> place_of(const std::string& path) {
    const auto part = part_of(path);
    if (!part) return std::nullopt;
    switch (part->role) {
        case Role::frame:
            return Place{*part, {Ride::ground, 0}};
        case Role::inner_ring:
            return Place{*part, {Ride::inner_ring, 0}};
        case Role::outer_ring:
            return Place{*part, {Ride::outer_ring, 0}};
        case Role::hub:
            return Place{*part, {Ride::hub, 0}};
        case Role::servo:  // its horn: the servo itself does not move
            return Place{{Role::horn, part->index}, {Ride::horn, part->index}};
        case Role::grip:
            return Place{*part, {Ride::grip, part->index}};
        default:
            return std::nullopt;
    }
}

Mesh torus(const head::Solid& solid) {
    std::vector<Turned> section;
    constexpr int corners = 12;
    for (int i = 0; i < corners; ++i) {
        const double a = 2 * pi * i / corners;
        section.push_back(
            {0.5 * solid.diameter_mm + 0.5 * solid.section_mm * std::cos(a), 0.5 * solid.section_mm * std::sin(a)});
    }
    return lathe(frame_at(solid.at, Vec3::UnitZ(), Vec3::UnitX()), section, 32, true);
}

}  // namespace

void add_scene_solids(SolidMaker& m) {
    using Shape = head::Solid::Shape;
    for (const head::Solid& solid : m.head.solids) {
        const auto place = place_of(solid.part);
        if (!place) continue;
        const auto add = [&](Mesh mesh) { m.add(place->part, place->frame, Tone::plastic, std::move(mesh)); };
        const bool long_enough = (solid.to - solid.at).norm() > 1e-6;
        switch (solid.shape) {
            case Shape::capsule:
                add(ball(solid.at, solid.diameter_mm / 2, long_enough ? Vec3(solid.at - solid.to) : Vec3::UnitZ()));
                if (long_enough) {
                    add(ball(solid.to, solid.diameter_mm / 2, solid.to - solid.at));
                    add(rod(solid.at, solid.to, solid.diameter_mm / 2));
                }
                break;
            case Shape::cylinder:
                if (long_enough) add(rod(solid.at, solid.to, solid.diameter_mm / 2));
                break;
            case Shape::box:
                add(block(frame_at(solid.at, Vec3::UnitZ(), Vec3::UnitX()), solid.size_mm / 2,
                          0.02 * solid.size_mm.head<2>().minCoeff()));
                break;
            case Shape::ring:
                add(torus(solid));
                break;
            case Shape::mesh:
                if (!solid.mesh || solid.mesh->faces.size() > most_faces) break;
                Mesh mesh{solid.mesh->points, solid.mesh->faces};
                for (Vec3& point : mesh.points) point += solid.at;
                add(std::move(mesh));
                break;
        }
    }
}

}  // namespace swashwright::draw
