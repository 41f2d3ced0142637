// Plots and the envelope's map, for the page and for SVG alike.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "viewer/draw/base/palette.h"
#include "viewer/sheet/pages.h"
#include "viewer/sheet/plots.h"

namespace swashwright::sheet {
namespace {

using Align = Lettering::Align;

constexpr Lettering small{least_text_pt};

Lettering aligned(Align align) {
    Lettering letters = small;
    letters.align = align;
    return letters;
}

struct Frame {
    At corner;
    Size size;
    double x_low, x_high, y_low, y_high;

    double x(double value) const { return corner.x + size.width * (value - x_low) / (x_high - x_low); }
    double y(double value) const { return corner.y + size.height * (y_high - value) / (y_high - y_low); }
    double bottom() const { return corner.y + size.height; }
    double right() const { return corner.x + size.width; }
};

Pen pen_of(const Line& line) {
    Pen pen{line.bold ? 0.5 : 0.3, line.bold ? Ink::black : Ink::colour};
    if (line.bold)
        for (const float pixels : draw::blade_dash(line.index)) pen.dash_mm.push_back(0.22 * pixels);
    return pen;
}

void draw_axes(Canvas& canvas, const Plot& plot, const Frame& f, double y_step) {
    const int decimals = y_step < 0.1 ? 2 : y_step < 1 ? 1 : 0;
    const double line = canvas.measure("0", small).height;
    for (int i = 0; f.y_low + i * y_step <= f.y_high + y_step / 2; ++i) {
        const double value = f.y_low + i * y_step;
        const bool zero = std::abs(value) < y_step / 1000;
        canvas.line({f.corner.x, f.y(value)}, {f.right(), f.y(value)}, {zero ? 0.2 : 0.1, Ink::grey});
        canvas.text({f.corner.x - 1.5, f.y(value) - line / 2}, fmt::format("{:.{}f}", zero ? 0 : value, decimals),
                    aligned(Align::right));
    }
    for (double value = plot.x_low; value <= plot.x_high + plot.x_step / 2; value += plot.x_step) {
        canvas.line({f.x(value), f.corner.y}, {f.x(value), f.bottom()}, {0.1, Ink::grey});
        canvas.text({f.x(value), f.bottom() + 1}, fmt::format("{:.{}f}", value + 0.0, plot.x_decimals),
                    aligned(Align::centre));
    }
    canvas.box(f.corner, f.size, {0.25});
    canvas.text({f.corner.x + f.size.width / 2, f.bottom() + 1 + line}, plot.x_label, aligned(Align::centre));
}

/// A stroke of each line with its name; gives the height taken.
double draw_legend(Canvas& canvas, const Plot& plot, At at, double width) {
    constexpr double sample = 12, space = 6;
    double x = at.x, y = at.y;
    const double line = canvas.measure("0", small).height;
    for (const Line& l : plot.lines) {
        const double taken = sample + 2 + canvas.measure(l.name, small).width;
        if (x > at.x && x + taken > at.x + width) x = at.x, y += line;
        canvas.line({x, y + line / 2}, {x + sample, y + line / 2}, pen_of(l));
        canvas.text({x + sample + 2, y}, l.name, small);
        x += taken + space;
    }
    return y + line - at.y;
}

}  // namespace

double draw(Canvas& canvas, const Plot& plot, At corner, double width, double height) {
    const Range range = y_range(plot);
    const double line = canvas.measure("0", small).height;
    Lettering title = small;
    title.width_mm = width;
    const double head = canvas.text(corner, plot.title, title).height + 1;
    canvas.text({corner.x, corner.y + head}, plot.y_label, small);
    const double under = 3 * line + 6;
    const Frame frame{{corner.x + 14, corner.y + head + line + 2.5},
                      {width - 20, height - head - line - 2.5 - under},
                      plot.x_low,
                      plot.x_high,
                      range.low,
                      range.high};
    draw_axes(canvas, plot, frame, range.step);
    for (const Line& l : plot.lines) {
        std::vector<At> points;
        for (std::size_t i = 0; i < l.x.size(); ++i) points.push_back({frame.x(l.x[i]), frame.y(l.y[i])});
        canvas.lines(points, pen_of(l));
        if (!l.bold)
            for (const At& p : points) canvas.fill_box({p.x - 0.7, p.y - 0.7}, {1.4, 1.4}, Ink::colour);
    }
    const double legend = frame.bottom() + 2 * line + 2.5;
    return legend - corner.y + draw_legend(canvas, plot, {frame.corner.x, legend}, frame.size.width);
}

namespace {

using State = EnvelopeMap::State;

/// Fails: crossed in the colour; close: hatched; beyond the sticks: a dash; free: blank. Each with its word.
void draw_cell(Canvas& canvas, At corner, Size size, State state) {
    constexpr double apart = 2;
    if (state == State::fails || state == State::close) {
        const Pen pen{0.12, state == State::fails ? Ink::colour : Ink::grey};
        canvas.push_clip(corner, size);
        for (double x = -size.height; x < size.width; x += apart) {
            canvas.line({corner.x + x, corner.y + size.height}, {corner.x + x + size.height, corner.y}, pen);
            if (state == State::fails)
                canvas.line({corner.x + x, corner.y}, {corner.x + x + size.height, corner.y + size.height}, pen);
        }
        canvas.pop();
    }
    canvas.box(corner, size, {0.1, Ink::grey});
    Lettering letters = aligned(Align::centre);
    letters.bold = state == State::fails;
    const Size words = canvas.measure(word(state), letters);
    const At middle{corner.x + size.width / 2, corner.y + (size.height - words.height) / 2};
    if (state == State::fails || state == State::close)
        canvas.white_box({middle.x - words.width / 2 - 0.6, middle.y}, {words.width + 1.2, words.height});
    canvas.text(middle, word(state), letters);
}

}  // namespace

double draw(Canvas& canvas, const EnvelopeMap& map, At corner, double width, double height) {
    const int rows = static_cast<int>(map.collective.size()), columns = static_cast<int>(map.cyclic.size());
    if (rows == 0 || columns == 0) return 0;
    const double line = canvas.measure("0", small).height;
    Lettering title = small;
    title.width_mm = width;
    const double head = canvas.text(corner, map.title, title).height + 1;
    const double label = canvas.measure("collective +0.00", small).width + 2;
    const double wide = std::min(width - label - canvas.measure("may go to 0.00", small).width - 2, 130.0);
    const Size cell{wide / columns, std::max(line + 0.3, (height - head - 2 * line - 3) / rows)};
    const At frame{corner.x + label, corner.y + head};
    const auto x = [&](double i) { return frame.x + cell.width * i; };
    const auto y = [&](double i) { return frame.y + cell.height * (rows - i); };
    for (int c = 0; c < rows; ++c) {
        canvas.text({frame.x - 1.5, y(c + 0.5) - line / 2},
                    (c + 1 == rows ? "collective " : "") +
                        studies::as_text(studies::Cell{map.collective[c]}, {"", "", "", 2, true}),
                    aligned(Align::right));
        for (int r = 0; r < columns; ++r) draw_cell(canvas, {x(r), y(c + 1)}, cell, map.at(c, r));
    }
    canvas.box(frame, {wide, cell.height * rows}, {0.25});
    for (int r = 0; r < columns; ++r)
        canvas.text({x(r + 0.5), y(0) + 0.8}, fmt::format("{:.2f}", map.cyclic[r]), aligned(Align::centre));
    canvas.text({frame.x + wide / 2, y(0) + 0.8 + line}, "cyclic stick from its centre", aligned(Align::centre));
    for (int c = 0; c < std::ssize(map.how_far); ++c)
        canvas.text({frame.x + wide + 2, y(c + 0.5) - line / 2},
                    (c + 1 == rows ? "may go to " : "") + far_words(map.how_far[c]), small);
    return y(0) + 0.8 + 2 * line - corner.y;
}

void put(Pages& pages, const Plot& plot) {
    pages.need(plot_height);
    pages.y += draw(pages.canvas(), plot, {pages.left(), pages.y}, pages.width(), plot_height) + 3;
}

void put(Pages& pages, const EnvelopeMap& map) {
    pages.need(map_height);
    pages.y += draw(pages.canvas(), map, {pages.left(), pages.y}, pages.width(), map_height) + 3;
}

}  // namespace swashwright::sheet
