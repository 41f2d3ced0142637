#include "viewer/sheet/link_sections.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/link_step.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/answer/rod_thread.h"
#include "kinematics/studies/lengths/lengths.h"

namespace swashwright::sheet {
namespace {

using head::Description;
using studies::Cell;
using studies::Table;

struct NamedLink {
    const head::Link& link;
    std::string name, part;            // "lower link 1 (left)"
    std::array<std::string, 2> joins;  // lower end, upper end
};

/// The part on which a ball sits.
std::string carrier_words(const Description& d, const head::BallName& ball) {
    using enum head::BallName::Of;
    switch (ball.of) {
        case servo:
            return "horn";
        case inner_ball:
            return "inner ring";
        case outer_ball:
            return "outer ring";
        case grip:
            return "pitch arm";
        case lever:
            return d.levers[static_cast<std::size_t>(ball.index)].name;
        case slider:
            return d.sliders[static_cast<std::size_t>(ball.index)].name;
        case fixed_ball:
            break;
    }
    return fmt::format("fixed ball {}", ball.index + 1);
}

std::vector<NamedLink> named_links(const Description& d) {
    std::vector<NamedLink> out;
    for (const head::PartName& part : head::links_of(d)) {
        const head::Link& link = *link_of(d, part);
        const auto ends = *ends_of(d, part);
        std::string name = link_words(d, part);
        if (part.role == head::Role::lower_link && link.name.empty() && ends[0].of == head::BallName::Of::servo)
            name += fmt::format(" ({})", d.servos[static_cast<std::size_t>(ends[0].index)].name);
        out.push_back({link, std::move(name), path_of(part), {carrier_words(d, ends[0]), carrier_words(d, ends[1])}});
    }
    return out;
}

/// "lower 1 (left)": in a table of links.
std::string short_name(std::string name) {
    if (name.starts_with("lower link ") || name.starts_with("upper link ")) name.erase(5, 5);
    return name;
}

std::string set_in(const head::Link& link) {
    const studies::LinkStep step = studies::link_step(link);
    return fmt::format("{} {:.2f}", step.one, step.mm);
}

/// "3 half turns longer" of each link's row, from the study of link lengths; its reason where it has none.
tl::expected<std::vector<Cell>, std::string> turns_to_make(const Description& d) {
    studies::LengthsRequest request;
    request.free = studies::free_links(d);
    const auto lengths = studies::link_lengths(d, request);
    if (!lengths) return tl::unexpected(lengths.error());
    const studies::Answer answer = studies::answer(*lengths);
    const auto links = std::ranges::find(answer.tables, "links", &Table::key);
    std::vector<Cell> out;
    if (links == answer.tables.end()) return out;
    const auto turn = std::ranges::find(links->columns, "turn", &studies::Column::key) - links->columns.begin();
    for (const NamedLink& link : named_links(d)) {
        const auto row = std::ranges::find(links->parts, link.part) - links->parts.begin();
        out.push_back(row < std::ssize(links->rows) ? links->rows[row][turn] : Cell{});
    }
    return out;
}

}  // namespace

Section link_table(const Description& d) {
    const bool off = std::ranges::any_of(named_links(d), [](const NamedLink& n) { return n.link.error_mm != 0; });
    Table table{"links",
                "Lengths in mm: between ball centres, between the bosses, over the bosses, and the bare rod between "
                "the two ends",
                {{"link", "link", ""},
                 {"length_mm", "centres", "mm"},
                 {"gap_mm", "gap", "mm"},
                 {"span_mm", "span", "mm"},
                 {"bare_rod_mm", "rod", "mm"},
                 {"set_in", "can be set by", "mm"}},
                {},
                {}};
    if (off) table.columns.push_back({"error_mm", "off by", "mm", 2, true});
    const auto turns = turns_to_make(d);
    if (turns && !turns->empty()) table.columns.push_back({"turn", "to turn now", ""});
    std::vector<studies::ThreadRow> threads;
    std::string troubles;
    std::size_t n = 0;
    for (const NamedLink& named : named_links(d)) {
        const head::Link& link = named.link;
        const studies::LinkForms forms = studies::link_forms(link, link.length_mm);
        std::vector<Cell> row{short_name(named.name), forms.centre, forms.gap, forms.span,
                              forms.bare_rod,         set_in(link)};
        if (off) row.emplace_back(link.error_mm);
        if (turns && !turns->empty()) row.push_back((*turns)[n]);
        ++n;
        table.rows.push_back(std::move(row));
        table.parts.push_back(named.part);
        threads.push_back({short_name(named.name), named.part, studies::rod_thread(link, link.length_mm)});
        if (const std::string trouble = studies::thread_trouble(named.name, threads.back().thread); !trouble.empty())
            troubles += (troubles.empty() ? "" : " ") + trouble;
    }
    Section section{"Links", {table, studies::thread_table(threads)}};
    if (!troubles.empty()) section.blocks.push_back(Paragraph{troubles, true});
    section.blocks.push_back(Paragraph{studies::thread_rule()});
    section.blocks.push_back(Paragraph{
        "One turn of a turnbuckle's body changes the length by twice the thread's pitch; one turn of an end on "
        "a plain rod by once the pitch. Boss sizes, threads and end lengths that the scene does not give are "
        "usual ones (common practice, no source): measure yours."});
    if (off)
        section.blocks.push_back(Paragraph{
            "The scene says that some links are off by the amounts shown (off by). Lengths and gauges are as the links "
            "should be; pitch and margins are of the head as it is."});
    const std::string wished =
        fmt::format("{} and {} at {}", d.swashplate.tilts ? "a level ring" : "the slider in its place",
                    studies::is_tail(d) ? "the pitch as drawn" : "zero pitch", studies::mid_stick_words(d));
    if (turns)
        section.blocks.push_back(Paragraph{"To turn now: for " + wished +
                                           ", from the lengths as they are, with the steps of all links searched "
                                           "together."});
    else
        section.blocks.push_back(Paragraph{"What to turn for " + wished + ": no answer, " + turns.error()});
    return section;
}

Section link_gauges(const Description& d) {
    Gauges gauges;
    for (const NamedLink& named : named_links(d)) {
        const head::Link& link = named.link;
        const studies::LinkForms forms = studies::link_forms(link, link.length_mm);
        gauges.links.push_back({named.name, named.part, named.joins, forms.centre, forms.gap, forms.span, link.boss_mm,
                                link.end_length_mm, link.rod_mm});
    }
    Section section{
        "Link gauges in true size",
        {Paragraph{"Print at 100 % (\"actual size\"), not fitted to the page. Measure this bar first: if it is "
                   "not 100.0 mm long, no gauge on these pages is true.",
                   true},
         CheckBar{}, std::move(gauges),
         Paragraph{"Lay the link on its drawing: each ball's centre over its cross, the bosses inside their "
                   "circles. Paper stretches a little with damp; the calliper has the last word."}}};
    return section;
}

Section link_effects(const studies::Sensitivity& sensitivity) {
    const Table all = studies::answer(sensitivity).tables.front();
    Table table{
        "link_effects",
        "Each link made 0.1 mm longer, largest effect first: mean pitch of the blade that it moves most, what it "
        "adds once a turn, and the split between blades; the same for half a turn (none where an end presses on from "
        "one side only)",
        all.columns,
        {},
        {}};
    for (studies::Column& column : table.columns) {  // two are called cyclic
        if (column.key == "half_turn_mean_deg") column.head = "half turn, mean";
        if (column.key == "half_turn_cyclic_deg") column.head = "half turn, cyclic";
    }
    for (std::size_t i = 0; i < all.rows.size(); ++i) {
        if (all.parts[i].find("link[") == std::string::npos) continue;
        table.rows.push_back(all.rows[i]);
        table.parts.push_back(all.parts[i]);
    }
    return {"What a tenth of a millimetre does", {table}};
}

}  // namespace swashwright::sheet
