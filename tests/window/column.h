// What stands in the window's column, brought into sight before it is pressed or typed into.
#pragma once

#include <string>

#include "tests/window/driven_window.h"

namespace swashwright::testing {

inline bool says(const DrivenWindow& window, const char* name, const nlohmann::json& wanted) {
    return window.wait_until([&](const auto& report) { return report["values"][name] == wanted; });
}
inline bool shows(const DrivenWindow& window, const char* widget) {
    return window.wait_until([&](const auto& report) { return report["widgets"].contains(widget); });
}
/// Brings a widget of the column into sight: down first, then up.
inline void scroll_to(DrivenWindow& window, const std::string& widget) {
    const auto in_sight = [&](const nlohmann::json& widgets) {
        if (!widgets.contains(widget)) return false;
        return widgets[widget][3].get<double>() - widgets[widget][1].get<double>() > 14;  // not cut off by an edge
    };
    constexpr int turns = 25;
    for (int i = 0; i < 3 * turns; ++i) {
        const nlohmann::json widgets = window.report()["widgets"];
        if (in_sight(widgets)) return;
        // The wheel turns over the row of the column of which most is to be seen.
        std::string row;
        double most = 0;
        bool questions = false;
        for (const auto& [name, box] : widgets.items()) questions = questions || name.starts_with("question ");
        for (const auto& [name, box] : widgets.items()) {
            const double height = box[3].get<double>() - box[1].get<double>();
            const bool turns_it = name.ends_with(", line");  // there the wheel moves the knob
            // Above the questions the rows of the part that is chosen stay where they are.
            const bool scrolls = questions ? name.starts_with("question ")
                                           : name.starts_with("section ") || name.find(", ") != std::string::npos;
            if (scrolls && !turns_it && height > most) {
                row = name;
                most = height;
            }
        }
        window.wheel(row, i < turns ? "5" : "4");
    }
    ADD_FAILURE() << widget << " is not in sight";
}
inline void press(DrivenWindow& window, const std::string& widget) {
    scroll_to(window, widget);
    window.click(widget);
}
inline void enter(DrivenWindow& window, const std::string& widget, const std::string& text) {
    scroll_to(window, widget);
    window.type_into(widget, text);
}

}  // namespace swashwright::testing
