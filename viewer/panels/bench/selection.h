// Which parts are lit: chosen, pointed at in a list, spoken of in a lesson.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "kinematics/head/levers.h"
#include "kinematics/head/pose.h"
#include "viewer/draw/base/part.h"

namespace swashwright::panels {

/// A ball that is to be clicked in the picture.
struct BallPick {
    std::string field, words;            // the name of the field that asks for it, and "link 1's lower end"
    std::optional<head::BallName> ball;  // once it was clicked
};

/// A place in the envelope that a row of a table names.
struct PlaceNamed {
    std::string table, row;  // which has the row, and what that begins with: rows change places as an answer betters
    head::Sticks sticks;
    double azimuth_deg = 0;
    std::vector<std::pair<int, double>> hands =
        {};         // levers moved by hand there, by number from 0, and their angle in deg
    int bring = 3;          // frames for which the way there is brought into sight
    std::string part = {};  // that the row is about: two rows may begin alike
};

/// What the camera is to come near to: a part, and of one with two ends which, 0 or 1; else its middle.
struct LookAt {
    draw::Part part;
    std::optional<int> end;
};

struct Selection {
    std::optional<draw::Part> selected;  // clicked: stays
    std::optional<draw::Part> hovered;   // under the pointer in a list, this frame
    std::vector<draw::Part> spoken_of;   // by the step of the lesson that is shown
    std::string angle;                   // name of the value (studies::live_value) whose angle is drawn; empty: none
    std::string pair;                    // scene paths of two parts with a bar between, as the row of a table that was
                                         // chosen names them: their gap is shown; empty: none
    std::optional<BallPick> pick;        // while one is asked for
    std::optional<PlaceNamed> place;     // as the row of a table that was chosen names it: one may stand there
    std::optional<LookAt> look_at;       // asked for; done as soon as the picture's size is known
    bool show_selected = false;          // bring the selected part's row into sight

    /// What is lit: the row under the pointer, else the part that was clicked.
    std::optional<draw::Part> touched() const { return hovered ? hovered : selected; }
    /// What goes when another head comes: all but what is selected.
    void forget_rows() {
        hovered.reset();
        pair.clear();
        place.reset();
        pick.reset();
        show_selected = false;
    }
};

}  // namespace swashwright::panels
