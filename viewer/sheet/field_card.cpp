#include "viewer/sheet/field_card.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/head/inventory.h"
#include "kinematics/studies/answer/face.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/envelope/reach.h"
#include "kinematics/studies/lengths/lengths.h"
#include "viewer/draw/solids/anchors.h"

namespace swashwright::sheet {
namespace {

using head::Description;
using studies::Cell;
using studies::Table;

Table lengths(const Description& d) {
    Table out{"links",
              "Links as they should be, mm",
              {{"link", "link", ""},
               {"centre_mm", "centres", "mm"},
               {"gap_mm", "gap", "mm"},
               {"span_mm", "span", "mm"},
               {"rod_mm", "bare rod", "mm"}},
              {},
              {}};
    for (const head::PartName& part : head::links_of(d)) {
        const head::Link& link = *head::link_of(d, part);
        const studies::LinkForms forms = studies::link_forms(link, link.length_mm);
        out.rows.push_back({head::link_words(d, part), forms.centre, forms.gap, forms.span, forms.bare_rod});
        out.parts.push_back(head::path_of(part));
    }
    return out;
}

std::vector<std::string> doubts(const Description& d, const head::Result<studies::Reach>& reach) {
    std::vector<std::string> out;
    for (const head::PartName& part : head::links_of(d)) {
        const head::Link& link = *head::link_of(d, part);
        if (std::abs(link.error_mm) >= 0.005)
            out.push_back(fmt::format("{} is {:.2f} mm too {}.", head::link_words(d, part), std::abs(link.error_mm),
                                      link.error_mm > 0 ? "long" : "short"));
    }
    for (const head::Servo& servo : d.servos)
        if (std::abs(servo.trim_deg) >= 0.05)
            out.push_back(fmt::format("{} carries {:+.1f} deg of trim.", head::servo_words(servo), servo.trim_deg));
    if (!reach) {
        out.push_back(fmt::format("What binds could not be worked out: {}.", reach.error().message));
        return out;
    }
    const studies::Envelope& e = reach->envelope;
    if (e.opens) out.emplace_back("Within the sticks' travel the links no longer reach: ask what binds.");
    for (const std::size_t k : studies::nearest_first(*reach)) {
        const studies::Check& check = e.checks[k];
        const studies::Extreme& worst = e.worst[k];
        const auto state = studies::state_of(check, worst.margin);
        const bool unsure = studies::unsure(*reach, k);
        if (state == studies::CheckState::pass && !unsure) continue;
        out.push_back(fmt::format("{}: {:.2f} {} at worst{}, {}{} wanted.", check.label, worst.value, check.unit,
                                  unsure ? studies::how_sure(check, worst) : std::string(),
                                  state == studies::CheckState::fail ? ""
                                  : unsure                           ? "may fail: "
                                                                     : "close: ",
                                  studies::bound_words(check, worst.value)));
    }
    constexpr std::size_t most = 12;
    if (out.size() > most) {
        const std::size_t more = out.size() - (most - 1);
        out.resize(most - 1);
        out.push_back(fmt::format("And {} more: ask what binds.", more));
    }
    return out;
}

/// The row of the stick nearest to where it is looked for; null where none is near.
const studies::CollectiveRow* row_at(const studies::PitchRange& range, double stick) {
    constexpr double near = 0.05;
    const auto off = [stick](const studies::CollectiveRow& row) { return std::abs(row.collective - stick); };
    const auto nearest = std::ranges::min_element(range.collective, {}, off);
    return nearest != range.collective.end() && off(*nearest) < near ? &*nearest : nullptr;
}

}  // namespace

Table ends_of_pitch(const Description& d, const studies::PitchRange& range) {
    const bool tail = studies::is_tail(d);
    Table out{"ends",
              fmt::format("{} above {}, and pitch, mean over a turn (leading edge up +)",
                          tail ? "Slider" : "Ring's tilt centre", studies::face_words(d)),
              {{"stick", tail ? "rudder" : "collective", "", 0, true}, {"height_mm", "height", "mm"}},
              {},
              {}};
    for (std::size_t k = 0; k < range.collective.front().mean_deg.size(); ++k)
        out.columns.push_back({fmt::format("blade_{}_deg", k + 1), fmt::format("blade {}", k + 1), "deg", 2, true});
    for (const double stick : {-1.0, 0.0, 1.0}) {
        const studies::CollectiveRow* row = row_at(range, stick);
        if (!row) continue;
        out.rows.push_back({row->collective, row->height_mm - studies::face_height_mm(d)});
        for (const double deg : row->mean_deg) out.rows.back().emplace_back(deg);
    }
    return out;
}

tl::expected<Sheet, std::string> field_card(const head::Head& head, const std::string& note, const std::string& made,
                                            const studies::Going& going) {
    if (const head::Failure* failure = head.neutral_failure()) return tl::unexpected(failure->message);
    const Description& d = head.description();
    Sheet card{draw::title_of(d), made, SWASHWRIGHT_VERSION, {}, {}, "Card for the field box"};
    studies::ReachRequest request{.clearance = false};
    request.sweep.stop = going.stop;
    const auto reach = studies::reach(head, request);
    going.tell(0.8);
    const auto range = studies::pitch_range(head, {}, going.part(0.8, 1));
    if (going.stopped()) return tl::unexpected(studies::was_stopped().message);
    Section links{"Link lengths", {}};
    if (!note.empty()) links.blocks.push_back(Paragraph{note});
    links.blocks.push_back(lengths(d));
    card.sections.push_back(std::move(links));
    if (range)
        card.sections.push_back({"Heights and ends of pitch", {ends_of_pitch(d, *range)}});
    else
        card.missing.push_back("pitch range: " + range.error().message);
    std::vector<std::string> doubtful = doubts(d, reach);
    if (doubtful.empty()) doubtful.emplace_back("Nothing that this program knows of.");
    card.sections.push_back(
        {"Doubtful", {Ticks{std::move(doubtful)}, Paragraph{"Whether parts touch was not looked at."}}});
    card.sections.push_back({"Before it runs",
                             {Paragraph{"Bolts, thread lock and ball links looked at; nobody in the plane of the disc. "
                                        "Verify on the model: this card knows only the numbers it was given.",
                                        true}}});
    return card;
}

}  // namespace swashwright::sheet
