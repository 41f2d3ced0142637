// Drawing on paper in millimetres from the top left, by cairo and pango: PDF pages or one SVG picture.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "viewer/draw/picture/png.h"

namespace swashwright::sheet {

/// Black, a grey for thin rules, and the one colour.
enum class Ink { black, grey, colour };

struct Pen {
    double width_mm = 0.2;
    Ink ink = Ink::black;
    std::vector<double> dash_mm = {};  // on, off, on, off ...; empty is a full line
};

inline constexpr double least_text_pt = 9;

struct Lettering {
    double points = 9.5;  // at least `least_text_pt`
    bool bold = false;
    Ink ink = Ink::black;
    double width_mm = 0;  // wrapped to this; 0: one line
    bool cut = false;     // to one line of that width, with an ellipsis
    enum class Align { left, centre, right } align = Align::left;
};

struct Size {
    double width = 0, height = 0;  // mm
};
struct At {
    double x = 0, y = 0;  // mm from the top left
};

class Canvas {
public:
    enum class Form { pdf, svg };
    Canvas(Form form, Size size);
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    Size size() const { return size_; }
    void title(const std::string& title, const std::string& made_by);  // of a PDF
    void next_page();
    /// The file's bytes; nothing can be drawn afterwards. The error is a sentence.
    tl::expected<std::string, std::string> finish();

    void line(At from, At to, const Pen& pen = {});
    void lines(std::span<const At> points, const Pen& pen = {}, bool closed = false);
    void circle(At centre, double radius, const Pen& pen = {});
    void fill_box(At corner, Size size, Ink ink);
    void white_box(At corner, Size size);
    void box(At corner, Size size, const Pen& pen = {});
    void picture(const draw::Pixels& pixels, At corner, double width);

    /// Letters with their top left at `at`, inside `width_mm` where it is given; else `align` is about `at.x`. Gives
    /// the size that they take.
    Size text(At at, const std::string& words, const Lettering& lettering = {});
    Size measure(const std::string& words, const Lettering& lettering = {});
    /// The words as they are wrapped, line by line.
    std::vector<std::string> wrapped(const std::string& words, const Lettering& lettering);
    /// Width of the longest word.
    double longest_word(const std::string& words, const Lettering& lettering);

    /// From now to `pop`: origin at `origin`, and the axes turned a quarter clockwise if `upright` (x runs down).
    void push(At origin, bool upright = false);
    /// From now to `pop`: only what lies in this box is drawn.
    void push_clip(At corner, Size size);
    void pop();

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
    Size size_;
};

}  // namespace swashwright::sheet
