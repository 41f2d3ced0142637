// What a build sheet says, as plain content: made from the studies, printed as text, laid out on paper.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "viewer/draw/picture/png.h"

namespace swashwright::sheet {

struct Paragraph {
    std::string words;
    bool warning = false;  // framed: what can hurt, or spoil the work
};

/// Words that stand at a place of a picture, pixels from its top left.
struct Label {
    std::string words;
    double x = 0, y = 0;
};

/// The head as it is drawn, on white; no pixels where there is no OpenGL.
struct Picture {
    draw::Pixels pixels;
    std::vector<Label> labels;
    std::string caption;  // or why there is no picture
};

/// A bar of a stated length, to see whether the printer kept the scale.
struct CheckBar {
    double length_mm = 100;
};

/// One link, drawn in its true size. Lengths in mm, as `head::Link` has them; first the lower end.
struct Gauge {
    std::string name;                  // "upper link 1"
    std::string part;                  // scene path
    std::array<std::string, 2> joins;  // "horn", "inner ring"
    double length_mm = 0;              // ball centre to ball centre
    double gap_mm = 0, span_mm = 0;
    std::array<double, 2> boss_mm{}, end_length_mm{};
    double rod_mm = 0;
};
struct Gauges {
    std::vector<Gauge> links;
};

/// One line of a plot. `index` gives its dashes: that of a blade, from 0.
struct Line {
    std::string name;
    int index = 0;
    std::vector<double> x, y;
    bool bold = true;
};
struct Plot {
    std::string title, x_label, y_label;
    double x_low = 0, x_high = 1, x_step = 0.5;
    int x_decimals = 1;
    std::vector<Line> lines;
    studies::Table numbers;  // the plot as text
};

/// The stick envelope in cells: collective upwards, cyclic stick's distance from centre to the right.
struct EnvelopeMap {
    enum class State { beyond_sticks, free, close, fails };
    std::string title;
    std::vector<double> collective, cyclic;
    std::vector<State> cells;  // [collective * cyclic.size() + cyclic]
    /// How far the cyclic stick may go at each collective with every check kept; none where nowhere.
    std::vector<std::optional<double>> how_far;
    State at(std::size_t c, std::size_t r) const { return cells[c * cyclic.size() + r]; }
};
/// "fails", "close", "free"; "-" beyond the sticks' own limit.
const char* word(EnvelopeMap::State state);
/// "0.85", or "none".
std::string far_words(const std::optional<double>& how_far);

/// Boxes to tick with a pen.
struct Ticks {
    std::vector<std::string> items;
    bool numbered = false;
};

using Block = std::variant<Paragraph, Picture, studies::Table, CheckBar, Gauges, Plot, EnvelopeMap, Ticks>;

struct Section {
    std::string heading;
    std::vector<Block> blocks;
};

struct Sheet {
    std::string name;     // of the head
    std::string made;     // date, "2026-11-26"
    std::string version;  // of the program
    std::vector<Section> sections;
    std::vector<std::string> missing;  // what could not be worked out, a sentence each; said in its place too
    std::string kind = "Build sheet";  // as it is headed, and titled as a file
};

/// All of it as text of at most `columns` columns.
std::string as_text(const Sheet& sheet, std::size_t columns = 100);

}  // namespace swashwright::sheet
