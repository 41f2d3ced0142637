// Words, pictures, tables and tick boxes on the page.
#include <algorithm>
#include <cmath>

#include "viewer/sheet/pages.h"

namespace swashwright::sheet {
namespace {

using studies::Cell;
using studies::Table;

constexpr double after_block = 2.5;  // mm

/// Line by line, so that long words go over the page's end.
void put_lines(Pages& pages, const std::string& words, double indent, const Lettering& lettering) {
    Lettering letters = lettering;
    letters.width_mm = pages.width() - indent;
    const std::vector<std::string> lines = pages.canvas().wrapped(words, letters);
    letters.width_mm = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const double height = pages.canvas().measure(lines[i], letters).height;
        // Neither the first line nor the last stands alone on a page.
        pages.need(lines.size() > 1 && (i == 0 || i + 2 == lines.size()) ? 2 * height : height);
        pages.canvas().text({pages.left() + indent, pages.y}, lines[i], letters);
        pages.y += height;
    }
}

}  // namespace

void put(Pages& pages, const Paragraph& paragraph) {
    if (!paragraph.warning) {
        put_lines(pages, paragraph.words, 0, {});
        pages.y += after_block - 1;
        return;
    }
    constexpr double pad = 2;
    Lettering letters;
    letters.bold = true;
    letters.width_mm = pages.width() - 3 * pad - 5;
    const double height = pages.canvas().measure(paragraph.words, letters).height + 2 * pad;
    if (height > pages.bottom() - pages.top()) {  // no page holds it in a frame
        put_lines(pages, paragraph.words, 0, letters);
        return;
    }
    pages.need(height);
    const At corner{pages.left(), pages.y};
    pages.canvas().box(corner, {pages.width(), height}, {0.35, Ink::colour});
    constexpr double mark = 2.6;
    pages.canvas().fill_box({corner.x + pad + 0.6, corner.y + (height - mark) / 2}, {mark, mark}, Ink::colour);
    pages.canvas().text({corner.x + 2 * pad + 5, corner.y + pad}, paragraph.words, letters);
    pages.y += height + after_block;
}

void put(Pages& pages, const Picture& picture) {
    if (picture.pixels.width > 0) {
        const double width = 0.82 * pages.width(), scale = width / picture.pixels.width;
        const double height = picture.pixels.height * scale;
        pages.need(height);
        const At corner{pages.left() + (pages.width() - width) / 2, pages.y};
        pages.canvas().picture(picture.pixels, corner, width);
        for (const Label& label : picture.labels) {
            const Size size = pages.canvas().measure(label.words);
            const At at{
                std::clamp(corner.x + label.x * scale - size.width / 2, pages.left(), pages.right() - size.width),
                std::clamp(corner.y + label.y * scale - size.height - 2, corner.y, corner.y + height - size.height)};
            pages.canvas().white_box({at.x - 0.6, at.y}, {size.width + 1.2, size.height});
            pages.canvas().text(at, label.words);
        }
        pages.y += height;
    }
    put(pages, Paragraph{picture.caption});
}

void put(Pages& pages, const Ticks& ticks) {
    constexpr double box = 3.6, indent = 7, number = 6;
    for (std::size_t i = 0; i < ticks.items.size(); ++i) {
        Lettering letters;
        const double words_at = indent + (ticks.numbered ? number : 0);
        letters.width_mm = pages.width() - words_at;
        const double height = pages.canvas().measure(ticks.items[i], letters).height;
        pages.need(height);
        const double line = pages.canvas().measure("1").height;
        pages.canvas().box({pages.left() + 0.2, pages.y + (line - box) / 2}, {box, box}, {0.3});
        if (ticks.numbered) pages.canvas().text({pages.left() + indent, pages.y}, std::to_string(i + 1));
        pages.canvas().text({pages.left() + words_at, pages.y}, ticks.items[i], letters);
        pages.y += height + 1.6;
    }
    pages.y += after_block - 1.6;
}

