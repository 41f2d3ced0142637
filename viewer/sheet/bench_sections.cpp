#include "viewer/sheet/bench_sections.h"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "kinematics/studies/pitch/ring.h"
#include "kinematics/studies/pitch/transmitter.h"

namespace swashwright::sheet {
namespace {

Section no_answer(const char* heading, const char* what, const head::Failure& why, std::vector<std::string>& missing) {
    missing.push_back(fmt::format("{}: {}", what, why.message));
    return {heading, {Paragraph{fmt::format("No answer: {}", why.message), true}}};
}

/// The sentence, the tables that have rows and are not named, the notes.
Section told(const char* heading, const studies::Answer& answer, std::initializer_list<const char*> left_out) {
    Section out{heading, {Paragraph{answer.text}}};
    for (const studies::Table& table : answer.tables)
        if (!table.rows.empty() && std::ranges::find(left_out, table.key) == left_out.end())
            out.blocks.emplace_back(table);
    for (const std::string& note : answer.notes) out.blocks.emplace_back(Paragraph{note});
    return out;
}

}  // namespace

Section ring_section(const head::Head& head, std::vector<std::string>& missing) {
    const bool tilts = head.model().ring_tilts();
    const char* heading = tilts ? "Is the ring level?" : "Is the slider in its place?";
    const studies::RingRequest request;
    const auto found = studies::ring(head, request);
    if (!found) return no_answer(heading, "ring", found.error(), missing);
    return told(heading, studies::answer(*found, request), {"ring"});
}

Section transmitter_section(const head::Head& head, std::vector<std::string>& missing) {
    const char* heading = "How the transmitter is set";
    const auto found = studies::transmitter(head);
    if (!found) return no_answer(heading, "transmitter", found.error(), missing);
    const head::Description& d = head.description();
    Section out = told(heading, studies::answer(*found, d), {"steps"});
    out.blocks.emplace_back(Paragraph{"In this order (common practice, no source; the maker's manual comes first):"});
    out.blocks.emplace_back(Ticks{studies::transmitter_steps(d), true});
    return out;
}

}  // namespace swashwright::sheet
