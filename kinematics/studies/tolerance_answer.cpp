#include <fmt/format.h>

#include <algorithm>

#include "kinematics/studies/figures.h"
#include "kinematics/studies/part_path.h"
#include "kinematics/studies/tolerance.h"

namespace swashwright::studies {

namespace {

Table spread_table(const ToleranceStudy& study) {
    Table table{"spread",
                "Spread over all heads built so: mean pitch of each blade over a turn, and the split between them",
                {{"what", "what", ""},
                 {"nominal_deg", "nominal", "deg", 3},
                 {"linear_sd_deg", "linear sd", "deg", 3},
                 {"sampled_sd_deg", "sampled sd", "deg", 3},
                 {"least_deg", "least", "deg", 3},
                 {"most_deg", "most", "deg", 3},
                 {"worst_deg", "all at ends", "deg", 3},
                 {"within_95_deg", "95 in 100", "deg", 3}},
                {},
                {}};
    const auto row = [&](std::string what, const Spread& s, Cell within_95) {
        table.rows.push_back(
            {std::move(what), s.nominal, s.linear, s.sampled, s.least, s.most, s.worst, std::move(within_95)});
    };
    for (std::size_t k = 0; k < study.pitch_deg.size(); ++k) {
        row(fmt::format("blade {} mean pitch", k + 1), study.pitch_deg[k], {});
        table.parts.push_back(fmt::format("grip[{}]", k + 1));
    }
    row("split", study.split_deg, study.split_95);
    table.parts.emplace_back();
    return table;
}

Table share_table(const ToleranceStudy& study, std::size_t count) {
    Table table{"tolerances",
                fmt::format("The {} of {} tolerances that matter most to the split", count, study.shares.size()),
                {{"number", "number", ""},
                 {"plus_minus", "plus/minus", ""},
                 {"unit", "unit", ""},
                 {"pitch_sd_deg", "pitch sd", "deg", 3},
                 {"split_sd_deg", "split sd", "deg", 3},
                 {"of_split_percent", "of split", "%", 1}},
                {},
                {}};
    const bool wanted = study.request.wanted_split_deg > 0;
    if (wanted) table.columns.push_back({"needed", "needed", "", 3});
    for (std::size_t i = 0; i < count; ++i) {
        const Share& s = study.shares[i];
        table.rows.push_back({s.tolerance.number.label, s.tolerance.plus_minus,
                              s.tolerance.number.unit == head::Unit::mm ? "mm" : "deg", s.pitch_deg, s.split_deg,
                              100 * s.of_split});
        if (wanted) table.rows.back().push_back(s.tightened < s.tolerance.plus_minus ? Cell{s.tightened} : Cell{});
        table.parts.push_back(part_path(s.tolerance.number));
    }
    return table;
}

std::string sentence_of(const ToleranceStudy& study) {
    const ToleranceRequest& r = study.request;
    std::string out =
        fmt::format("95 of 100 heads built so have blades within {:.2f} deg of one another", study.split_95);
    if (!study.shares.empty() && study.shares[0].of_split > 0)
        out += fmt::format("; {} matters most ({:.0f} % of it)", study.shares[0].tolerance.number.label,
                           100 * study.shares[0].of_split);
    if (!(r.wanted_split_deg > 0)) return out + ".";
    const auto tight =
        std::ranges::count_if(study.shares, [](const Share& s) { return s.tightened < s.tolerance.plus_minus; });
    if (tight == 0) return out + fmt::format("; the wanted {:.2f} deg is held.", r.wanted_split_deg);
    if (study.split_95_tightened > r.wanted_split_deg)
        return out +
               fmt::format(
                   "; {:.2f} deg cannot be held by tolerances: the head as described is split by {:.2f} deg already.",
                   r.wanted_split_deg, study.split_deg.nominal);
    return out + fmt::format("; to hold {:.2f} deg, {} tolerance{} must be tightened as the column 'needed' says.",
                             r.wanted_split_deg, tight, tight == 1 ? "" : "s");
}

}  // namespace

Answer answer(const ToleranceStudy& study, std::size_t rows) {
    Answer out;
    out.study = "tolerance";
    out.text = sentence_of(study);
    out.tone = study.request.wanted_split_deg > 0 && study.split_95 > study.request.wanted_split_deg ? Tone::notice
                                                                                                     : Tone::calm;
    out.tables = {spread_table(study),
                  share_table(study, rows == 0 ? study.shares.size() : std::min(rows, study.shares.size()))};
    out.notes = {
        fmt::format("{} heads drawn (seed {}) and solved on the real linkage at collective {}, aileron "
                    "{}, elevator {}; "
                    "by exact slopes alone the 95 in 100 split is {:.3f} deg.",
                    study.request.samples, study.request.seed, signed_figure(study.request.sticks.collective, 2),
                    signed_figure(study.request.sticks.aileron, 2), signed_figure(study.request.sticks.elevator, 2),
                    study.split_95_linear),
        "Every value within plus/minus is taken to be alike likely: standard deviation (sd) plus/minus over "
        "root 3 (JCGM 100:2008, 4.3.7). "
        "Split sd is of two blades' difference.",
        "Default tolerances: common practice, no source. What the transmitter holds is exact."};
    if (study.request.wanted_split_deg > 0 && study.split_95_tightened > 0)
        out.notes.push_back(fmt::format(
            "With the needed tolerances 95 of 100 heads come within {:.3f} deg, drawn again on the real linkage.",
            study.split_95_tightened));
    if (study.failed > 0)
        out.notes.push_back(
            fmt::format("{} of the heads drawn could not be assembled and are left out.", study.failed));
    return out;
}

}  // namespace swashwright::studies
