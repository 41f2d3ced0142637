#include "viewer/sheet/print.h"

#include <fmt/format.h>

#include <algorithm>

#include "viewer/sheet/pages.h"

namespace swashwright::sheet {
namespace {

constexpr Lettering title_letters{20, true}, heading_letters{13, true};

Size paper_size(Paper paper) {
    return paper == Paper::a4 ? Size{210, 297} : Size{8.5 * 25.4, 11 * 25.4};
}

void put_block(Pages& pages, const Block& block) {
    std::visit([&](const auto& b) { put(pages, b); }, block);
}

/// Of the block on a page of its own; a page's if it needs more.
double height_of(const Pages& pages, const Block& block) {
    Pages scratch = pages.fresh();
    put_block(scratch, block);
    return scratch.page() > 1 ? scratch.bottom() - scratch.top() : scratch.y - scratch.top();
}

/// What a block wants on the page of its heading.
double room_for(Pages& pages, const Block& block) {
    if (const auto* table = std::get_if<studies::Table>(&block)) return room_for(pages, *table);
    if (std::holds_alternative<Gauges>(block)) return 25;
    const auto* paragraph = std::get_if<Paragraph>(&block);
    const bool goes_over = std::holds_alternative<Ticks>(block) || (paragraph && !paragraph->warning);
    const double height = height_of(pages, block);
    return goes_over ? std::min(height, 13.0) : height;
}

/// A heading goes to the next page with what it is about: all of a short section, the first that is no words of others.
void put_heading(Pages& pages, const Section& section) {
    const double page = pages.bottom() - pages.top();
    double all = 12, first = 12;
    bool only_words = true;
    for (const Block& block : section.blocks) {
        all += height_of(pages, block);
        if (only_words) first += room_for(pages, block);
        only_words &= std::holds_alternative<Paragraph>(block) || std::holds_alternative<CheckBar>(block);
    }
    pages.need(std::min(all < page / 2 ? all : first, page));
    if (!pages.at_top()) pages.y += 5;
    Canvas& canvas = pages.canvas();
    Lettering letters = heading_letters;
    letters.width_mm = pages.width();
    pages.y += canvas.text({pages.left(), pages.y}, section.heading, letters).height + 0.8;
    canvas.line({pages.left(), pages.y}, {pages.right(), pages.y}, {0.35, Ink::colour});
    pages.y += 2.2;
}

void fill(Pages& pages, const Sheet& sheet) {
    Lettering letters = title_letters;
    letters.width_mm = pages.width();
    pages.y += pages.canvas().text({pages.left(), pages.y}, sheet.name, letters).height;
    pages.y += pages.canvas().text({pages.left(), pages.y}, sheet.kind).height + 1;
    for (const Section& section : sheet.sections) {
        put_heading(pages, section);
        for (const Block& block : section.blocks) put_block(pages, block);
    }
}

}  // namespace

Pages::Pages(const Sheet& sheet, Paper paper, int total)
    : y(margin), sheet_(sheet), paper_(paper), canvas_(Canvas::Form::pdf, paper_size(paper)), total_(total) {
    canvas_.title(fmt::format("{}: {}", sheet.name, sheet.kind), "Swashwright " + sheet.version);
}

void Pages::draw_foot() {
    const double at = canvas_.size().height - foot + 4;
    canvas_.line({left(), at}, {right(), at}, {0.15, Ink::grey});
    const std::string facts =
        fmt::format("made {}, page {} of {}, Swashwright {}", sheet_.made, page_, total_, sheet_.version);
    Lettering letters{least_text_pt};
    letters.align = Lettering::Align::right;
    const double taken = canvas_.text({right(), at + 1}, facts, letters).width;
    Lettering name{least_text_pt};
    name.width_mm = width() - taken - 6;
    name.cut = true;
    canvas_.text({left(), at + 1}, sheet_.name, name);
}

void Pages::next_page() {
    draw_foot();
    canvas_.next_page();
    ++page_;
    y = top();
}

Pdf Pages::take() {
    draw_foot();
    return {{}, page_, std::move(true_lengths_)};
}

std::optional<Paper> paper_named(std::string_view name) {
    if (name == "a4") return Paper::a4;
    if (name == "letter") return Paper::letter;
    return std::nullopt;
}

tl::expected<Pdf, std::string> pdf(const Sheet& sheet, Paper paper) {
    int total = 0;
    {
        Pages first(sheet, paper, 0);
        fill(first, sheet);
        total = first.page();
    }
    Pages pages(sheet, paper, total);
    fill(pages, sheet);
    Pdf out = pages.take();
    auto bytes = pages.canvas().finish();
    if (!bytes) return tl::unexpected(bytes.error());
    out.bytes = std::move(*bytes);
    return out;
}

namespace {

template <class Drawn>
tl::expected<std::string, std::string> svg_of(const Drawn& drawn, double height) {
    constexpr double width = 180, edge = 4;
    Canvas canvas(Canvas::Form::svg, {width + 2 * edge, height + 2 * edge});
    canvas.white_box({0, 0}, canvas.size());
    draw(canvas, drawn, {edge, edge}, width, height);
    return canvas.finish();
}

}  // namespace

tl::expected<std::string, std::string> svg(const Plot& plot) {
    return svg_of(plot, plot_height + 15);
}
tl::expected<std::string, std::string> svg(const EnvelopeMap& map) {
    return svg_of(map, map_height + 15);
}

}  // namespace swashwright::sheet
