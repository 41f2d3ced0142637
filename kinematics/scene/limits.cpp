#include "kinematics/scene/limits.h"

#include <fmt/format.h>

namespace swashwright::scene {

namespace {

constexpr Kind component{"a component of a direction", -10000, 10000};
constexpr Kind size{"a size in mm", 0.1, 1000};
constexpr Kind height{"a height in mm", -10000, 10000};
constexpr Kind reach{"a radius in mm", 0, 10000};
constexpr Kind tilt{"a tilt in degrees", 0.1, 90};
constexpr Kind twist{"an angle in degrees", -3600, 3600};
constexpr double shortest_direction = 1e-3;

}  // namespace

std::optional<Vec3> optional_direction(Keys& keys, const char* key, const char* form) {
    keys.allow(key);
    if (!keys.has(key)) return std::nullopt;
    const auto xyz = keys.numbers(key, 3, component, form);
    if (!xyz) return std::nullopt;
    const Vec3 direction((*xyz)[0], (*xyz)[1], (*xyz)[2]);
    if (direction.norm() >= shortest_direction) return direction;
    keys.mistake(key, fmt::format("expected a direction {}, found one that is zero or nearly so", form));
    return std::nullopt;
}

std::optional<std::array<double, 2>> optional_range(Keys& keys, const char* key, const Kind& kind) {
    keys.allow(key);
    if (!keys.has(key)) return std::nullopt;
    const auto range = keys.numbers(key, 2, kind, "[least, most]");
    if (!range) return std::nullopt;
    if ((*range)[0] < (*range)[1]) return std::array{(*range)[0], (*range)[1]};
    keys.mistake(key, fmt::format("expected the least first, then the most, found [{}, {}]; swap or correct them",
                                  (*range)[0], (*range)[1]));
    return std::nullopt;
}

std::array<double, 2> read_ends(Keys& keys, const char* key, const Kind& kind, const std::array<double, 2>& otherwise) {
    if (!keys.has(key)) return keys.allow(key), otherwise;
    const auto ends = keys.numbers(key, 2, kind, "[lower end, upper end]");
    return ends ? std::array{(*ends)[0], (*ends)[1]} : otherwise;
}

void read_link_limits(Keys& keys, head::Link& link) {
    link.ball_mm = read_ends(keys, "ball_mm", size, link.ball_mm);
    link.socket_mm = read_ends(keys, "socket_mm", size, link.socket_mm);
    link.neck_mm = read_ends(keys, "neck_mm", size, link.neck_mm);
    keys.allow("tilt_limit_deg");
    if (keys.has("tilt_limit_deg")) link.tilt_limit_deg = read_ends(keys, "tilt_limit_deg", tilt, {90, 90});
    link.end_twist_deg = keys.number("end_twist_deg", twist, link.end_twist_deg);
    link.rod_mm = keys.number("rod_mm", size, link.rod_mm);
    link.rod_length_mm = keys.optional_number("rod_length_mm", length);
    if (!keys.sound() || link.tilt_limit_deg) return;
    for (std::size_t e = 0; e < 2; ++e) {
        const double ball = link.ball_mm[e], socket = link.socket_mm[e], neck = link.neck_mm[e];
        if (socket * socket + neck * neck < ball * ball) continue;
        keys.mistake(
            fmt::format("expected socket_mm and neck_mm that let the {} end tilt (socket^2 + neck^2 below "
                        "ball^2), found ball {}, socket {}, neck {}; correct them or give tilt_limit_deg",
                        e == 0 ? "lower" : "upper", ball, socket, neck));
    }
}

void read_ring_limits(Keys& keys, head::Swashplate& ring) {
    const auto stud_form = "[out, turning, up]";
    if (const auto stud = optional_direction(keys, "inner_stud", stud_form)) ring.inner_stud = *stud;
    if (const auto stud = optional_direction(keys, "outer_stud", stud_form)) ring.outer_stud = *stud;
    ring.height_stops_mm = optional_range(keys, "height_stops_mm", height);
    ring.tilt_limit_deg = keys.optional_number("tilt_limit_deg", tilt);
    ring.driver_reach_mm = optional_range(keys, "driver_reach_mm", reach);
    ring.lower_face_mm = keys.optional_number("lower_face_mm", coordinate);
}

}  // namespace swashwright::scene
