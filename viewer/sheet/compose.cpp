#include "viewer/sheet/compose.h"

#include <fmt/format.h>

#include <algorithm>

#include "kinematics/head/stick_envelope.h"
#include "kinematics/studies/answer/face.h"
#include "kinematics/studies/answer/main_stick.h"
#include "kinematics/studies/envelope/reach.h"
#include "kinematics/studies/live/sentence.h"
#include "kinematics/studies/loads/loads.h"
#include "kinematics/studies/pitch/directions.h"
#include "viewer/document/today.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/sheet/bench_sections.h"
#include "viewer/sheet/field_card.h"
#include "viewer/sheet/head_picture.h"
#include "viewer/sheet/link_sections.h"
#include "viewer/sheet/plots.h"
#include "viewer/sheet/words.h"

namespace swashwright::sheet {
namespace {

using head::Description;
using head::Head;
using studies::Cell;
using studies::Table;

/// What the studies found; each fails for itself.
struct Findings {
    head::Result<studies::PitchRange> range;
    head::Result<studies::Reach> reach;
    head::Result<studies::Sensitivity> sensitivity;
    head::Result<studies::Directions> bench;
    head::Result<studies::Loads> loads;
};

template <class Found>
Paragraph no_answer(Sheet& sheet, const char* what, const head::Result<Found>& found) {
    sheet.missing.push_back(fmt::format("{}: {}", what, found.error().message));
    return {fmt::format("No answer: {}", found.error().message), true};
}

Table plain_table(const char* key, std::string title, std::vector<std::vector<Cell>> rows) {
    return {key, std::move(title), {{"what", "what", ""}, {"value", "value", ""}}, std::move(rows), {}};
}

Table glance_table(const Description& d) {
    const bool anticlockwise = d.rotor.direction == head::Direction::anticlockwise, tail = studies::is_tail(d);
    const double face_mm = studies::face_height_mm(d);
    std::vector<std::vector<Cell>> rows{
        {"blades", fmt::format("{}, turning {} seen from {}", d.rotor.blades,
                               anticlockwise ? "anticlockwise" : "clockwise", tail ? "the blades' side" : "above")},
        {"shaft axis to blade tip", fmt::format("{:.1f} mm", d.rotor.blade_tip_mm)},
        {"head speed", fmt::format("{:.0f} turns a minute", d.rotor.head_speed_rpm)},
        {"heights are above", studies::face_words(d)},
        {"blade axes", fmt::format("{:.2f} mm", d.rotor.hub_height_mm - face_mm)},
        {fmt::format("{} at {}", tail ? "slider" : "ring's tilt centre", studies::mid_stick_words(d)),
         fmt::format("{:.2f} mm", d.swashplate.neutral_height_mm - face_mm)}};
    for (const head::Servo& servo : d.servos)
        rows.push_back(
            {head::servo_words(servo), fmt::format("horn {:.2f} mm, {} teeth, trim {:.2f} deg", servo.horn_mm,
                                                   servo.spline_teeth, servo.trim_deg + 0.0)});
    if (tail) {
        rows.push_back({"horn travel", fmt::format("rudder {:.1f} deg", d.mixing.rudder_deg)});
        return plain_table("head", "The tail", std::move(rows));
    }
    rows.push_back({"horn travel", fmt::format("collective {:.1f} deg, cyclic {:.1f} deg, phase {:.1f} deg",
                                               d.mixing.collective_deg, d.mixing.cyclic_deg, d.mixing.phase_deg)});
    rows.push_back({"sticks let through", head::envelope_words(d.mixing)});
    return plain_table("head", "The head", std::move(rows));
}

Section glance(const Head& head, const std::string& note, const Wishes& wishes, const Findings& found) {
    const Description& d = head.description();
    Section section{"At a glance", {}};
    if (!note.empty()) section.blocks.push_back(Paragraph{note});
    section.blocks.push_back(
        Paragraph{"Print at 100 % (\"actual size\") on the paper that the sheet was made for. Measure the 100 mm bar "
                  "beside the gauges before you trust them.",
                  true});
    if (wishes.picture) {
        const auto pose = head.pose(head::Sticks{}, 0);
        tl::expected<Picture, std::string> picture = tl::unexpected(pose ? "" : pose.error().message);
        if (wishes.drawn)
            picture = *wishes.drawn;
        else if (pose)
            picture = head_picture(d, *pose);
        if (!picture)
            picture = Picture{{}, {}, fmt::format("No picture here: {}", picture.error())};
        else
            picture->caption = studies::is_tail(d)
                                   ? "Rudder centred, blade 1 pointing away from the nose."
                                   : "Sticks centred, blade 1 over the tail, seen from behind on the left.";
        section.blocks.push_back(std::move(*picture));
    }
    section.blocks.push_back(glance_table(d));
    section.blocks.push_back(Paragraph{studies::sentence(head, {}, 0).text});
    if (found.range) section.blocks.push_back(Paragraph{studies::answer(*found.range, d).text});
    if (found.reach) section.blocks.push_back(Paragraph{studies::answer(*found.reach).text});
    return section;
}

/// "+0.5", "0".
std::string stick_words(double stick, int decimals) {
    return studies::as_text(Cell{stick}, {"", "", "", decimals, true});
}

/// One row a blade: mean pitch over the collective.
Table mean_table(const studies::PitchRange& range, bool tail) {
    Table table{"means",
                tail ? "Pitch by rudder stick, right positive: deg, leading edge away from the boom positive"
                     : "Mean pitch over a turn, cyclic centred, by collective stick: deg, leading edge up positive",
                {{"blade", "blade", "", 0}},
                {},
                {}};
    for (const studies::CollectiveRow& row : range.collective)
        table.columns.push_back(
            {fmt::format("at_{:+.1f}_deg", row.collective), stick_words(row.collective, 1), "deg", 2, true});
    for (std::size_t k = 0; k < range.collective.front().mean_deg.size(); ++k) {
        table.rows.push_back({static_cast<double>(k + 1)});
        for (const studies::CollectiveRow& row : range.collective) table.rows.back().emplace_back(row.mean_deg[k]);
        table.parts.push_back(fmt::format("grip[{}]", k + 1));
    }
    return table;
}

/// One row a blade: how far full cyclic swings it either way of its mean, at three collectives.
Table swing_table(const studies::PitchRange& range) {
    Table table{"swings",
                "Swing with full aileron (ail) and full elevator (ele), by collective stick: deg to either side of the "
                "mean, once a turn",
                {{"blade", "blade", "", 0}},
                {},
                {}};
    std::vector<const studies::TurnRow*> rows;
    for (const bool aileron : {true, false})
        for (const studies::TurnRow& row : range.cyclic)
            if ((aileron ? row.sticks.aileron : row.sticks.elevator) != 0) {
                table.columns.push_back(
                    {fmt::format("{}_at_{:+.0f}_deg", aileron ? "aileron" : "elevator", row.sticks.collective),
                     fmt::format("{} {}", aileron ? "ail" : "ele", stick_words(row.sticks.collective, 0)), "deg", 2});
                rows.push_back(&row);
            }
    for (std::size_t k = 0; k < range.collective.front().mean_deg.size(); ++k) {
        table.rows.push_back({static_cast<double>(k + 1)});
        for (const studies::TurnRow* row : rows) table.rows.back().emplace_back(row->pitch_deg[k].first().amplitude());
        table.parts.push_back(fmt::format("grip[{}]", k + 1));
    }
    return table;
}

Table height_table(const Head& head, const studies::PitchRange& range) {
    const Description& d = head.description();
    const bool tail = studies::is_tail(d);
    Table table{
        "heights",
        tail ? fmt::format("Pitch slider by rudder stick, right positive: above {}, below the blades' axes (where they "
                           "cross the shaft), and against centred rudder",
                           studies::face_words(d))
             : fmt::format("Ring heights, cyclic centred: tilt centre above {}, below the blades' axes (where they "
                           "cross the shaft), against mid stick, and how much the ring leans",
                           studies::face_words(d)),
        {{"collective", "stick", "", 1, true},
         {"height_mm", "above face", "mm"},
         {"below_hub_mm", "below axes", "mm"},
         {"from_middle_mm", "from middle", "mm", 2, true},
         {"tilt_deg", "leans", "deg"}},
        {},
        {}};
    if (tail) {
        table.columns[0] = {"rudder", "rudder", "", 1, true};
        table.columns.pop_back();
    }
    const double middle = range.collective[range.collective.size() / 2].height_mm;
    for (const studies::CollectiveRow& row : range.collective) {
        table.rows.push_back({row.collective, row.height_mm - studies::face_height_mm(d),
                              d.rotor.hub_height_mm - row.height_mm, row.height_mm - middle});
        if (tail) continue;
        const auto pose = head.pose({row.collective, 0, 0}, 0);
        table.rows.back().push_back(pose ? Cell{pose->tilt_deg} : Cell{});
    }
    return table;
}

void add_pitch(Sheet& sheet, const Head& head, const Findings& found) {
    const char* heading = "Pitch at the stick ends and in the middle";
    if (!found.range) {
        sheet.sections.push_back({heading, {no_answer(sheet, "pitch range", found.range)}});
        return;
    }
    const studies::PitchRange& range = *found.range;
    const Description& d = head.description();
    const bool tail = studies::is_tail(d);
    Section pitch{heading, {mean_table(range, tail)}};
    if (!tail) pitch.blocks.push_back(swing_table(range));
    for (const Table& table : studies::answer(range, d).tables)
        if (table.key == "outputs") pitch.blocks.push_back(table);
    sheet.sections.push_back(std::move(pitch));
    sheet.sections.push_back({tail ? "Pitch slider" : "Ring heights", {height_table(head, range)}});
    sheet.sections.push_back({"Pitch range", {range_plot(range, d)}});
}

void add_envelope(Sheet& sheet, const Findings& found, bool tail) {
    const char* heading = "What binds or touches";
    if (!found.reach) {
        sheet.sections.push_back({heading, {no_answer(sheet, "stick envelope", found.reach)}});
        return;
    }
    const studies::Answer answer = studies::answer(*found.reach, 10);
    Section section{heading, {Paragraph{answer.text}}};
    if (!tail) section.blocks.push_back(envelope_map(found.reach->envelope));
    section.blocks.push_back(answer.tables.front());
    for (const std::string& note : answer.notes) section.blocks.push_back(Paragraph{note});
    sheet.sections.push_back(std::move(section));
}

void add_loads(Sheet& sheet, const Head& head, const Findings& found) {
    const char* heading = "What servos and links must hold in flight";
    if (!found.loads) {
        sheet.sections.push_back({heading, {no_answer(sheet, "loads", found.loads)}});
        return;
    }
    const studies::Answer answer = studies::answer(*found.loads, head);
    Section section{heading, {Paragraph{answer.text}}};
    for (Table table : answer.tables) {
        if (table.key == "links") {  // without what is for sticks on a screen
            table.title = "Force along each link, worst of all sticks and azimuths";
            table.columns.resize(3);
            for (std::vector<Cell>& row : table.rows) row.resize(3);
        }
        if (table.key == "servos" || table.key == "links") section.blocks.push_back(std::move(table));
    }
    section.blocks.push_back(Paragraph{answer.notes.front()});
    sheet.sections.push_back(std::move(section));
}

/// Where the scene says what the rotor carries: by a guessed mass it would be worth little on paper.
void add_power(Sheet& sheet, const Head& head) {
    if (studies::is_tail(head.description()) || !head.description().flight.model_mass_kg) return;
    const char* heading = "How much pitch the engine can carry";
    const auto power = studies::power(head);
    if (!power) {
        sheet.sections.push_back({heading, {no_answer(sheet, "power", power)}});
        return;
    }
    const studies::Answer answer = studies::answer(*power);
    Section section{
        heading,
        {Paragraph{answer.text}, power_plot(*power, "full collective", power->full_deg), answer.tables.front()}};
    section.blocks.push_back(Paragraph{answer.notes.front()});
    sheet.sections.push_back(std::move(section));
}

void add_work(Sheet& sheet, const Description& d, const Findings& found) {
    if (found.bench) {
        const studies::Answer answer = studies::answer(*found.bench, d);
        sheet.sections.push_back(
            {"Which way things turn", {Paragraph{answer.text}, answer.tables[0], answer.tables[1]}});
    } else {
        sheet.sections.push_back({"Which way things turn", {no_answer(sheet, "directions", found.bench)}});
    }
    const Paragraph whose{whose_practice};
    sheet.sections.push_back({"Order of work", {whose, Ticks{order_of_work(d), true}}});
    sheet.sections.push_back({"Before the blades go on", {whose, Ticks{retention_checks(d), false}}});
    sheet.sections.push_back({"After a crash", {whose, Ticks{after_crash(d), true}}});
    Section caution{"Cautions", {}};
    for (const std::string& words : cautions()) caution.blocks.push_back(Paragraph{words, true});
    sheet.sections.push_back(std::move(caution));
}

}  // namespace

tl::expected<Sheet, std::string> compose(const Head& head, const std::string& note, const Wishes& wishes) {
    const std::string made = wishes.made.empty() ? document::today() : wishes.made;
    const studies::Going going{wishes.stop};
    if (wishes.card) return field_card(head, note, made, going);
    if (const head::Failure* failure = head.neutral_failure()) return tl::unexpected(failure->message);
    const Description& d = head.description();
    Sheet sheet{draw::title_of(d), made, SWASHWRIGHT_VERSION, {}, {}};
    studies::ReachRequest request;
    request.sweep.stop = wishes.stop;
    const Findings found{studies::pitch_range(head, {}, going), studies::reach(head, request),
                         studies::sensitivity(head, {}), studies::directions(head), studies::loads(head, {}, going)};
    if (going.stopped()) return tl::unexpected(studies::was_stopped().message);
    sheet.sections.push_back(glance(head, note, wishes, found));
    sheet.sections.push_back(link_table(d));
    sheet.sections.push_back(link_gauges(d));
    add_pitch(sheet, head, found);
    sheet.sections.push_back(ring_section(head, sheet.missing));
    add_envelope(sheet, found, studies::is_tail(d));
    add_loads(sheet, head, found);
    add_power(sheet, head);
    if (found.sensitivity)
        sheet.sections.push_back(link_effects(*found.sensitivity));
    else
        sheet.sections.push_back(
            {"What a tenth of a millimetre does", {no_answer(sheet, "sensitivity", found.sensitivity)}});
    sheet.sections.push_back(transmitter_section(head, sheet.missing));
    add_work(sheet, d, found);
    return sheet;
}

}  // namespace swashwright::sheet
