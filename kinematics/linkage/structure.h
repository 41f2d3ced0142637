// Which equations fix which unknowns: a graph question, asked before any number is known.
#pragma once

#include <vector>

namespace swashwright::linkage {

/// Equations and unknowns that must be solved together, once the parts before it are known.
struct Part {
    std::vector<int> rows, columns;
};

struct Structure {
    std::vector<Part> parts;        // in an order in which they can be solved
    std::vector<int> free_columns;  // unknowns that nothing fixes, with all that hang on them
    std::vector<int> free_rows;     // the equations that touch those unknowns
    std::vector<int> spare_rows;    // equations that come when all they touch is fixed
};

/// `columns_of_row[r]` are the unknowns in equation r. Equations are let in by rising `priority_of_row`: with each turn
/// the parts that are then well- or over-determined are cut off (the coarse decomposition of Dulmage and Mendelsohn,
/// 1958), well-determined ones split into strongly connected components (Tarjan, 1972).
Structure arrange(const std::vector<std::vector<int>>& columns_of_row, int columns,
                  const std::vector<int>& priority_of_row);

}  // namespace swashwright::linkage