namespace {

constexpr double gap = 3.2;  // between columns, mm
constexpr double wide = 22;  // heads wrap where their column need not be wider
constexpr Lettering head_letters{least_text_pt, true}, cell_letters{least_text_pt};

struct Columns {
    std::vector<double> width, at;
    double end = 0;  // right edge of the last, mm from the page's left
    std::vector<bool> right;
};

/// As wide as what stands in it; columns of words give way where the page is too narrow.
Columns columns_of(Pages& pages, const Table& table) {
    Canvas& canvas = pages.canvas();
    const std::size_t count = table.columns.size();
    Columns out{std::vector<double>(count), std::vector<double>(count), 0, std::vector<bool>(count, false)};
    std::vector<double> least(count);
    for (std::size_t c = 0; c < count; ++c) {
        const studies::Column& column = table.columns[c];
        const double head = canvas.measure(column.head, head_letters).width;
        double& width = out.width[c];
        width = std::max({canvas.longest_word(column.head, head_letters), std::min(head, wide),
                          canvas.measure(column.unit, cell_letters).width});
        least[c] = width;
        for (const auto& row : table.rows) {
            const double cell = canvas.measure(as_text(row[c], column), cell_letters).width;
            width = std::max(width, cell);
            if (std::holds_alternative<double>(row[c])) {
                out.right[c] = true;
                least[c] = std::max(least[c], cell);
            }
        }
        width += 0.1, least[c] += 0.1;  // rounding must not wrap what just fits
    }
    const auto total = [&] {
        double sum = gap * static_cast<double>(count - 1);
        for (const double width : out.width) sum += width;
        return sum;
    };
    if (const double excess = total() - pages.width(); excess > 0) {
        double give = 0;
        for (std::size_t c = 0; c < count; ++c) give += out.width[c] - least[c];
        if (give > 0)
            for (std::size_t c = 0; c < count; ++c)
                out.width[c] -= std::min(1.0, excess / give) * (out.width[c] - least[c]);
    }
    double x = pages.left();
    for (std::size_t c = 0; c < count; ++c) {
        out.at[c] = x;
        x += out.width[c] + gap;
    }
    out.end = x - gap;
    return out;
}

/// One row's words at `pages.y`; gives its height. Only measures if not `drawn`.
template <class Text>
double row(Pages& pages, const Columns& columns, const Lettering& letters, bool drawn, bool on_foot, Text text) {
    double height = 0;
    std::vector<double> heights(columns.at.size());
    const auto lettered = [&](std::size_t c) {
        Lettering l = letters;
        l.width_mm = columns.width[c];
        l.align = columns.right[c] ? Lettering::Align::right : Lettering::Align::left;
        return l;
    };
    for (std::size_t c = 0; c < columns.at.size(); ++c) {
        heights[c] = pages.canvas().measure(text(c), lettered(c)).height;
        height = std::max(height, heights[c]);
    }
    if (drawn)
        for (std::size_t c = 0; c < columns.at.size(); ++c)
            pages.canvas().text({columns.at[c], pages.y + (on_foot ? height - heights[c] : 0)}, text(c), lettered(c));
    return height;
}

void put_head(Pages& pages, const Table& table, const Columns& columns) {
    pages.y += row(pages, columns, head_letters, true, true, [&](std::size_t c) { return table.columns[c].head; });
    if (std::ranges::any_of(table.columns, [](const studies::Column& c) { return !c.unit.empty(); }))
        pages.y += row(pages, columns, cell_letters, true, false, [&](std::size_t c) { return table.columns[c].unit; });
    pages.y += 0.6;
    pages.canvas().line({pages.left(), pages.y}, {columns.end, pages.y}, {0.25});
    pages.y += 0.6;
}

}  // namespace

double room_for(Pages& pages, const Table& table) {
    const double line = pages.canvas().measure("1", cell_letters).height + 1;
    const double whole = 22 + line * static_cast<double>(table.rows.size());
    return whole < (pages.bottom() - pages.top()) / 2 ? whole : 30;
}

void put(Pages& pages, const Table& table) {
    const Columns columns = columns_of(pages, table);
    pages.need(room_for(pages, table));
    put_lines(pages, table.title, 0, {});
    pages.y += 1;
    put_head(pages, table, columns);
    for (const auto& cells : table.rows) {
        const auto text = [&](std::size_t c) { return as_text(cells[c], table.columns[c]); };
        const double height = row(pages, columns, cell_letters, false, false, text);
        if (pages.room() < height + 1 && !pages.at_top()) {
            pages.next_page();
            put_head(pages, table, columns);
        }
        row(pages, columns, cell_letters, true, false, text);
        pages.y += height + 0.5;
        pages.canvas().line({pages.left(), pages.y}, {columns.end, pages.y}, {0.1, Ink::grey});
        pages.y += 0.5;
    }
    pages.y += after_block;
}

}  // namespace swashwright::sheet
