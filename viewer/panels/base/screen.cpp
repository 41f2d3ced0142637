#include "viewer/panels/base/screen.h"

#include <fmt/format.h>

#include <cmath>

namespace swashwright::panels {

namespace {

constexpr double text_scale_step = 0.25, largest = 2;

constexpr float width_at_scale_1 = 850;  // the ledger's columns need it

/// What fits into the window, of this monitor's usual text.
double room_for_text(const Screen& screen) {
    return static_cast<double>(screen.scale_most / screen.monitor_scale);
}

/// The first step that has all the room there is: it is drawn as large as fits.
double largest_text_scale(const Screen& screen) {
    return std::clamp(std::ceil(room_for_text(screen) / text_scale_step - 0.04) * text_scale_step, 1.0, largest);
}

/// Why text is not as large as it was asked to be.
void tell_room(Screen& screen, double wanted) {
    if (wanted > largest) return tell(screen, "Text is as large as it gets: twice the usual");
    const double usual_width = static_cast<double>(screen.monitor_scale * width_at_scale_1);
    tell(screen, fmt::format("Text is {:.0f} % of the usual: {:.0f} % has room in a window {:.0f} pixels wide",
                             100 * std::min(screen.settings.text_scale, room_for_text(screen)), 100 * wanted,
                             std::ceil(wanted * usual_width)));
}

}  // namespace

void tell(Screen& screen, std::string notice) {
    screen.notice = std::move(notice);
    screen.notice_until = screen.clock + 6;
}

void remember_settings(Screen& screen) {
    const auto saved = document::remember_settings(screen.settings_path, screen.settings, screen.remembered);
    screen.not_remembered = saved ? std::string() : fmt::format("Not remembered: {}", saved.error());
    if (!saved) tell(screen, screen.not_remembered);
}

void set_text_scale(Screen& screen, double scale) {
    const double before = screen.settings.text_scale, now = std::clamp(scale, 1.0, largest_text_scale(screen));
    screen.settings.text_scale = now;
    if (now != before) {
        screen.look_stale = true;
        remember_settings(screen);
    }
    if (scale > now || now > room_for_text(screen) + 1e-3) tell_room(screen, scale);
}

void step_text_scale(Screen& screen, int steps) {
    const double now = std::min(screen.settings.text_scale, largest_text_scale(screen));
    set_text_scale(screen, std::max(1.0, now + steps * text_scale_step));
}

void next_text_scale(Screen& screen) {
    const double most = largest_text_scale(screen);
    if (screen.settings.text_scale >= most && most > 1)
        set_text_scale(screen, 1);
    else
        step_text_scale(screen, 1);
}

void set_screen_scale(Screen& screen, float scale) {
    // Servers round their dots an inch: what is near to one step is meant to be that step.
    scale = std::clamp(std::round(4 * scale) / 4, 1.0F, 4.0F);
    if (scale == screen.monitor_scale) return;
    screen.monitor_scale = scale;
    screen.look_stale = true;
}

void limit_text_scale(Screen& screen, float window_width) {
    const float before = screen.scale();
    screen.scale_most = std::max(1.0F, window_width / width_at_scale_1);
    if (screen.scale() != before) screen.look_stale = true;
}

void set_night(Screen& screen, bool night) {
    screen.settings.night = night;
    screen.look_stale = true;
    remember_settings(screen);
}

void set_inches(Screen& screen, bool inches) {
    screen.settings.inches = inches;
    remember_settings(screen);
}

}  // namespace swashwright::panels
