// The build sheet as text.
#include <fmt/format.h>

#include <algorithm>

#include "viewer/sheet/content.h"

namespace swashwright::sheet {
namespace {

/// Wrapped, and with the table under it if there is one.
std::string said(const std::string& words, std::size_t columns, const std::vector<studies::Table>& tables = {}) {
    studies::Answer answer;
    answer.text = words;
    answer.tables = tables;
    std::string text = studies::as_text(answer, columns);
    text.erase(0, text.find_first_not_of('\n'));
    return text;
}

struct Writer {
    std::size_t columns;

    std::string operator()(const Paragraph& p) const { return said((p.warning ? "WARNING: " : "") + p.words, columns); }
    std::string operator()(const Picture& p) const { return said(p.caption, columns); }
    std::string operator()(const studies::Table& t) const { return said("", columns, {t}); }
    std::string operator()(const CheckBar& b) const {
        return said(fmt::format("A bar of {:.0f} mm to measure.", b.length_mm), columns);
    }
    std::string operator()(const Gauges& gauges) const {
        std::string out;
        for (const Gauge& g : gauges.links)
            out += said(fmt::format("{}, {} to {}: {:.2f} mm between ball centres, gap {:.2f}, span {:.2f}; bosses "
                                    "{:.2f} and {:.2f}, rod {:.2f}",
                                    g.name, g.joins[0], g.joins[1], g.length_mm, g.gap_mm, g.span_mm, g.boss_mm[0],
                                    g.boss_mm[1], g.rod_mm),
                        columns);
        return out;
    }
    std::string operator()(const Plot& p) const { return said("", columns, {p.numbers}); }
    std::string operator()(const EnvelopeMap& m) const {
        std::string out = said(m.title, columns) + "  stick  ";
        for (const double cyclic : m.cyclic) out += fmt::format("{:>7.2f}", cyclic);
        out += "  may go to\n";
        for (std::size_t c = m.collective.size(); c-- > 0;) {
            out += fmt::format("  {:>6} ", studies::as_text(studies::Cell{m.collective[c]}, {"", "", "", 2, true}));
            for (std::size_t r = 0; r < m.cyclic.size(); ++r) out += fmt::format("{:>7}", word(m.at(c, r)));
            if (c < m.how_far.size()) out += fmt::format("{:>11}", far_words(m.how_far[c]));
            out += "\n";
        }
        return out;
    }
    std::string operator()(const Ticks& t) const {
        std::string out;
        for (std::size_t i = 0; i < t.items.size(); ++i)
            out += said(t.numbered ? fmt::format("[ ] {}. {}", i + 1, t.items[i]) : "[ ] " + t.items[i], columns);
        return out;
    }
};

}  // namespace

std::string far_words(const std::optional<double>& how_far) {
    return how_far ? fmt::format("{:.2f}", *how_far) : "none";
}

const char* word(EnvelopeMap::State state) {
    switch (state) {
        case EnvelopeMap::State::free:
            return "free";
        case EnvelopeMap::State::close:
            return "close";
        case EnvelopeMap::State::fails:
            return "fails";
        case EnvelopeMap::State::beyond_sticks:
            break;
    }
    return "-";
}

std::string as_text(const Sheet& sheet, std::size_t columns) {
    std::string out = said(sheet.kind + ": " + sheet.name, columns);
    for (const Section& section : sheet.sections) {
        out += "\n" + said(section.heading, columns) + "\n";
        bool first = true;
        for (const Block& block : section.blocks) {
            if (!first) out += "\n";
            out += std::visit(Writer{columns}, block);
            first = false;
        }
    }
    return out + "\n" + said(fmt::format("Made {} by Swashwright {}.", sheet.made, sheet.version), columns);
}

}  // namespace swashwright::sheet
