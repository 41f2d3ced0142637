// Where every widget stands, noted for the file that tells a test so: `--report FILE`.
#pragma once

#include <imgui.h>

#include <functional>
#include <map>
#include <string>
#include <string_view>

namespace swashwright::panels {

class Report {
public:
    explicit Report(std::string path) : path_(std::move(path)) {}

    bool wanted() const { return !path_.empty(); }
    const std::string& path() const { return path_; }  // of the file; empty: none is wanted
    /// Notes what can be seen of the item that ImGui drew last.
    void item(std::string_view name);
    void rectangle(std::string_view name, ImVec2 top_left, ImVec2 bottom_right);
    /// Forgets the last frame. `framed`: the item that the keyboard stands on, to be named; 0: none.
    void begin_frame(ImGuiID framed = 0) {
        widgets_.clear();
        framed_ = framed;
        framed_name_.clear();
    }
    /// Of the item that the keyboard stands on; empty where there is none.
    const std::string& framed() const { return framed_name_; }
    /// Left, top, right, bottom of each, in window coordinates.
    const std::map<std::string, ImVec4, std::less<>>& widgets() const { return widgets_; }

private:
    std::string path_;
    ImGuiID framed_ = 0;
    std::string framed_name_;
    std::map<std::string, ImVec4, std::less<>> widgets_;
};

}  // namespace swashwright::panels
