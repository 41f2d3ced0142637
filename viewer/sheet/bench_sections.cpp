#include "viewer/sheet/bench_sections.h"

#include <fmt/format.h>

#include "kinematics/studies/pitch/ring.h"
#include "kinematics/studies/pitch/transmitter.h"

namespace swashwright::sheet {
namespace {

Section no_answer(const char* heading, const char* what, const head::Failure& why, std::vector<std::string>& missing) {
    missing.push_back(fmt::format("{}: {}", what, why.message));
    return {heading, {Paragraph{fmt::format("No answer: {}", why.message), true}}};
}

/// The sentence and the tables that have rows.
Section told(const char* heading, const studies::Answer& answer) {
    Section out{heading, {Paragraph{answer.text}}};
    for (const studies::Table& table : answer.tables)
        if (!table.rows.empty()) out.blocks.emplace_back(table);
    return out;
}

void add_notes(Section& section, const std::vector<std::string>& notes) {
    for (const std::string& note : notes) section.blocks.emplace_back(Paragraph{note});
}

}  // namespace

Section ring_section(const head::Head& head, std::vector<std::string>& missing) {
    const bool tilts = head.model().ring_tilts();
    const char* heading = tilts ? "Is the ring level?" : "Is the slider in its place?";
    const studies::RingRequest request;
    const auto found = studies::ring(head, request);
    if (!found) return no_answer(heading, "ring", found.error(), missing);
    const studies::Answer answer = studies::answer(*found, request);
    Section out = told(heading, answer);
    add_notes(out, answer.notes);
    return out;
}

Section transmitter_section(const head::Head& head, std::vector<std::string>& missing) {
    const char* heading = "How the transmitter is set";
    const auto found = studies::transmitter(head);
    if (!found) return no_answer(heading, "transmitter", found.error(), missing);
    const head::Description& d = head.description();
    Section out = told(heading, studies::answer(*found, d));
    add_notes(out, studies::transmitter_notes(*found));
    out.blocks.emplace_back(Paragraph{"In this order (common practice, no source; the maker's manual comes first):"});
    out.blocks.emplace_back(Ticks{studies::transmitter_steps(d), true});
    return out;
}

}  // namespace swashwright::sheet
