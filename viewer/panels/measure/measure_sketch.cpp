#include "viewer/panels/measure/measure_sketch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "kinematics/linkage/geometry.h"
#include "viewer/panels/measure/sketch_pen.h"

namespace swashwright::panels {

namespace {

using studies::MeasuredLayout;
using studies::ReadingPlace;
using studies::Taking;

/// Seen from above, nose up: a direction by its azimuth from the nose, positive to the left.
Point heading(double azimuth_deg) {
    const double a = azimuth_deg * degree;
    return {static_cast<float>(-std::sin(a)), static_cast<float>(-std::cos(a))};
}
Point turned(Point p, double by) {
    const float c = static_cast<float>(std::cos(by)), s = static_cast<float>(std::sin(by));
    return {c * p.x - s * p.y, s * p.x + c * p.y};
}

void nose(Sketch& s, Point direction) {
    const Point from{10, 12}, to = from + 8.0F * direction;
    s.line(from, to);
    const Point n{-direction.y, direction.x};
    s.line(to, to - 3.0F * direction + 1.6F * n);
    s.line(to, to - 3.0F * direction - 1.6F * n);
    s.note({10, 25}, "nose", /*outwards=*/false);
}

enum class Around { inner_ring, outer_ring, arms, horns };

/// Balls round the shaft from above, turned by no more than makes the two in question level; jaws over them, on the
/// side where they are.
void over_two(Sketch& s, const std::vector<double>& azimuths, std::array<int, 2> pair, Around what,
              const std::string& label, const std::vector<double>& horns = {}) {
    const float radius = what == Around::horns ? 19 : 20, r = 3.4F;
    std::vector<Point> balls;
    for (const double azimuth : azimuths) balls.push_back(radius * heading(azimuth));
    Point a0 = balls[static_cast<std::size_t>(pair[0])], b0 = balls[static_cast<std::size_t>(pair[1])];
    if (a0.x > b0.x) std::swap(a0, b0);
    const double turn = -std::atan2(b0.y - a0.y, b0.x - a0.x);
    const Point p = turned(a0, turn), q = turned(b0, turn);
    const float side = p.y + q.y < -0.2F ? -1.0F : 1.0F;  // -1: towards the top of the sheet
    const Point centre{52, 28 - 4 * side};
    if (what == Around::inner_ring || what == Around::outer_ring) {
        s.ball(centre, 14);
        s.hole(centre, 8);
        if (what == Around::outer_ring) s.hole(centre, 11);
    }
    const auto to_pivot = [&](std::size_t i) { return -1.0F * turned(heading(horns[i]), turn); };
    for (std::size_t i = 0; i < balls.size(); ++i) {
        const Point at = turned(balls[i], turn), out = unit(at);
        if (what == Around::arms) {
            const Point blade = turned(out, -1.1);
            s.bar(centre + 5.0F * blade, centre + 15.0F * blade, 2.6F);  // short of the dimension
            s.bar(centre + 10.0F * blade, centre + at, 1.2F);
        } else if (what == Around::horns) {
            s.bar(centre + at, centre + at + 11.0F * to_pivot(i), 1.4F);
        } else {
            s.bar(centre + 13.0F * out, centre + at, 1.2F);
        }
    }
    s.ball(centre, 4);
    const auto chosen = [&](std::size_t i) { return static_cast<int>(i) == pair[0] || static_cast<int>(i) == pair[1]; };
    for (std::size_t i = 0; i < balls.size(); ++i) s.ball(centre + turned(balls[i], turn), r, chosen(i));
    for (std::size_t i = 0; i < balls.size(); ++i) {
        const Point at = turned(balls[i], turn);
        const float inwards = at.x > 0 ? -1.0F : 1.0F;
        Point beside = 0.34F * at;
        if (what == Around::horns && !chosen(i))
            beside = {to_pivot(i).x < 0 ? 7.0F : -7.0F, 0};
        else if (what == Around::horns)
            beside = {7 * inwards, -4 * side};  // clear of the jaws and their number
        else if (chosen(i))
            beside = {0, -7 * side};
        else if (side * at.y < -15)
            beside = {7, 0};  // outwards it would leave the field
        s.note(centre + at + beside, std::to_string(i + 1).c_str());
    }
    s.jaws(centre + p - Point{r, 0}, centre + q + Point{r, 0}, {0, side}, 24 - side * p.y, label);
    if (what != Around::arms) nose(s, turned({0, -1}, turn));
}

std::vector<double> evenly(int n, double first, double sense) {
    std::vector<double> out;
    for (int k = 0; k < n; ++k) out.push_back(first + sense * 360.0 * k / n);
    return out;
}

void loose_part(Sketch& s, Taking taking, const std::string& label) {
    const Point c{50, 20};
    switch (taking) {
        case Taking::ball:
            s.box(47, 20, 53, 34);
            s.ball(c, 10, true);
            s.jaws({40, 20}, {60, 20}, {0, 1}, 24, label);
            break;
        case Taking::boss_lower:
        case Taking::boss_upper:
            s.bar({50, 20}, {86, 4}, 2.4F);
            s.ball(c, 10, true);
            s.hole(c, 5);
            s.jaws({40, 20}, {60, 20}, {0, 1}, 24, label);
            break;
        case Taking::cross_bolt:
            s.box(38, 2, 62, 9);  // its head
            s.box(44, 9, 56, 40);
            s.jaws({44, 24}, {56, 24}, {0, 1}, 22, label);
            break;
        case Taking::barrel:
            s.box(36, 2, 64, 40);
            s.bar({64, 10}, {84, 10}, 2.4F);
            s.ball({86, 10}, 4);
            s.jaws({36, 26}, {64, 26}, {0, 1}, 20, label);
            break;
        default:
            s.box(41, 2, 59, 54);
            s.centre_line({50, 0}, {50, 56});
            s.jaws({41, 22}, {59, 22}, {0, 1}, 22, label);
    }
}

/// The swashplate alone from the side. Lower face at 38, upper face at 15.
void ring_side(Sketch& s, Taking taking, const std::string& label) {
    s.box(45, 0, 55, 56);
    s.box(39, 10, 61, 48);
    s.box(20, 27, 80, 38);
    s.box(26, 15, 74, 26);
    s.bar({20, 32}, {14, 32}, 1.2F);
    s.ball({13, 32}, 4.6F, taking == Taking::inner_ball);
    // The outer ball stands clear of the dimension's lines.
    const bool other_side = taking == Taking::sleeve || taking == Taking::faces;
    const auto x = [&](float right) { return other_side ? 100 - right : right; };
    s.bar({x(74), 20}, {x(85), 9}, 1.2F);
    s.ball({x(85), 8}, 4.6F, taking == Taking::outer_ball);
    s.centre_line({28, 29}, {72, 29});
    s.line({48, 29}, {52, 29}, 2.4F);
    s.line({50, 27}, {50, 31}, 2.4F);  // the tilt centre
    s.note({28, 44}, "inner");
    s.note({x(67), 5}, "outer", /*outwards=*/false);
    switch (taking) {
        case Taking::sleeve:
            s.upright({61, 10}, {61, 48}, 94, label);
            break;
        case Taking::sleeve_below:
            s.upright({70, 38}, {61, 48}, 76, label);
            break;
        case Taking::inner_ball:
            s.upright({20, 38}, {13, 27.4F}, 3, label);
            break;
        case Taking::faces:
            s.upright({76, 38}, {74, 15}, 93, label);
            break;
        default:
            s.upright({74, 15}, {85, 3.4F}, 95, label);
    }
}

/// From the bearing block up to the hub.
void mast_side(Sketch& s, Taking taking, const std::string& label) {
    s.box(47, 0, 53, 56);
    s.box(30, 48, 70, 55);
    s.note({82, 51}, "block");
    s.box(44, 26, 56, 40);
    s.box(33, 33, 67, 37);
    s.box(36, 28, 64, 32.5F);
    s.ball({29, 35}, 2.4F, taking == Taking::block_to_ball);
    s.ball({taking == Taking::face_to_bolt ? 32.0F : 68.0F, 27}, 2.4F);  // clear of the dimension's lines
    s.box(42, 1, 58, 16);
    s.box(38, 9.5F, 62, 12.5F);  // cross-bolt
    s.box(61, 8.5F, 64, 13.5F);
    s.centre_line({32, 5}, {82, 5});
    s.note({25, 16.5F}, "cross-bolt");
    s.note({15.5F, 5}, "feathering axis");
    switch (taking) {
        case Taking::block_to_face:
            s.upright({33, 48}, {33, 37}, 18, label);
            break;
        case Taking::block_to_ball:
            s.upright({30, 48}, {29, 32.6F}, 16, label);
            break;
        case Taking::face_to_bolt:
            s.upright({64, 28}, {62, 12.5F}, 80, label);
            break;
        case Taking::block_to_bolt:
            s.upright({70, 48}, {62, 12.5F}, 84, label);
            break;
        default:
            s.upright({62, 11}, {62, 5}, 80, label);
    }
}

void arm_place(Sketch& s, Taking taking, const std::string& label) {
    if (taking == Taking::arm_up) {  // looking along the blade
        s.bar({30, 22}, {58, 28}, 2.2F);
        s.ball({60, 30}, 12);
        s.ball({28, 22}, 4.2F, true);
        s.centre_line({16, 30}, {86, 30});
        s.centre_line({60, 14}, {60, 46});
        s.note({60, 50}, "grip, from the tip");
        s.upright({44, 30}, {28, 22}, 12, label);
        return;
    }
    s.bar({50, 20}, {96, 20}, 1.2F);
    s.box(58, 14, 86, 26);  // from above, blade to the right
    s.bar({68, 26}, {68, 36}, 1.6F);
    s.ball({68, 38}, 3.6F, true);
    s.ball({50, 20}, 5);
    s.centre_line({30, 20}, {98, 20});
    s.note({50, 8}, "shaft");
    s.note({76, 8}, "grip");
    if (taking == Taking::arm_along)
        s.across({45, 20}, {71.6F, 38}, 50, label);
    else
        s.upright({84, 14}, {68, 41.6F}, 92, label);
}

void servo_place(Sketch& s, Taking taking, const std::string& label) {
    if (taking == Taking::horn) {
        s.box(14, 8, 62, 40);
        s.bar({44, 24}, {84, 24}, 2.4F);
        s.ball({44, 24}, 6);
        s.ball({84, 24}, 4, true);
        s.across({44, 24}, {84, 24}, 50, label);
    } else if (taking == Taking::servo_height) {
        s.box(72, 0, 78, 56);
        s.box(60, 40, 92, 50);
        s.note({101, 45}, "block");
        s.box(8, 6, 44, 38);
        s.ball({32, 16}, 5, true);
        s.note({26, 46}, "servo");
        s.upright({60, 40}, {32, 16}, 57, label);
    } else {  // from above, horn to the right
        s.box(14, 20, 44, 36);
        s.box(27, 13, 31, 20);
        s.bar({29, 12}, {68, 12}, 1.8F);
        s.ball({68, 12}, 3.4F, taking == Taking::servo_across);
        s.ball({56, 34}, 4.5F);
        s.centre_line({29, 4}, {29, 52});
        s.note({68, 38}, "shaft");
        s.note({46, 5}, "horn");
        if (taking == Taking::servo_along)
            s.across({56, 34}, {29, 36}, 49, label);
        else
            s.upright({60, 34}, {68, 12}, 84, label);
    }
}

void link(Sketch& s, const MeasuredLayout& layout, const std::string& label) {
    s.bar({22, 22}, {78, 22}, 2);
    for (const float x : {22.0F, 78.0F}) {
        s.ball({x, 22}, 9);
        s.hole({x, 22}, 4.6F);
    }
    if (layout.links == MeasuredLayout::LinkForm::gap)
        s.across({31, 22}, {69, 22}, 44, label);
    else
        s.across({13, 22}, {87, 22}, 44, label);
}

void pin(Sketch& s, bool guide, const std::string& label) {
    s.ball({44, 22}, 18);
    s.hole({44, 22}, guide ? 9.0F : 13.0F);
    s.ball({44, 22}, 5);
    s.bar({guide ? 62.0F : 58.0F, 22}, {78, 22}, 1.6F);
    s.ball({80, 22}, 2.6F, true);
    s.note({80, 12}, guide ? "guide pin" : "driver pin");
    s.across({44, 22}, {80, 22}, 50, label);
}

void outer_to_shaft(Sketch& s, const std::string& label) {
    s.ball({46, 20}, 14);
    s.hole({46, 20}, 11);
    s.hole({46, 20}, 8);
    s.bar({59, 20}, {66, 20}, 1.2F);
    s.ball({46, 20}, 5, true);
    s.ball({68, 20}, 3.6F, true);
    s.jaws({41, 20}, {71.6F, 20}, {0, 1}, 26, label);
}

void tip(Sketch& s, const std::string& label) {
    s.box(14, 10, 18, 44);
    s.box(18, 18, 30, 24);
    s.box(30, 18.5F, 94, 23.5F);
    s.across({16, 40}, {94, 23}, 42, label);
}

std::vector<double> horn_azimuths(const MeasuredLayout& layout) {
    std::vector<double> out;
    for (const auto& servo : layout.servos) out.push_back(servo.horn_azimuth_deg);
    return out;
}
std::vector<double> servo_azimuths(const MeasuredLayout& layout) {
    std::vector<double> out;
    for (const auto& servo : layout.servos) out.push_back(servo.ball_azimuth_deg);
    return out;
}

}  // namespace

void draw_measure_sketch(ImDrawList& list, ImVec2 low, ImVec2 high, const SketchLook& look,
                         const MeasuredLayout& layout, const ReadingPlace& place, const std::string& label) {
    Sketch s(list, low, high, look);
    const std::array<int, 2> pair = studies::span_balls(layout, place.taking, place.index);
    const double sense = head::spin_sign(layout.direction);
    const std::vector<double> rotating = evenly(layout.blades, 180 + sense * layout.outer_ahead_deg, sense);
    switch (place.taking) {
        case Taking::ball:
        case Taking::shaft:
        case Taking::cross_bolt:
        case Taking::barrel:
        case Taking::boss_lower:
        case Taking::boss_upper:
            return loose_part(s, place.taking, label);
        case Taking::inner_span:
            return over_two(s, servo_azimuths(layout), pair, Around::inner_ring, label);
        case Taking::outer_span:
            return over_two(s, rotating, pair, Around::outer_ring, label);
        case Taking::arm_span:
            return over_two(s, rotating, pair, Around::arms, label);
        case Taking::horn_span:
            return over_two(s, servo_azimuths(layout), pair, Around::horns, label, horn_azimuths(layout));
        case Taking::outer_to_shaft:
            return outer_to_shaft(s, label);
        case Taking::sleeve:
        case Taking::sleeve_below:
        case Taking::inner_ball:
        case Taking::faces:
        case Taking::outer_ball:
            return ring_side(s, place.taking, label);
        case Taking::block_to_face:
        case Taking::block_to_ball:
        case Taking::face_to_bolt:
        case Taking::block_to_bolt:
        case Taking::bolt_to_axis:
            return mast_side(s, place.taking, label);
        case Taking::arm_along:
        case Taking::arm_lead:
        case Taking::arm_up:
            return arm_place(s, place.taking, label);
        case Taking::horn:
        case Taking::servo_height:
        case Taking::servo_along:
        case Taking::servo_across:
            return servo_place(s, place.taking, label);
        case Taking::lower_link:
        case Taking::upper_link:
            return link(s, layout, label);
        case Taking::guide_pin:
        case Taking::driver_pin:
            return pin(s, place.taking == Taking::guide_pin, label);
        case Taking::tip:
            return tip(s, label);
    }
}

void draw_layout_sketch(ImDrawList& list, ImVec2 low, ImVec2 high, const SketchLook& look,
                        const MeasuredLayout& layout) {
    Sketch s(list, low, high, look);
    const Point centre{50, 28};
    s.ball(centre, 11);
    s.ball(centre, 4);
    for (std::size_t j = 0; j < layout.servos.size(); ++j) {
        const auto& servo = layout.servos[j];
        const Point ball = centre + 18.0F * heading(servo.ball_azimuth_deg), horn = heading(servo.horn_azimuth_deg);
        const Point axis = heading(servo.horn_azimuth_deg + (servo.axis_left ? 90 : -90));
        const Point pivot = ball - 10.0F * horn;
        s.bar(centre + 11.0F * heading(servo.ball_azimuth_deg), ball, 0.8F);
        s.bar(pivot - 9.0F * axis, pivot - 2.0F * axis, 4);  // the servo behind its output shaft
        s.line(pivot - 2.0F * axis, pivot);
        s.bar(pivot, ball, 1.1F);
        s.ball(ball, 2.6F);
        s.note(ball + 5.0F * heading(servo.ball_azimuth_deg), std::to_string(j + 1).c_str());
    }
    nose(s, {0, -1});
}

}  // namespace swashwright::panels
