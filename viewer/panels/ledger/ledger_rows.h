// Every measured number of a head as rows of a table. Which number stands where; no drawing.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "viewer/draw/base/part.h"

namespace swashwright::panels {

struct Cell {
    std::string name;  // of the number, as the scene file has it: "length_mm"
    std::function<double&(head::Description&)> value;
    bool is_error = false;  // gets fine steps and a reset to zero

    bool is_length() const { return name.find("_mm") != std::string::npos; }
    double read(const head::Description& description) const {
        return value(const_cast<head::Description&>(description));
    }
};

struct Row {
    std::string name;  // "link 2"
    draw::Part part;
    std::vector<Cell> cells;
};

struct Section {
    std::string title;
    std::vector<std::string> heads;  // one for each cell; with units: "length mm"
    std::vector<Row> rows;
    bool open = false;
    std::optional<head::Role> more = {};  // the kind of part whose form unfolds below
    bool more_open = false;
    bool adds = false;  // no rows: new parts are made here
};

/// The sections in the order of work at the bench. The accessors stay valid for every description with the same
/// counts of parts and the same forms of pivots.
std::vector<Section> ledger_sections(const head::Description& description);

/// True if the head has this part.
bool has_part(const head::Description& description, const draw::Part& part);
/// The row tells of this part: a servo's rows tell of its horn too.
bool stands_for(const Row& row, const draw::Part& part);

}  // namespace swashwright::panels
