// The sheet's pages as they fill, from top to bottom. Internal to the layout.
#pragma once

#include "viewer/sheet/canvas.h"
#include "viewer/sheet/print.h"

namespace swashwright::sheet {

class Pages {
public:
    /// `total`: of pages, for the foot; unknown in a first run, which is thrown away.
    Pages(const Sheet& sheet, Paper paper, int total);

    /// The same sheet's first page, empty: to try how something fits.
    Pages fresh() const { return {sheet_, paper_, 0}; }

    Canvas& canvas() { return canvas_; }
    double left() const { return margin; }
    double right() const { return canvas_.size().width - margin; }
    double width() const { return right() - left(); }
    double top() const { return margin; }
    double bottom() const { return canvas_.size().height - foot; }
    double room() const { return bottom() - y; }  // left on this page
    bool at_top() const { return y <= top(); }
    int page() const { return page_; }

    void next_page();
    /// Goes to the next page if there is less room, unless this one is empty.
    void need(double height) {
        if (room() < height && !at_top()) next_page();
    }
    Pdf take();  // once, at the end; bytes are the canvas's own business
    void note(TrueLength length) { true_lengths_.push_back(std::move(length)); }

    double y;  // mm from the page's top: where the next thing goes

private:
    static constexpr double margin = 15, foot = 20;  // printers leave 4 to 6 mm blank; room for holes
    void draw_foot();

    const Sheet& sheet_;
    Paper paper_;
    Canvas canvas_;
    int page_ = 1, total_;
    std::vector<TrueLength> true_lengths_;
};

/// Room that a table wants on its page: all of it if that is under half a page.
double room_for(Pages& pages, const studies::Table& table);

// Each puts its block at `pages.y` and moves it on.
void put(Pages& pages, const Paragraph& paragraph);
void put(Pages& pages, const Picture& picture);
void put(Pages& pages, const studies::Table& table);
void put(Pages& pages, const CheckBar& bar);
void put(Pages& pages, const Gauges& gauges);
void put(Pages& pages, const Plot& plot);
void put(Pages& pages, const EnvelopeMap& map);
void put(Pages& pages, const Ticks& ticks);

// In a box of this size; gives the height taken.
double draw(Canvas& canvas, const Plot& plot, At corner, double width, double height);
double draw(Canvas& canvas, const EnvelopeMap& map, At corner, double width, double height);

inline constexpr double plot_height = 78, map_height = 74;  // of the frame with its words, mm

}  // namespace swashwright::sheet
