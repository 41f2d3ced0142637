// A file that tells a test where every widget stands and what the window shows: `--report FILE`.
#pragma once

#include <imgui.h>

#include <map>
#include <string>
#include <string_view>

namespace swashwright::panels {

struct State;

class Report {
public:
    explicit Report(std::string path) : path_(std::move(path)) {}

    bool wanted() const { return !path_.empty(); }
    /// Notes what can be seen of the item that ImGui drew last.
    void item(std::string_view name);
    void rectangle(std::string_view name, ImVec2 top_left, ImVec2 bottom_right);
    void begin_frame() { widgets_.clear(); }
    /// Left, top, right, bottom of each, in window coordinates.
    const std::map<std::string, ImVec4, std::less<>>& widgets() const { return widgets_; }
    /// Writes the file anew: {"frame", "widgets": {name: [left, top, right, bottom]}, "values": {...}, "sentence"}.
    void write(const State& state, long frame) const;

private:
    std::string path_;
    std::map<std::string, ImVec4, std::less<>> widgets_;
};

}  // namespace swashwright::panels
