#include "viewer/panels/ledger/linkage_fields.h"

#include <fmt/format.h>

#include <algorithm>

#include "viewer/panels/ledger/field_makers.h"

namespace swashwright::panels {

namespace {

using draw::Part;
using head::BallName;
using head::Carrier;
using head::Description;
using head::Role;
using Fields = std::vector<Field>;
using Written = tl::expected<void, std::string>;

const Look place{2, 0.01}, angle{2, 0.1}, range{1, 0.5, {"least", "most"}};

template <class T>
std::vector<Offer> offers_of(const Description& d, const std::vector<T>& all) {
    std::vector<Offer> out;
    for (const T& one : all) out.push_back({name_of(one), words_of(d, one)});
    return out;
}

/// A ball by its name; `at` reads it, `set` writes it.
template <class At, class Set>
Words ball_choice(At at, Set set) {
    return {[at](const scene::Scene& s) { return words_of(s.head, at(s.head)); },
            [set](scene::Scene& s, const std::string& typed) -> Written {
                const auto ball = head::ball_named(s.head, typed);
                if (!ball) return tl::unexpected(fmt::format("there is no ball \"{}\"; take one from the list", typed));
                set(s.head, *ball);
                return {};
            },
            false, [](const Description& d) { return offers_of(d, head::every_ball(d)); },
            /*ball=*/true};
}

/// On what a part stands; `list` is where the description keeps it.
template <class T>
Words carrier_choice(std::vector<T> Description::*list, std::size_t i) {
    return {[list, i](const scene::Scene& s) { return words_of(s.head, (s.head.*list)[i].on); },
            [list, i](scene::Scene& s, const std::string& typed) -> Written {
                const auto on = head::carrier_named(s.head, typed);
                if (!on) return tl::unexpected(fmt::format("there is no part \"{}\"; take one from the list", typed));
                T& part = (s.head.*list)[i];
                part.on = *on;
                if (on->on != Carrier::On::hub && on->on != Carrier::On::outer_ring) part.blade = 0;
                return {};
            },
            false, [](const Description& d) { return offers_of(d, head::every_carrier(head::carrier_counts(d))); }};
}

constexpr const char* whose_terms =
    "Its numbers count in that part's terms: on frame and inner ring forward, left, height; on hub, outer ring and "
    "grip "
    "along the blade, in the direction of rotation, up; on lever and slider its own x, y, z";

/// `on`, and whose blade's terms where that is asked.
template <class T>
void add_carrier(Fields& fields, const Description& d, std::vector<T> Description::*list, std::size_t i) {
    fields.push_back({"on", "Stands on", whose_terms, carrier_choice(list, i), /*builds=*/true});
    const Carrier::On on = (d.*list)[i].on.on;
    if (on != Carrier::On::hub && on != Carrier::On::outer_ring) return;
    Numbers blade = usually([list, i](Description& at) -> int& { return (at.*list)[i].blade; }, 0, {0, 1});
    blade.read = [list, i](const Description& at) -> std::optional<Numbers::List> {
        const int k = (at.*list)[i].blade;
        return k == 0 ? std::nullopt : std::optional(Numbers::List{k + 1.0});
    };
    blade.usual = {1};
    blade.write = [list, i](Description& at, const std::optional<Numbers::List>& typed) {
        take((at.*list)[i].blade, {typed ? (*typed)[0] - 1 : 0});
    };
    fields.push_back(
        {"blade", "Directions as seen from blade", "Which blade's direction \"along\" is", std::move(blade)});
}

std::array<BallName, 2> ends_or_none(const Description& d, const Part& link) {
    return head::ends_of(d, link).value_or(std::array<BallName, 2>{});
}

template <class T>
Words name_of_part(std::vector<T> Description::*list, std::size_t i) {
    return text([list, i](scene::Scene& s) -> std::string& { return (s.head.*list)[i].name; });
}

/// The stud of one ball; studs are written for all balls of a lever or for none.
Numbers stud(std::size_t i, std::size_t b) {
    const Vec3 along_axis = Vec3::UnitZ();
    Numbers out;
    out.each = directions.each;
    out.decimals = directions.decimals;
    out.step = directions.step;
    out.usual = list_of(along_axis);
    out.counts = out.may_be_missing = true;
    out.read = [i, b, along_axis](const Description& d) -> std::optional<Numbers::List> {
        const auto& studs = d.levers[i].studs;
        if (b >= studs.size() || studs[b] == along_axis) return std::nullopt;
        return list_of(studs[b]);
    };
    out.write = [i, b, along_axis](Description& d, const std::optional<Numbers::List>& list) {
        head::Lever& lever = d.levers[i];
        lever.studs.resize(lever.balls_mm.size(), along_axis);
        lever.studs[b] = along_axis;
        if (list) take(lever.studs[b], *list);
        if (std::ranges::all_of(lever.studs, [&](const Vec3& s) { return s == along_axis; })) lever.studs.clear();
    };
    return out;
}

/// What directions in the terms of this part are called.
const Look& directions_on(Carrier::On on) {
    using enum Carrier::On;
    const bool turning = on == hub || on == outer_ring || on == grip, own = on == lever || on == slider;
    return turning ? blade_directions : own ? directions : frame_directions;
}

template <class T>
void add_directions(Fields& fields, const Description& description, std::vector<T> Description::*list, std::size_t i,
                    const char* axis_words, const char* zero_words) {
    const Look& look = directions_on((description.*list)[i].on.on);
    const auto at = [list, i](auto member) {
        return [list, i, member](Description& d) -> Vec3& { return (d.*list)[i].*member; };
    };
    fields.push_back({"axis", axis_words, "In directions of the part on which it stands; x is turned to stay square",
                      square_direction(at(&T::axis), at(&T::zero), look)});
    fields.push_back({"zero", zero_words, "In the same directions; the axis is turned to stay square",
                      square_direction(at(&T::zero), at(&T::axis), look)});
}

}  // namespace

Fields lever_fields(const Description& description, std::size_t i) {
    const auto at = [i](auto member) {
        return [ i, member ](Description & d) -> auto& {
            return d.levers[i].*member;
        };
    };
    Fields fields{{"name", "Name", "One line", name_of_part(&Description::levers, i)}};
    add_carrier(fields, description, &Description::levers, i);
    add_directions(fields, description, &Description::levers, i, "Turns about", "x at angle 0 points to");
    fields.push_back({"angle_deg", "Angle at neutral, \xC2\xB0",
                      "Of its x about the axis: the place nearest which neutral is sought",
                      usually(at(&head::Lever::angle_deg), 0.0, angle)});
    fields.push_back({"by_hand_deg", "Moved by hand from, to, \xC2\xB0",
                      "Nothing drives it: the tray has a slider for it. Until that is moved it stands at its angle",
                      perhaps(at(&head::Lever::by_hand_deg), std::array{-10.0, 10.0}, range), /*builds=*/true});
    fields.push_back({"reads", "Its angle is read as", "A name such as \"paddle pitch\"; empty: it is not read",
                      text([i](scene::Scene& s) -> std::string& { return s.head.levers[i].reads; })});
    for (std::size_t b = 0; b < description.levers[i].balls_mm.size(); ++b)
        fields.push_back({fmt::format("studs {}", b + 1), fmt::format("Ball {}, stud", b + 1),
                          "From its foot to the ball, in the lever's own frame; usual: along the axis", stud(i, b)});
    return fields;
}

Fields slider_fields(const Description& description, std::size_t i) {
    Fields fields{{"name", "Name", "One line", name_of_part(&Description::sliders, i)}};
    add_carrier(fields, description, &Description::sliders, i);
    add_directions(fields, description, &Description::sliders, i, "Slides along", "x points to");
    fields.push_back({"place_mm", "Place at neutral, mm", "Along the axis: the place nearest which neutral is sought",
                      usually(
                          [i](Description & d) -> auto& { return d.sliders[i].place_mm; }, 0.0, place)});
    return fields;
}

Fields fixed_ball_fields(const Description& description, std::size_t i) {
    Fields fields;
    add_carrier(fields, description, &Description::fixed_balls, i);
    return fields;
}

Fields pin_fields(std::size_t i) {
    Fields fields{{"name", "Name", "One line", name_of_part(&Description::pins, i)}};
    for (const std::size_t end : {0, 1})
        fields.push_back({fmt::format("ends {}", end + 1), end == 0 ? "This ball" : "is one with",
                          "A ball's name, from the list, or picked in the picture",
                          ball_choice([i, end](const Description& d) { return d.pins[i].ends[end]; },
                                      [i, end](Description& d, const BallName& ball) { d.pins[i].ends[end] = ball; }),
                          /*builds=*/true});
    return fields;
}

Fields end_fields(const Part& link) {
    Fields fields;
    if (link.role == Role::other_link)
        fields.push_back({"name", "Name", "One line",
                          name_of_part(&Description::links, static_cast<std::size_t>(std::max(0, link.index)))});
    for (const std::size_t end : {0, 1})
        fields.push_back({fmt::format("ends {}", end + 1), end == 0 ? "Lower end on" : "Upper end on",
                          "A ball's name, from the list, or picked in the picture",
                          ball_choice([link, end](const Description& d) { return ends_or_none(d, link)[end]; },
                                      [link, end](Description& d, const BallName& ball) {
                                          auto ends = ends_or_none(d, link);
                                          ends[end] = ball;
                                          head::set_ends(d, link, ends);
                                      }),
                          /*builds=*/true});
    return fields;
}

Field grip_lever_field(std::size_t k) {
    Words words{
        [k](const scene::Scene& s) {
            const auto lever = s.head.grips[k].lever;
            return words_of(s.head, lever ? Carrier{Carrier::On::lever, *lever} : Carrier{Carrier::On::hub});
        },
        [k](scene::Scene& s, const std::string& typed) -> Written {
            const auto on = head::carrier_named(s.head, typed);
            if (!on || (on->on != Carrier::On::lever && on->on != Carrier::On::hub))
                return tl::unexpected(fmt::format("a grip stands on the hub or on a lever, not on \"{}\"", typed));
            s.head.grips[k].lever.reset();
            if (on->on == Carrier::On::lever) s.head.grips[k].lever = on->index;
            return {};
        },
        false,
        [](const Description& d) {
            std::vector<Carrier> all{{Carrier::On::hub}};
            for (std::size_t i = 0; i < d.levers.size(); ++i) all.push_back({Carrier::On::lever, static_cast<int>(i)});
            return offers_of(d, all);
        }};
    return {"on", "Stands on", "At that lever's angle 0 it stands where it would stand on the hub", std::move(words),
            /*builds=*/true};
}

}  // namespace swashwright::panels
