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

}  // namespace swashwright::panels
