// Links in their true size, beside a bar that tells whether the paper keeps it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viewer/sheet/pages.h"

namespace swashwright::sheet {
namespace {

constexpr double stroke = 0.15, outline = 0.25;           // mm: what is measured is thin
constexpr double beyond = 4;                              // of a stroke past the boss
constexpr double between = 7;                             // gauges, mm
constexpr double longest_mm = 600, largest_boss_mm = 60;  // beyond these a rule does better than paper
constexpr double bar_height = 12;
constexpr Lettering small{least_text_pt};

/// A piece of a gauge: from `from` to `to` along the link, measured from the lower end's ball centre.
struct Piece {
    const Gauge* gauge;
    double from, to;
    int number, of;

    bool first() const { return number == 1; }
    bool last() const { return number == of; }
    /// How far the drawing reaches past either end of the piece.
    double before() const { return first() ? gauge->boss_mm[0] / 2 + 1 : 2; }
    double after() const { return last() ? gauge->boss_mm[1] / 2 + 1 : 2; }
    double extent() const { return before() + to - from + after(); }
    double most_boss() const { return std::max({gauge->boss_mm[0], gauge->boss_mm[1], gauge->rod_mm}); }
};

/// "A" for the first break.
std::string break_name(int number) {
    return std::string(1, static_cast<char>('A' + number - 1));
}

std::string name_words(const Piece& p) {
    return p.of == 1 ? p.gauge->name : fmt::format("{}, piece {} of {}", p.gauge->name, p.number, p.of);
}

std::string length_words(const Piece& p) {
    const Gauge& g = *p.gauge;
    if (p.of == 1) return fmt::format("{:.2f} mm centres, gap {:.2f}, span {:.2f}", g.length_mm, g.gap_mm, g.span_mm);
    return fmt::format("{:.2f} mm from {} to {}; {:.2f} mm in all", p.to - p.from,
                       p.first() ? "ball centre" : "break " + break_name(p.number - 1),
                       p.last() ? "ball centre" : "break " + break_name(p.number), g.length_mm);
}

/// In its own frame: along the link to the right, its drawing starting at 0.
struct Cell {
    Piece piece;
    double width, height;
    double name_height, middle;  // of the link across
};

Cell cell_of(Canvas& canvas, const Piece& p) {
    const Size name = canvas.measure(name_words(p), small), length = canvas.measure(length_words(p), small);
    const double middle = name.height + 1 + beyond + p.most_boss() / 2;
    return {p, std::max({p.extent(), name.width, length.width}),
            middle + p.most_boss() / 2 + beyond + 1 + length.height, name.height, middle};
}

/// A rod's two sides or a shank, from `a` to `b` along, `half` to either side.
void draw_sides(Canvas& canvas, double a, double b, double middle, double half, bool closed) {
    if (b <= a) return;
    canvas.line({a, middle - half}, {b, middle - half}, {outline});
    canvas.line({a, middle + half}, {b, middle + half}, {outline});
    if (!closed) return;
    canvas.line({a, middle - half}, {a, middle + half}, {outline});
    canvas.line({b, middle - half}, {b, middle + half}, {outline});
}

void draw_link(Canvas& canvas, const Cell& cell) {
    const Piece& p = cell.piece;
    const Gauge& g = *p.gauge;
    const double zero = p.before() - p.from;  // of the lower ball's centre
    const double m = cell.middle;
    canvas.push_clip({0, m - p.most_boss() / 2 - 1}, {p.extent(), p.most_boss() + 2});
    const double ends[2] = {zero, zero + g.length_mm};
    double shank_end[2] = {0, 0};
    for (int e = 0; e < 2; ++e) {
        const double inward = e == 0 ? 1 : -1, boss = g.boss_mm[e] / 2;
        const double shank = std::clamp(g.end_length_mm[e], boss, std::max(boss, g.length_mm / 2));
        canvas.circle({ends[e], m}, boss, {outline});
        shank_end[e] = ends[e] + inward * shank;
        const double half = 0.7 * boss, root = ends[e] + inward * std::sqrt(boss * boss - half * half);
        draw_sides(canvas, std::min(root, shank_end[e]), std::max(root, shank_end[e]), m, half, false);
        canvas.line({shank_end[e], m - half}, {shank_end[e], m + half}, {outline});
        canvas.line({ends[e] - boss * 0.6, m}, {ends[e] + boss * 0.6, m}, {stroke});
    }
    draw_sides(canvas, shank_end[0], shank_end[1], m, std::min(g.rod_mm, p.most_boss()) / 2, false);
    canvas.pop();
}

void draw_break(Canvas& canvas, const Cell& cell, double at, const std::string& name) {
    const double half = cell.piece.most_boss() / 2 + 1.2, m = cell.middle;
    std::vector<At> zigzag;
    for (int i = 0; i <= 6; ++i) zigzag.push_back({at + (i % 2 == 0 ? -0.8 : 0.8), m - half + 2 * half * i / 6});
    canvas.lines(zigzag, {outline, Ink::colour});
    canvas.text({at + 1.2, m - half - beyond + 0.5}, name, Lettering{least_text_pt, true, Ink::colour});
}

/// Draws the piece with its frame's origin at `origin`, and notes where its strokes stand.
void draw_cell(Pages& pages, const Cell& cell, At origin, bool upright) {
    Canvas& canvas = pages.canvas();
    const Piece& p = cell.piece;
    const double from = p.before(), to = from + p.to - p.from;
    const double reach = p.most_boss() / 2 + beyond, m = cell.middle;
    canvas.push(origin, upright);
    canvas.text({0, 0}, name_words(p), small);
    draw_link(canvas, cell);
    for (const double x : {from, to}) canvas.line({x, m - reach}, {x, m + reach}, {stroke});
    if (!p.first()) draw_break(canvas, cell, from, break_name(p.number - 1));
    if (!p.last()) draw_break(canvas, cell, to, break_name(p.number));
    canvas.text({0, m + reach + 1}, length_words(p), small);
    canvas.pop();
    const double across = m + reach - beyond / 2;  // between boss and stroke's end
    const double along = upright ? origin.y : origin.x;
    pages.note({p.of == 1 ? p.gauge->part : fmt::format("{}.{}", p.gauge->part, p.number), pages.page(), upright,
                along + from, along + to, upright ? origin.x - across : origin.y + across});
}

void draw_bar(Pages& pages, At at, double length, bool upright) {
    Canvas& canvas = pages.canvas();
    canvas.push(at, upright);
    const double base = 6;
    canvas.line({0, base}, {length, base}, {0.35, Ink::colour});
    for (int i = 0; i <= 10; ++i) {
        const double x = length * i / 10;
        const bool end = i % 10 == 0;
        canvas.line({x, end ? 0 : base}, {x, base + (i % 5 == 0 ? 3 : 1.8)}, {stroke});
    }
    Lettering letters{least_text_pt, true};
    letters.align = Lettering::Align::centre;
    canvas.text({length / 2, 0.4}, fmt::format("{:.1f} mm: measure this bar first", length), letters);
    canvas.pop();
    const double along = upright ? at.y : at.x;
    pages.note({"bar", pages.page(), upright, along, along + length, upright ? at.x - 2 : at.y + 2});
}

/// Pieces no longer than `most`, of one length.
std::vector<Piece> pieces_of(const Gauge& g, double most) {
    const double room = most - std::max(g.boss_mm[0], g.boss_mm[1]) - 6;
    const int count = std::max(1, static_cast<int>(std::ceil(g.length_mm / room)));
    std::vector<Piece> out;
    for (int i = 0; i < count; ++i)
        out.push_back({&g, g.length_mm * i / count, g.length_mm * (i + 1) / count, i + 1, count});
    return out;
}

/// Rows of gauges across the page.
void put_across(Pages& pages, const std::vector<Piece>& pieces) {
    double x = pages.left(), row_height = 0;
    const auto end_row = [&] {
        if (row_height > 0) pages.y += row_height + between / 2;
        x = pages.left(), row_height = 0;
    };
    for (const Piece& piece : pieces) {
        const Cell cell = cell_of(pages.canvas(), piece);
        if (x > pages.left() && x + cell.width > pages.right()) end_row();
        if (pages.room() < std::max(cell.height, row_height) && !pages.at_top()) {
            end_row();
            pages.next_page();
            draw_bar(pages, {pages.left(), pages.y}, 100, false);
            pages.y += bar_height + 4;
        }
        draw_cell(pages, cell, {x, pages.y}, false);
        row_height = std::max(row_height, cell.height);
        x += cell.width + between;
    }
    end_row();
}

/// Columns of gauges along the page, on pages of their own with a bar that lies the same way.
void put_along(Pages& pages, const std::vector<Piece>& pieces) {
    double x = 0, top = 0, lowest = 0;
    const auto start_page = [&] {
        pages.next_page();
        put(pages,
            Paragraph{"Links longer than the paper is wide lie along it, read from the right. Measure the upright bar "
                      "first: a printer may keep its scale one way and not the other.",
                      true});
        top = pages.y;
        x = pages.right() - bar_height;
        draw_bar(pages, {pages.right() - 1, top}, 100, true);
    };
    for (const Piece& piece : pieces) {
        const Cell cell = cell_of(pages.canvas(), piece);
        if (top == 0 || x - between / 2 - cell.height < pages.left()) start_page();
        x -= between / 2;
        draw_cell(pages, cell, {x, top}, true);
        x -= cell.height;
        lowest = std::max(lowest, top + cell.width);
    }
    if (!pieces.empty()) pages.y = lowest + 3;
}

}  // namespace

void put(Pages& pages, const CheckBar& bar) {
    pages.need(bar_height);
    draw_bar(pages, {pages.left(), pages.y}, bar.length_mm, false);
    pages.y += bar_height + 4;
}

void put(Pages& pages, const Gauges& gauges) {
    std::vector<Piece> across, along, split;
    std::string not_drawn;
    for (const Gauge& g : gauges.links) {
        const Piece whole{&g, 0, g.length_mm, 1, 1};
        if (g.length_mm > longest_mm || whole.most_boss() > largest_boss_mm)
            not_drawn += (not_drawn.empty() ? "" : ", ") + fmt::format("{} ({:.2f} mm)", g.name, g.length_mm);
        else if (whole.extent() <= pages.width())
            across.push_back(whole);
        else if (whole.extent() <= pages.bottom() - pages.top() - 24)
            along.push_back(whole);
        else
            for (const Piece& piece : pieces_of(g, pages.width())) split.push_back(piece);
    }
    put_across(pages, across);
    if (!split.empty()) {
        put(pages,
            Paragraph{"Longer than the paper: drawn in pieces. Cut at the breaks and join break to break of the same "
                      "letter, or measure piece by piece."});
        put_across(pages, split);
    }
    if (!not_drawn.empty())
        put(pages,
            Paragraph{fmt::format("Not drawn, because a rule does better than paper beyond {:.0f} mm of length or "
                                  "{:.0f} mm of boss: {}.",
                                  longest_mm, largest_boss_mm, not_drawn)});
    put_along(pages, along);
}

}  // namespace swashwright::sheet
