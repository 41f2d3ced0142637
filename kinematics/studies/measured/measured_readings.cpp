#include "kinematics/studies/measured/measured_readings.h"

#include <fmt/format.h>

#include <algorithm>

namespace swashwright::studies {
namespace {

// Uncertainties: a calliper of 0.02 mm reads a loose, hard part to about 0.02 mm. Over two balls the jaws must find the
// highest places of both: 0.05 mm. Between faces of parts on the model, past links and frames: 0.1 mm; from a rule, or
// to an axis that is only seen: 0.1 to 0.2 mm. Usual sizes: small to large models. All common practice, no source.
constexpr TakingInfo all[] = {
    {Taking::ball, "ball_diameter", "A ball", "Diameter of the link balls. Take three or four and read the mean.", 2, 8,
     0.02},
    {Taking::shaft, "shaft_diameter", "The main shaft", "Diameter of the main shaft above the swashplate.", 3, 16,
     0.02},
    {Taking::cross_bolt, "cross_bolt_diameter", "The hub's cross-bolt",
     "Diameter of the bolt that goes through hub and shaft: the bare part beside the hub.", 1, 8, 0.02},
    {Taking::barrel, "grip_barrel_diameter", "A grip's barrel",
     "Diameter of the round part of a blade grip, beside the pitch arm.", 4, 30, 0.02, true},
    {Taking::boss_lower, "lower_boss_diameter", "Boss of a lower link",
     "Diameter of the link-end boss round the ball, mean of both ends: the size that the calliper meets.", 3, 12, 0.03},
    {Taking::boss_upper, "upper_boss_diameter", "Boss of an upper link",
     "Diameter of the link-end boss round the ball, mean of both ends: the size that the calliper meets.", 3, 12, 0.03},
    {Taking::inner_span, "over_inner_balls", "Over two inner balls",
     "Outer jaws over two balls of the inner (non-rotating) ring, across the shaft, links off.", 10, 120, 0.05},
    {Taking::outer_span, "over_outer_balls", "Over two outer balls",
     "Outer jaws over two balls of the outer (rotating) ring, links off.", 10, 120, 0.05},
    {Taking::outer_to_shaft, "outer_ball_to_shaft", "Outer ball and shaft",
     "Outer jaws over an outer ball and the far side of the main shaft.", 8, 90, 0.05, true},
    {Taking::sleeve, "sleeve_length", "The sleeve in the ring",
     "Length of the ball sleeve that slides on the shaft, end to end. The ring tilts about its middle.", 3, 40, 0.05},
    {Taking::sleeve_below, "sleeve_below_face", "Sleeve below the ring",
     "How far the sleeve's lower end stands out below the inner ring's lower face, ring level; minus if it lies "
     "deeper.",
     -15, 25, 0.05},
    {Taking::inner_ball, "face_to_inner_ball", "Ring face to inner ball",
     "From the ring's lower face up to the top of an inner ball.", -10, 30, 0.05},
    {Taking::faces, "over_ring_faces", "Over the ring's faces",
     "From the inner ring's lower face up to the outer ring's upper face.", 3, 40, 0.05},
    {Taking::outer_ball, "face_to_outer_ball", "Ring face to outer ball",
     "From the outer ring's upper face up to the top of an outer ball; minus if the ball's top lies lower.", -15, 25,
     0.05},
    {Taking::block_to_face, "block_to_ring_face", "Bearing block to ring",
     "Gap from the upper face of the bearing block to the ring's lower face, ring level at mid travel.", 3, 120, 0.1},
    {Taking::block_to_ball, "block_to_inner_ball", "Bearing block to inner ball",
     "From the upper face of the bearing block up to the top of an inner ball, ring as before.", 3, 140, 0.1, true},
    {Taking::face_to_bolt, "ring_face_to_cross_bolt", "Ring to cross-bolt",
     "Gap from the outer ring's upper face to the underside of the hub's cross-bolt, ring as before.", 5, 160, 0.1},
    {Taking::block_to_bolt, "block_to_cross_bolt", "Bearing block to cross-bolt",
     "From the upper face of the bearing block to the underside of the hub's cross-bolt.", 15, 250, 0.1, true},
    {Taking::bolt_to_axis, "cross_bolt_to_feathering_axis", "Cross-bolt to feathering axis",
     "From the cross-bolt's middle up to the middle of the feathering spindle; minus if the spindle lies lower.", -60,
     60, 0.05},
    {Taking::arm_span, "over_arm_balls", "Over two arm balls",
     "Outer jaws over the balls of two pitch arms, blades flat, links off.", 10, 160, 0.05},
    {Taking::arm_along, "arm_ball_to_shaft", "Arm ball along the blade",
     "Along the blade, over a pitch arm's ball and the far side of the main shaft (or of a rod in its place).", 3, 90,
     0.1},
    {Taking::arm_lead, "arm_ball_to_barrel", "Arm ball across the blade",
     "Across the blade, over a pitch arm's ball and the far side of the grip's barrel.", 5, 90, 0.05, true},
    {Taking::arm_up, "arm_ball_above_axis", "Arm ball above the axis",
     "How far the middle of a pitch arm's ball lies above the feathering axis, blade flat; minus if it lies lower.",
     -20, 20, 0.1},
    {Taking::horn, "horn_radius", "Horn: ball to servo axis",
     "From the middle of a horn's ball to the middle of the servo's output shaft.", 4, 45, 0.05},
    {Taking::servo_height, "block_to_servo_axis", "Servo axis above the block",
     "From the upper face of the bearing block up to the middle of a servo's output shaft; minus if it lies lower.",
     -120, 80, 0.1},
    {Taking::servo_along, "servo_axis_along_horn", "Servo axis, along the horn",
     "Seen from above, from the main shaft to the servo's output shaft in the direction in which the horn points; "
     "minus if the output shaft lies the other way.",
     -120, 120, 0.2},
    {Taking::servo_across, "horn_ball_across_horn", "Horn ball, across the horn",
     "Seen from above, from the main shaft to the horn's ball in the direction in which the output shaft points; minus "
     "if the ball lies the other way.",
     -120, 120, 0.2},
    {Taking::horn_span, "over_horn_balls", "Over two horn balls",
     "Outer jaws over the balls of two horns at neutral, links off.", 5, 200, 0.1, true},
    {Taking::lower_link, "lower_link", "Lower links", "Each lower link, off the model.", 3, 150, 0.03},
    {Taking::upper_link, "upper_link", "Upper links", "Each upper link, off the model.", 3, 200, 0.03},
    {Taking::guide_pin, "guide_pin_radius", "Guide pin",
     "From the main shaft's middle to the middle of the guide pin's tip.", 10, 100, 0.3},
    {Taking::driver_pin, "driver_pin_radius", "Driver pin",
     "From the main shaft's middle to the middle of a driver pin on the outer ring.", 5, 100, 0.3},
    {Taking::tip, "blade_tip", "Blade tip", "From the main shaft's middle to a blade's tip, with a rule.", 80, 1200, 1},
};

bool opposite_pairs(int blades) {
    return blades % 2 == 0;
}

}  // namespace

std::span<const TakingInfo> takings() {
    return all;
}

const TakingInfo& info(Taking taking) {
    return all[static_cast<std::size_t>(taking)];
}

const TakingInfo* taking_by_key(std::string_view key) {
    const auto* found = std::ranges::find(all, key, &TakingInfo::key);
    return found == std::end(all) ? nullptr : found;
}

int count(const MeasuredLayout& layout, Taking taking) {
    switch (taking) {
        case Taking::inner_span:
        case Taking::horn_span:
        case Taking::horn:
        case Taking::servo_height:
        case Taking::servo_along:
        case Taking::servo_across:
        case Taking::lower_link:
            return 3;
        case Taking::outer_span:
        case Taking::arm_span:
            return opposite_pairs(layout.blades) ? layout.blades / 2 : layout.blades;
        case Taking::upper_link:
            return layout.blades;
        default:
            return 1;
    }
}

std::array<int, 2> span_balls(const MeasuredLayout& layout, Taking taking, int index) {
    if (taking == Taking::inner_span || taking == Taking::horn_span) return {index, (index + 1) % 3};
    if (opposite_pairs(layout.blades)) return {index, index + layout.blades / 2};
    return {index, (index + 1) % layout.blades};
}

std::string words(const MeasuredLayout& layout, const ReadingPlace& place) {
    const auto over = [&](const char* what) {
        const auto [a, b] = span_balls(layout, place.taking, place.index);
        return fmt::format("over {} balls {} and {}", what, std::min(a, b) + 1, std::max(a, b) + 1);
    };
    const auto link = [&](const char* which) {
        return fmt::format(
            "{} link {}, {}", which, place.index + 1,
            layout.links == MeasuredLayout::LinkForm::gap ? "gap between the bosses" : "span over the bosses");
    };
    const auto of_servo = [&](const char* what) {
        return fmt::format("servo {}, {}", layout.servos[static_cast<std::size_t>(place.index)].name, what);
    };
    switch (place.taking) {
        case Taking::ball:
            return "ball diameter";
        case Taking::shaft:
            return "shaft diameter";
        case Taking::cross_bolt:
            return "cross-bolt diameter";
        case Taking::barrel:
            return "grip barrel diameter";
        case Taking::boss_lower:
            return "boss diameter, lower links";
        case Taking::boss_upper:
            return "boss diameter, upper links";
        case Taking::inner_span:
            return over("inner");
        case Taking::outer_span:
            return over("outer");
        case Taking::outer_to_shaft:
            return "over outer ball and shaft";
        case Taking::sleeve:
            return "sleeve length";
        case Taking::sleeve_below:
            return "sleeve below ring face";
        case Taking::inner_ball:
            return "ring face to inner ball";
        case Taking::faces:
            return "over the ring's faces";
        case Taking::outer_ball:
            return "ring face to outer ball";
        case Taking::block_to_face:
            return "block to ring face";
        case Taking::block_to_ball:
            return "block to inner ball";
        case Taking::face_to_bolt:
            return "ring face to cross-bolt";
        case Taking::block_to_bolt:
            return "block to cross-bolt";
        case Taking::bolt_to_axis:
            return "cross-bolt to feathering axis";
        case Taking::arm_span:
            return over("arm");
        case Taking::arm_along:
            return "over arm ball and shaft";
        case Taking::arm_lead:
            return "over arm ball and barrel";
        case Taking::arm_up:
            return "arm ball above axis";
        case Taking::horn:
            return of_servo("horn radius");
        case Taking::servo_height:
            return of_servo("axis above block");
        case Taking::servo_along:
            return of_servo("axis along horn");
        case Taking::servo_across:
            return of_servo("ball across horn");
        case Taking::horn_span:
            return over("horn");
        case Taking::lower_link:
            return link("lower");
        case Taking::upper_link:
            return link("upper");
        case Taking::guide_pin:
            return "guide pin radius";
        case Taking::driver_pin:
            return "driver pin radius";
        case Taking::tip:
            return "blade tip";
    }
    return {};
}

std::vector<ReadingPlace> reading_places(const MeasuredLayout& layout) {
    std::vector<ReadingPlace> out;
    for (const TakingInfo& taking : all)
        for (int i = 0; i < count(layout, taking.taking); ++i) out.push_back({taking.taking, i});
    return out;
}

}  // namespace swashwright::studies
