// How the numbers of a form are made from the places where a description keeps them.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "viewer/panels/ledger/part_fields.h"

namespace swashwright::panels {

inline Numbers::List list_of(double value) {
    return {value};
}
inline Numbers::List list_of(int value) {
    return {static_cast<double>(value)};
}
inline Numbers::List list_of(const std::array<double, 2>& pair) {
    return {pair[0], pair[1]};
}
inline Numbers::List list_of(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}
inline void take(double& value, const Numbers::List& list) {
    value = list[0];
}
inline void take(int& value, const Numbers::List& list) {
    value = static_cast<int>(std::lround(std::clamp(list[0], -1e6, 1e6)));
}
inline void take(std::array<double, 2>& pair, const Numbers::List& list) {
    pair = {list[0], list[1]};
}
inline void take(Vec3& v, const Numbers::List& list) {
    v = {list[0], list[1], list[2]};
}

/// Decimals and steps by what is measured.
struct Look {
    int decimals = 2;
    double step = 0.01;
    std::vector<std::string> each = {""};
};
inline const Look directions{3, 0.01, {"x", "y", "z"}};  // in a part's own frame
inline const Look frame_directions{3, 0.01, {"forward", "left", "up"}};
inline const Look blade_directions{3, 0.01, {"along", "lead", "up"}};
/// A number that always stands in the scene. `at` finds it in a description.
template <class At>
Numbers always(At at, const Look& look) {
    Numbers out;
    out.read = [at](const head::Description& d) {
        return std::optional(list_of(at(const_cast<head::Description&>(d))));
    };
    out.write = [at](head::Description& d, const std::optional<Numbers::List>& list) {
        if (list) take(at(d), *list);
    };
    out.each = look.each;
    out.decimals = look.decimals;
    out.step = look.step;
    return out;
}

/// A number that counts as `usual` where the scene does not give it.
template <class At, class T>
Numbers usually(At at, const T& usual, const Look& look) {
    Numbers out = always(at, look);
    out.usual = list_of(usual);
    out.counts = out.may_be_missing = true;
    out.read = [at, usual = out.usual](const head::Description& d) {
        Numbers::List list = list_of(at(const_cast<head::Description&>(d)));
        return list == usual ? std::nullopt : std::optional(std::move(list));
    };
    out.write = [at, usual = out.usual](head::Description& d, const std::optional<Numbers::List>& list) {
        take(at(d), list.value_or(usual));
    };
    return out;
}

/// A number that may be missing altogether; once it is given it starts at `start`.
template <class At, class T>
Numbers perhaps(At at, const T& start, const Look& look) {
    Numbers out;
    out.usual = list_of(start);
    out.may_be_missing = true;
    out.each = look.each;
    out.decimals = look.decimals;
    out.step = look.step;
    out.read = [at](const head::Description& d) -> std::optional<Numbers::List> {
        const auto& value = at(const_cast<head::Description&>(d));
        return value ? std::optional(list_of(*value)) : std::nullopt;
    };
    out.write = [at, start](head::Description& d, const std::optional<Numbers::List>& list) {
        auto& value = at(d);
        if (!list) return value.reset();
        value = start;
        take(*value, *list);
    };
    return out;
}

/// A text that is one of the scene's own.
template <class At>
Words text(At at, bool several_lines = false) {
    return {[at](const scene::Scene& s) { return at(const_cast<scene::Scene&>(s)); },
            [at](scene::Scene& s, const std::string& typed) -> tl::expected<void, std::string> {
                at(s) = typed;
                return {};
            },
            several_lines};
}

/// `v` made square to `to`; as it is where nothing would be left of it.
inline Vec3 squared(const Vec3& v, const Vec3& to) {
    const double length = to.squaredNorm();
    const Vec3 rest = length > 0 ? Vec3(v - v.dot(to) / length * to) : v;
    return rest.norm() > 1e-6 * v.norm() ? rest : v;
}

/// A direction; the other is turned with it so that the two stay square.
template <class At, class Other>
Numbers square_direction(At at, Other other, const Look& look) {
    Numbers out = always(at, look);
    out.write = [at, other](head::Description& d, const std::optional<Numbers::List>& list) {
        if (!list) return;
        take(at(d), *list);
        constexpr double square = 1e-4;  // of a right angle's cosine: well within the scene's tenth of a degree
        Vec3 &moved = other(d), to = at(d);
        if (std::abs(moved.dot(to)) > square * moved.norm() * to.norm()) moved = squared(moved, to);
    };
    return out;
}

}  // namespace swashwright::panels
