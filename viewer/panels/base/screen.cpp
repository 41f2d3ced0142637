#include "viewer/panels/base/screen.h"

#include <fmt/format.h>

#include <cmath>

namespace swashwright::panels {

namespace {

constexpr double text_scale_step = 0.25;

double largest_text_scale(const Screen& screen) {
    const double most = static_cast<double>(screen.scale_most / screen.monitor_scale);
    return std::clamp(std::floor(most / text_scale_step) * text_scale_step, 1.0, 2.0);
}

}  // namespace

void tell(Screen& screen, std::string notice) {
    screen.notice = std::move(notice);
    screen.notice_until = screen.clock + 6;
}

void remember_settings(Screen& screen) {
    if (auto saved = document::save_settings(screen.settings_path, screen.settings); !saved)
        tell(screen, fmt::format("Not remembered: {}", saved.error()));
}

void set_text_scale(Screen& screen, double scale) {
    scale = std::clamp(scale, 1.0, largest_text_scale(screen));
    if (scale == screen.settings.text_scale) return;
    screen.settings.text_scale = scale;
    screen.look_stale = true;
    remember_settings(screen);
}

void next_text_scale(Screen& screen) {
    const double next = screen.settings.text_scale + text_scale_step;
    set_text_scale(screen, next > largest_text_scale(screen) ? 1.0 : next);
}

void set_screen_scale(Screen& screen, float scale) {
    // Servers round their dots an inch: what is near to one step is meant to be that step.
    scale = std::clamp(std::round(4 * scale) / 4, 1.0F, 4.0F);
    if (scale == screen.monitor_scale) return;
    screen.monitor_scale = scale;
    screen.look_stale = true;
}

void limit_text_scale(Screen& screen, float window_width) {
    constexpr float width_at_scale_1 = 850;  // the ledger's columns need it
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
