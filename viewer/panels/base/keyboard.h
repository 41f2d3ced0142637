// The keyboard's frame. Every control that can be worked is a stop; keys go from stop to stop, and the one that they
// stand on has a frame round it. Nothing of it is seen until a key asks for it, and a press of the mouse ends it.
#pragma once

#include <imgui.h>

#include <string>
#include <vector>

namespace swashwright::panels {

struct Screen;

class Keyboard {
public:
    enum class Kind {
        press,  // a button: Enter presses it
        text,   // Enter types in it
        row,    // one of a list: up and down go through the list, which is one stop for Tab
        steps,  // takes the arrow keys and Enter itself
        stick,  // of the tray: the arrows move it as they do without a frame
    };
    enum class Key { next, before, next_area, area_before, left, right, up, down, act, leave };

    /// A key was pressed, between two frames. False if it is none for the frame, and means what it means without it.
    bool press(Key key);
    /// Puts the frame on the first stop of the column on the right.
    void enter_column();
    /// Takes the frame away.
    void hide() { shown_ = false; }
    bool shown() const { return shown_; }
    /// Some list or dialog stands over the panels: keys go through it alone.
    bool over_panels() const;
    /// Call inside an ImGui frame, before anything that may have the frame is drawn.
    void begin_frame();

    /// Notes the item drawn last. `list`: of rows, which list they are of.
    void stop(const Screen& screen, Kind kind, ImGuiID list);
    /// The stop noted last is one of several alike: Tab goes to each, and so do the arrows.
    void one_of(ImGuiID group);
    /// Whether the item drawn last has the frame.
    bool here() const;
    /// How many steps right and up the arrow keys asked of the item drawn last, once.
    ImVec2 take_steps();
    /// Enter was pressed on the item drawn last, which is of the kind that takes it itself; once.
    bool take_act();
    ImGuiID marked() const { return shown_ ? marked_.id : 0; }

private:
    struct Stop {
        ImGuiID id = 0;
        Kind kind = Kind::press;
        ImGuiID list = 0;
        int area = 0;
        ImVec4 place{0, 0, 0, 0};  // left, top, right, bottom
        ImGuiID group = 0;
    };
    /// Where the frame is, or was drawn last.
    struct Mark {
        ImGuiID id = 0;
        int area = 0;
        ImVec4 place{0, 0, 0, 0};
    };

    std::vector<Stop> in_order() const;
    void go_to(const Stop& stop);
    void mark(const Stop& stop);
    void go_on_from_gone(const std::vector<Stop>& stops, bool ahead);
    bool go_on(const std::vector<Stop>& stops, std::size_t at, int by);
    bool go_to_area(const std::vector<Stop>& stops, int by);
    bool go_to_neighbour(const std::vector<Stop>& stops, std::size_t at, int by, ImGuiID Stop::*list);
    void act(const Stop& stop);

    std::vector<Stop> stops_;  // as drawn in the last frame
    Mark marked_;
    Mark below_;          // what had it before a list or a dialog came over the panels
    bool shown_ = false;  // the frame is seen
    bool bring_ = false;  // into sight, where it scrolls
    bool end_typing_ = false;
    ImVec2 steps_{0, 0};
    bool acted_ = false;
};

/// Makes the item drawn last one that the keyboard reaches.
void key_stop(Screen& screen, Keyboard::Kind kind = Keyboard::Kind::press, ImGuiID list = 0);

}  // namespace swashwright::panels
