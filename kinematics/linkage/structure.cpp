#include "kinematics/linkage/structure.h"

#include <algorithm>
#include <functional>
#include <numeric>
#include <set>

namespace swashwright::linkage {

namespace {

constexpr int none = -1;

/// Rows let in so far that still touch an unfixed column, against the unfixed columns.
struct Graph {
    const std::vector<std::vector<int>>& columns_of_row;
    std::vector<char> row_active, column_open;
    std::vector<int> row_match, column_match;  // none or the partner

    template <class Visit>
    void each_column(int row, Visit&& visit) const {
        for (const int column : columns_of_row[row])
            if (column_open[column]) visit(column);
    }

    bool augment(int row, std::vector<char>& seen) {
        for (const int column : columns_of_row[row]) {
            if (!column_open[column] || seen[column]) continue;
            seen[column] = 1;
            if (column_match[column] == none || augment(column_match[column], seen)) {
                column_match[column] = row;
                row_match[row] = column;
                return true;
            }
        }
        return false;
    }

    void match() {
        for (std::size_t r = 0; r < row_active.size(); ++r) {
            if (!row_active[r] || row_match[r] != none) continue;
            std::vector<char> seen(column_open.size(), 0);
            augment(static_cast<int>(r), seen);
        }
    }
};

/// Columns reached from unmatched columns (nothing fixes them), and the rows that touch them.
void mark_free(const Graph& graph, std::vector<char>& free_row, std::vector<char>& free_column) {
    for (std::size_t c = 0; c < free_column.size(); ++c)
        free_column[c] = graph.column_open[c] && graph.column_match[c] == none;
    for (bool grew = true; grew;) {
        grew = false;
        for (std::size_t r = 0; r < free_row.size(); ++r) {
            if (!graph.row_active[r] || free_row[r]) continue;
            bool touches = false;
            graph.each_column(static_cast<int>(r), [&](int c) { touches |= free_column[c] != 0; });
            if (!touches) continue;
            free_row[r] = 1;
            if (graph.row_match[r] != none) free_column[graph.row_match[r]] = 1;
            grew = true;
        }
    }
}

/// Rows reached from unmatched rows (one too many), and their columns.
void mark_over(const Graph& graph, const std::vector<char>& free_row, std::vector<char>& over_row,
               std::vector<char>& over_column) {
    for (std::size_t r = 0; r < over_row.size(); ++r)
        over_row[r] = graph.row_active[r] && !free_row[r] && graph.row_match[r] == none;
    for (bool grew = true; grew;) {
        grew = false;
        for (std::size_t r = 0; r < over_row.size(); ++r) {
            if (!over_row[r]) continue;
            graph.each_column(static_cast<int>(r), [&](int c) {
                if (over_column[c]) return;
                over_column[c] = 1;
                if (graph.column_match[c] != none) over_row[graph.column_match[c]] = 1;
                grew = true;
            });
        }
    }
}

/// Over-determined rows, split where they share no column.
void cut_over(const Graph& graph, const std::vector<char>& over_row, std::vector<Part>& parts) {
    std::vector<char> done(over_row.size(), 0);
    for (std::size_t start = 0; start < over_row.size(); ++start) {
        if (!over_row[start] || done[start]) continue;
        std::set<int> rows{static_cast<int>(start)}, columns;
        for (bool grew = true; grew;) {
            grew = false;
            for (const int r : rows) graph.each_column(r, [&](int c) { grew |= columns.insert(c).second; });
            for (std::size_t r = 0; r < over_row.size(); ++r) {
                if (!over_row[r]) continue;
                graph.each_column(static_cast<int>(r), [&](int c) {
                    if (columns.count(c)) grew |= rows.insert(static_cast<int>(r)).second;
                });
            }
        }
        for (const int r : rows) done[r] = 1;
        parts.push_back({{rows.begin(), rows.end()}, {columns.begin(), columns.end()}});
    }
}

/// Matched pairs of row and column in strongly connected components, what they depend on first.
void cut_square(const Graph& graph, const std::vector<char>& in_part, std::vector<Part>& parts) {
    const int rows = static_cast<int>(in_part.size());
    std::vector<int> order(rows, none), low(rows, 0), stack;
    std::vector<char> on_stack(rows, 0);
    int next = 0;
    const std::function<void(int)> visit = [&](int r) {
        order[r] = low[r] = next++;
        stack.push_back(r);
        on_stack[r] = 1;
        graph.each_column(r, [&](int c) {
            const int other = graph.column_match[c];
            if (other == none || !in_part[other]) return;
            if (order[other] == none) visit(other);
            if (on_stack[other]) low[r] = std::min(low[r], low[other]);
        });
        if (low[r] != order[r]) return;
        Part part;
        int member = none;
        do {
            member = stack.back();
            stack.pop_back();
            on_stack[member] = 0;
            part.rows.push_back(member);
            part.columns.push_back(graph.row_match[member]);
        } while (member != r);
        std::sort(part.rows.begin(), part.rows.end());
        std::sort(part.columns.begin(), part.columns.end());
        parts.push_back(std::move(part));
    };
    for (int r = 0; r < rows; ++r)
        if (in_part[r] && order[r] == none) visit(r);
}

}  // namespace

Structure arrange(const std::vector<std::vector<int>>& columns_of_row, int columns,
                  const std::vector<int>& priority_of_row) {
    const std::size_t rows = columns_of_row.size();
    Structure result;
    Graph graph{columns_of_row, std::vector<char>(rows, 0), std::vector<char>(columns, 1), {}, {}};
    std::vector<char> waiting(rows, 1);
    std::set<int> turns(priority_of_row.begin(), priority_of_row.end());
    std::vector<char> free_row(rows, 0), free_column(columns, 1);
    for (const int turn : turns) {
        for (std::size_t r = 0; r < rows; ++r) {
            if (!waiting[r] || priority_of_row[r] > turn) continue;
            bool open = false;
            for (const int c : columns_of_row[r]) open |= graph.column_open[c] != 0;
            graph.row_active[r] = open;
            if (open) continue;
            waiting[r] = 0;
            result.spare_rows.push_back(static_cast<int>(r));
        }
        graph.row_match.assign(rows, none);
        graph.column_match.assign(columns, none);
        graph.match();
        std::vector<char> over_row(rows, 0), over_column(columns, 0);
        free_row.assign(rows, 0);
        free_column.assign(columns, 0);
        mark_free(graph, free_row, free_column);
        mark_over(graph, free_row, over_row, over_column);
        const std::size_t first = result.parts.size();
        cut_over(graph, over_row, result.parts);
        std::vector<char> square(rows, 0);
        for (std::size_t r = 0; r < rows; ++r) square[r] = graph.row_active[r] && !free_row[r] && !over_row[r];
        cut_square(graph, square, result.parts);
        for (std::size_t p = first; p < result.parts.size(); ++p) {
            for (const int r : result.parts[p].rows) waiting[r] = graph.row_active[r] = 0;
            for (const int c : result.parts[p].columns) graph.column_open[c] = 0;
        }
    }
    for (int c = 0; c < columns; ++c)
        if (graph.column_open[c]) result.free_columns.push_back(c);
    for (std::size_t r = 0; r < rows; ++r)
        if (waiting[r]) result.free_rows.push_back(static_cast<int>(r));
    return result;
}

}  // namespace swashwright::linkage
