#include "kinematics/studies/measured/measured_readings.h"

#include <fmt/format.h>

#include <algorithm>

namespace swashwright::studies {
namespace {

// Uncertainties: a calliper of 0.02 mm reads a loose, hard part to about 0.02 mm. Over two balls the jaws must find the
// highest places of both: 0.05 mm. Between faces of parts on the model, past links and frames: 0.1 mm; from a rule, or
// to an axis that is only seen: 0.1 to 0.2 mm. Usual sizes: small to large models. All common practice, no source.
constexpr TakingInfo all[] = {
    {Taking::ball, "ball_diameter", "A ball", "ball diameter",
     "Diameter of the link balls. Take three or four and read the mean.", 2, 8, 0.02},
    {Taking::shaft, "shaft_diameter", "The main shaft", "shaft diameter",
     "Diameter of the main shaft above the swashplate.", 3, 16, 0.02},
    {Taking::cross_bolt, "cross_bolt_diameter", "The hub's cross-bolt", "cross-bolt diameter",
     "Diameter of the bolt that goes through hub and shaft: the bare part beside the hub.", 1, 8, 0.02},
    {Taking::barrel, "grip_barrel_diameter", "A grip's barrel", "grip barrel diameter",
     "Diameter of the round part of a blade grip, beside the pitch arm.", 4, 30, 0.02, true},
    {Taking::boss_lower, "lower_boss_diameter", "Boss of a lower link", "boss diameter, lower links",
     "Diameter of the link-end boss round the ball, mean of both ends: the size that the calliper meets.", 3, 12, 0.03},
    {Taking::boss_upper, "upper_boss_diameter", "Boss of an upper link", "boss diameter, upper links",
     "Diameter of the link-end boss round the ball, mean of both ends: the size that the calliper meets.", 3, 12, 0.03},
    {Taking::inner_span, "over_inner_balls", "Over two inner balls", "over inner balls",
     "Outer jaws over two balls of the inner (non-rotating) ring, across the shaft, links off.", 10, 120, 0.05},
    {Taking::outer_span, "over_outer_balls", "Over two outer balls", "over outer balls",
     "Outer jaws over two balls of the outer (rotating) ring, links off.", 10, 120, 0.05},
    {Taking::outer_to_shaft, "outer_ball_to_shaft", "Outer ball and shaft", "over outer ball and shaft",
     "Outer jaws over an outer ball and the far side of the main shaft.", 8, 90, 0.05, true},
    {Taking::sleeve, "sleeve_length", "The sleeve in the ring", "sleeve length",
     "Length of the ball sleeve that slides on the shaft, end to end. The ring tilts about its middle.", 3, 40, 0.05},
    {Taking::sleeve_below, "sleeve_below_face", "Sleeve below the ring", "sleeve below ring face",
     "How far the sleeve's lower end stands out below the inner ring's lower face, ring level; minus if it lies "
     "deeper.",
     -15, 25, 0.05},
    {Taking::inner_ball, "face_to_inner_ball", "Ring face to inner ball", "ring face to inner ball",
     "From the ring's lower face up to the top of an inner ball.", -10, 30, 0.05},
    {Taking::faces, "over_ring_faces", "Over the ring's faces", "over the ring's faces",
     "From the inner ring's lower face up to the outer ring's upper face.", 3, 40, 0.05},
    {Taking::outer_ball, "face_to_outer_ball", "Ring face to outer ball", "ring face to outer ball",
     "From the outer ring's upper face up to the top of an outer ball; minus if the ball's top lies lower.", -15, 25,
     0.05},
    {Taking::block_to_face, "block_to_ring_face", "Bearing block to ring", "block to ring face",
     "Gap from the upper face of the bearing block to the ring's lower face, ring level at mid travel.", 3, 120, 0.1},
    {Taking::block_to_ball, "block_to_inner_ball", "Bearing block to inner ball", "block to inner ball",
     "From the upper face of the bearing block up to the top of an inner ball, ring as before.", 3, 140, 0.1, true},
    {Taking::face_to_bolt, "ring_face_to_cross_bolt", "Ring to cross-bolt", "ring face to cross-bolt",
     "Gap from the outer ring's upper face to the underside of the hub's cross-bolt, ring as before.", 5, 160, 0.1},
    {Taking::block_to_bolt, "block_to_cross_bolt", "Bearing block to cross-bolt", "block to cross-bolt",
     "From the upper face of the bearing block to the underside of the hub's cross-bolt.", 15, 250, 0.1, true},
    {Taking::bolt_to_axis, "cross_bolt_to_feathering_axis", "Cross-bolt to feathering axis",
     "cross-bolt to feathering axis",
     "From the cross-bolt's middle up to the middle of the feathering spindle; minus if the spindle lies lower.", -60,
     60, 0.05},
    {Taking::arm_span, "over_arm_balls", "Over two arm balls", "over arm balls",
     "Outer jaws over the balls of two pitch arms, blades flat, links off.", 10, 160, 0.05},
    {Taking::arm_along, "arm_ball_to_shaft", "Arm ball along the blade", "over arm ball and shaft",
     "Along the blade, over a pitch arm's ball and the far side of the main shaft (or of a rod in its place).", 3, 90,
     0.1},
    {Taking::arm_lead, "arm_ball_to_barrel", "Arm ball across the blade", "over arm ball and barrel",
     "Across the blade, over a pitch arm's ball and the far side of the grip's barrel.", 5, 90, 0.05, true},
    {Taking::arm_up, "arm_ball_above_axis", "Arm ball above the axis", "arm ball above axis",
     "How far the middle of a pitch arm's ball lies above the feathering axis, blade flat; minus if it lies lower.",
     -20, 20, 0.1},
    {Taking::horn, "horn_radius", "Horn: ball to servo pivot", "horn length",
     "From the middle of a horn's ball to the middle of the servo's output shaft.", 4, 45, 0.05},
    {Taking::servo_height, "block_to_servo_axis", "Servo pivot above the block", "pivot above block",
     "From the upper face of the bearing block up to the middle of a servo's output shaft; minus if it lies lower.",
     -120, 80, 0.1},
    {Taking::servo_along, "servo_axis_along_horn", "Servo pivot, along the horn", "pivot along horn",
     "Seen from above, from the main shaft to the servo's output shaft in the direction in which the horn points; "
     "minus if the output shaft lies the other way.",
     -120, 120, 0.2},
    {Taking::servo_across, "horn_ball_across_horn", "Horn ball, across the horn", "ball across horn",
     "Seen from above, from the main shaft to the horn's ball in the direction in which the output shaft points; minus "
     "if the ball lies the other way.",
     -120, 120, 0.2},
    {Taking::horn_span, "over_horn_balls", "Over two horn balls", "over horn balls",
     "Outer jaws over the balls of two horns at neutral, links off.", 5, 200, 0.1, true},
    {Taking::lower_link, "lower_link", "Lower links", "lower link", "Each lower link, off the model.", 3, 150, 0.03},
    {Taking::upper_link, "upper_link", "Upper links", "upper link", "Each upper link, off the model.", 3, 200, 0.03},
    {Taking::guide_pin, "guide_pin_radius", "Guide pin", "guide pin radius",
     "From the main shaft's middle to the middle of the guide pin's tip.", 10, 100, 0.3},
    {Taking::driver_pin, "driver_pin_radius", "Driver pin", "driver pin radius",
     "From the main shaft's middle to the middle of a driver pin on the outer ring.", 5, 100, 0.3},
    {Taking::tip, "blade_tip", "Blade tip", "blade tip", "From the main shaft's middle to a blade's tip, with a rule.",
     80, 1200, 1},
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
    const char* what = info(place.taking).words;
    switch (place.taking) {
        case Taking::inner_span:
        case Taking::outer_span:
        case Taking::arm_span:
        case Taking::horn_span: {
            const auto [a, b] = span_balls(layout, place.taking, place.index);
            return fmt::format("{} {} and {}", what, std::min(a, b) + 1, std::max(a, b) + 1);
        }
        case Taking::lower_link:
        case Taking::upper_link:
            return fmt::format(
                "{} {}, {}", what, place.index + 1,
                layout.links == MeasuredLayout::LinkForm::gap ? "gap between the bosses" : "span over the bosses");
        case Taking::horn:
        case Taking::servo_height:
        case Taking::servo_along:
        case Taking::servo_across:
            return fmt::format("servo {}, {}", layout.servos[static_cast<std::size_t>(place.index)].name, what);
        default:
            return what;
    }
}

std::vector<ReadingPlace> reading_places(const MeasuredLayout& layout) {
    std::vector<ReadingPlace> out;
    for (const TakingInfo& taking : all)
        for (int i = 0; i < count(layout, taking.taking); ++i) out.push_back({taking.taking, i});
    return out;
}

}  // namespace swashwright::studies
