// The numbers of levers, sliders and fixed balls: see numbers.h.
#include "kinematics/head/build.h"
#include "kinematics/head/number_list.h"

namespace swashwright::head {

namespace {

using linkage::Quantity;
using Out = std::vector<linkage::Change>;

/// What the three directions are called in which a carrier's terms count.
std::array<const char*, 3> directions_of(const Carrier& carrier) {
    using enum Carrier::On;
    if (carrier.on == frame || carrier.on == inner_ring) return along_frame;
    if (carrier.on == lever || carrier.on == slider) return {"x", "y", "z"};
    return {"along", "lead", "up"};
}

/// Grips on a lever keep their place over the hub while the lever's pivot moves under them. `shift`: of the pivot, in
/// the terms of the lever's carrier.
void keep_grips(const Head& head, std::size_t moved, const Vec3& shift, Out& out) {
    const Description& d = head.description();
    for (std::size_t k = 0; k < d.grips.size(); ++k) {
        Mat3 turn = Mat3::Identity();  // of what lies above the moved lever's carrier, seen from the grip's carrier
        bool carries = false;
        for (Carrier at{Carrier::On::lever, d.grips[k].lever.value_or(-1)};
             at.on == Carrier::On::lever && at.index >= 0;) {
            const auto i = static_cast<std::size_t>(at.index);
            turn = lever_frame(d, d.levers[i]).turn * turn;
            if (i == moved) {
                carries = true;
                break;
            }
            at = d.levers[i].on;
        }
        if (carries) out.push_back({Quantity::frame_origin, head.parts().grips[k].index, -(turn.transpose() * shift)});
    }
}

}  // namespace

void add_lever(NumberList& list, std::size_t i) {
    const Lever& lever = list.d.levers[i];
    const std::string part = fmt::format("lever[{}]", i + 1);
    const std::string words = lever.name.empty() ? fmt::format("lever {}", i + 1) : lever.name;
    list.of(part, NumberKind::lever_pivot, i);
    list.add_point(
        ".pivot_mm", words + ", pivot", directions_of(lever.on), [i](auto& d) -> auto& { return d.levers[i].pivot_mm; },
        [i](const Head& head, int which, Out& out) {
            const Lever& at = head.description().levers[i];
            const Vec3 shift = carrier_axes(head.description(), at.on, at.blade).col(which);
            out.push_back({Quantity::frame_origin, head.parts().levers[i].index, shift});
            keep_grips(head, i, shift, out);
        });
    if (lever.by_hand_deg) {
        list.of(part, NumberKind::hand_angle, i);
        list.add(
            ".angle_deg", words + ", set by hand to",
            Unit::deg, [i](auto& d) -> auto& { return d.levers[i].angle_deg; },
            [i](const Head& head, const Sticks&, Out& out) {
                for (const Parts::Hand& hand : head.parts().hands)
                    if (hand.lever == static_cast<int>(i)) out.push_back({Quantity::input, hand.input, {degree, 0, 0}});
            });
    }
    list.of(part, NumberKind::lever_ball, i);
    for (std::size_t b = 0; b < lever.balls_mm.size(); ++b)
        list.add_point(
            fmt::format(".balls_mm[{}]", b + 1), fmt::format("{}, ball {}", words, b + 1), {"x", "y", "z"},
            [ i, b ](auto& d) -> auto& { return d.levers[i].balls_mm[b]; },
            [i, b](const Head& head, int which, Out& out) {
                out.push_back({Quantity::anchor_position, head.parts().lever_balls[i][b].index, Vec3::Unit(which)});
            });
}

void add_slider(NumberList& list, std::size_t i) {
    const Slider& slider = list.d.sliders[i];
    const std::string words = slider.name.empty() ? fmt::format("slider {}", i + 1) : slider.name;
    list.of(fmt::format("slider[{}]", i + 1), NumberKind::slider_place, i);
    list.add_point(
        ".at_mm", words + ", place", directions_of(slider.on), [i](auto& d) -> auto& { return d.sliders[i].at_mm; },
        [i](const Head& head, int which, Out& out) {
            const Slider& at = head.description().sliders[i];
            out.push_back({Quantity::frame_origin, head.parts().sliders[i].index,
                           carrier_axes(head.description(), at.on, at.blade).col(which)});
        });
    list.of(fmt::format("slider[{}]", i + 1), NumberKind::slider_ball, i);
    for (std::size_t b = 0; b < slider.balls_mm.size(); ++b)
        list.add_point(
            fmt::format(".balls_mm[{}]", b + 1), fmt::format("{}, ball {}", words, b + 1), {"x", "y", "z"},
            [ i, b ](auto& d) -> auto& { return d.sliders[i].balls_mm[b]; },
            [i, b](const Head& head, int which, Out& out) {
                out.push_back({Quantity::anchor_position, head.parts().slider_balls[i][b].index, Vec3::Unit(which)});
            });
}

void add_fixed_ball(NumberList& list, std::size_t i) {
    list.of(fmt::format("fixed_ball[{}]", i + 1), NumberKind::fixed_ball, i);
    list.add_point(
        ".at_mm", fmt::format("fixed ball {},", i + 1),
        directions_of(list.d.fixed_balls[i].on), [i](auto& d) -> auto& { return d.fixed_balls[i].at_mm; },
        [i](const Head& head, int which, Out& out) {
            const FixedBall& at = head.description().fixed_balls[i];
            out.push_back({Quantity::anchor_position, head.parts().fixed_balls[i].index,
                           carrier_axes(head.description(), at.on, at.blade).col(which)});
        });
}

}  // namespace swashwright::head
