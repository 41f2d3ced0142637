#include "kinematics/studies/sentence.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>

#include "kinematics/head/azimuth.h"
#include "kinematics/studies/figures.h"
#include "kinematics/studies/split_cause.h"

namespace swashwright::studies {

namespace {

// Below these the screen would show 0.0, and a turnbuckle cannot be set finer: common practice, no source.
constexpr double same_pitch_deg = 0.02;
constexpr double level_deg = 0.1;
constexpr double centred = 1e-6;

const char* every_blade(std::size_t count) {
    return count == 2 ? "both blades" : "every blade";
}

std::string capitalised(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

std::string closed_with_stop(std::string text) {
    if (!text.empty() && text.back() != '.') text += '.';
    return text;
}

bool cyclic_centred(const head::Sticks& sticks) {
    return std::abs(sticks.aileron) < centred && std::abs(sticks.elevator) < centred;
}

std::string stick_words(const head::Sticks& sticks) {
    const char* ahead = sticks.elevator > centred ? "forward" : sticks.elevator < -centred ? "back" : "";
    const char* side = sticks.aileron > centred ? "right" : sticks.aileron < -centred ? "left" : "";
    return fmt::format("{}{}{} stick", ahead, *ahead && *side ? " and " : "", side);
}

std::optional<Sentence> beyond_travel(const head::Head& head, const head::Sticks& sticks) {
    const std::vector<std::string> servos = head.beyond_travel(head.horn_angles_deg(sticks));
    if (servos.empty()) return std::nullopt;
    std::string list = servos[0];
    for (std::size_t i = 1; i < servos.size(); ++i) list += "; " + servos[i];
    return Sentence{Tone::notice,
                    fmt::format("Past the end of servo travel, {}. Ask for less collective or cyclic.", list)};
}

/// The program warns when up stick lowers pitch; it never flips a sign by itself.
std::optional<Sentence> direction(const head::Head& head) {
    constexpr double step = 0.1;  // of full stick, either side of centre
    const auto above = head.pose(head::Sticks{.collective = step}, 0);
    const auto below = head.pose(head::Sticks{.collective = -step}, 0);
    if (!above || !below) return std::nullopt;
    double change = 0;
    for (std::size_t k = 0; k < above->pitch_deg.size(); ++k) change += above->pitch_deg[k] - below->pitch_deg[k];
    if (change >= -same_pitch_deg) return std::nullopt;
    if (above->height_mm > below->height_mm)
        return Sentence{Tone::notice,
                        "Up stick lowers the pitch: it raises the ring, and with these pitch arms a rising ring "
                        "lowers the pitch. Give collective_deg the other sign."};
    return Sentence{
        Tone::notice,
        "Up stick lowers the pitch, because collective_deg makes it lower the ring. Give collective_deg the "
        "other sign."};
}

/// "the others" where these agree among themselves, else the blade at the far end.
std::string compared_with(const TurnCurve& curve, std::size_t subject, std::size_t other) {
    if (curve.blades.size() == 2) return fmt::format("blade {}", other + 1);
    for (std::size_t k = 0; k < curve.blades.size(); ++k)
        if (k != subject && std::abs(curve.blades[k].mean_deg - curve.blades[other].mean_deg) > same_pitch_deg)
            return fmt::format("blade {}", other + 1);
    return "the others";
}

std::optional<Sentence> split(const head::Head& head, const head::Sticks& sticks, const TurnCurve& curve) {
    const double split_deg = curve.split_deg();
    if (split_deg < same_pitch_deg) return std::nullopt;
    const Cause cause = split_cause(head, sticks, curve);
    // The blade whose part is at fault is the one to speak of.
    const bool low_is_subject = cause.blade == static_cast<int>(curve.lowest_blade);
    const std::size_t subject = low_is_subject ? curve.lowest_blade : curve.highest_blade;
    const std::size_t other = low_is_subject ? curve.highest_blade : curve.lowest_blade;
    const std::string text = fmt::format(
        "{}lade {} takes {:.2f} deg {} pitch than {}: {}.", cyclic_centred(sticks) ? "B" : "Over a turn, b",
        subject + 1, split_deg, low_is_subject ? "less" : "more", compared_with(curve, subject, other), cause.words);
    return Sentence{Tone::notice, text};
}

std::optional<Sentence> leaning_ring(const head::Head& head, const head::Sticks& sticks, const head::Pose& pose) {
    if (!cyclic_centred(sticks) || pose.tilt_deg < level_deg) return std::nullopt;
    const Cause cause = tilt_cause(head, sticks, pose.tilt_deg);
    // Away from centre a sound head's ring may lean a little: no news unless a part is at fault.
    if (!cause.found && std::abs(sticks.collective) > centred) return std::nullopt;
    return Sentence{Tone::notice,
                    fmt::format("The ring leans {:.2f} deg with the cyclic stick centred, lowest towards {}: {}.",
                                pose.tilt_deg, place_in_words(pose.lowest_azimuth_deg),
                                cause.found ? cause.words : "no link and no trim alone explains it")};
}

Sentence doings(const head::Head& head, const head::Sticks& sticks, const head::Pose& pose, const TurnCurve& curve) {
    const BladeTurn& blade = curve.blades[0];
    const std::size_t count = curve.blades.size();
    if (!cyclic_centred(sticks))
        return {Tone::calm,
                fmt::format("{} tilts the ring {:.2f} deg, lowest towards {}: the pitch of {} runs "
                            "from {} to {} deg in a turn.",
                            capitalised(stick_words(sticks)), pose.tilt_deg, place_in_words(pose.lowest_azimuth_deg),
                            every_blade(count), signed_figure(blade.least_deg, 2), signed_figure(blade.most_deg, 2))};
    const std::string pitch = fmt::format("{} {} {} deg of pitch", every_blade(count), count == 2 ? "take" : "takes",
                                          signed_figure(blade.mean_deg, 2));
    const auto neutral = head.pose(head::Sticks{}, 0);
    if (std::abs(sticks.collective) < centred || !neutral)
        return {Tone::calm, fmt::format("Sticks centred: {}, the ring at {:.2f} mm.", pitch, pose.height_mm)};
    const double rise = pose.height_mm - neutral->height_mm;
    return {Tone::calm, fmt::format("{} stick {} the ring {:.2f} mm: {}.", sticks.collective > 0 ? "Up" : "Down",
                                    rise >= 0 ? "raises" : "lowers", std::abs(rise), pitch)};
}

}  // namespace

std::string place_in_words(double azimuth_deg) {
    static constexpr std::array<const char*, 8> places{
        "the nose", "the nose on the left",  "the left",  "the tail on the left",
        "the tail", "the tail on the right", "the right", "the nose on the right"};
    const double turn = head::within_turn_deg(azimuth_deg);
    return places[static_cast<std::size_t>(std::lround(turn / 45.0)) % places.size()];
}

Sentence sentence(const head::Failure& failure) {
    std::string text = capitalised(closed_with_stop(failure.message));
    for (const head::Shortfall& shortfall : failure.shortfalls) {
        if (shortfall.part == head::Shortfall::Part::other) continue;
        text += fmt::format(" {} it by {:.2f} mm, or measure again what it joins.",
                            shortfall.missing_mm > 0 ? "Lengthen" : "Shorten", std::abs(shortfall.missing_mm));
        break;
    }
    return {Tone::trouble, text};
}

Sentence sentence(const head::Head& head, const head::Sticks& sticks, double azimuth_deg) {
    return sentence(head, sticks, azimuth_deg, turn_curve(head, sticks));
}

Sentence sentence(const head::Head& head, const head::Sticks& sticks, double azimuth_deg,
                  const head::Result<TurnCurve>& curve) {
    if (const head::Failure* failure = head.neutral_failure()) return sentence(*failure);
    const head::Result<head::Pose> pose = head.pose(sticks, azimuth_deg);
    if (!pose) return sentence(pose.error());
    if (!curve) return sentence(curve.error());
    if (auto s = beyond_travel(head, sticks)) return *s;
    if (auto s = direction(head)) return *s;
    if (auto s = split(head, sticks, *curve)) return *s;
    if (auto s = leaning_ring(head, sticks, *pose)) return *s;
    return doings(head, sticks, *pose, *curve);
}

}  // namespace swashwright::studies
