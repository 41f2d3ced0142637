#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/studies/answer/part_path.h"
#include "kinematics/studies/answer/stick_words.h"
#include "kinematics/studies/pitch/tolerance.h"

namespace swashwright::studies {

namespace {

Table spread_table(const ToleranceStudy& study) {
    Table table{"spread",
                fmt::format("Spread over {}: mean pitch of each blade over a turn, and the split between them",
                            study.failed > 0 ? "the heads that can be assembled" : "all heads built so"),
                {{"what", "what", ""},
                 {"nominal_deg", "nominal", "deg", 3},
                 {"linear_sd_deg", "spread by slopes", "deg", 3},
                 {"sampled_sd_deg", "spread as drawn", "deg", 3},
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
                count == study.shares.size()
                    ? fmt::format("All {} tolerances, what matters most to the split first", count)
                    : fmt::format("The {} of {} tolerances that matter most to the split", count, study.shares.size()),
                {{"number", "number", ""},
                 {"plus_minus", "±", ""},
                 {"unit", "unit", ""},
                 {"pitch_sd_deg", "pitch spread", "deg", 3},
                 {"split_sd_deg", "split spread", "deg", 3},
                 {"of_split_percent", "of split", "%", 1}},
                {},
                {}};
    const bool wanted = study.request.wanted_split_deg.has_value();
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

/// "33 in 100", or "7 of 10000" where that would be less than one or as good as all.
std::string share_in_words(int part, int all) {
    const double percent = 100.0 * part / all;
    return percent >= 1 && (percent < 99.5 || part == all) ? fmt::format("{:.0f} in 100", percent)
                                                           : fmt::format("{} of {}", part, all);
}

std::string wanted_in_words(const ToleranceStudy& study) {
    const double wanted = *study.request.wanted_split_deg;
    const auto tight =
        std::ranges::count_if(study.shares, [](const Share& s) { return s.tightened < s.tolerance.plus_minus; });
    if (study.held())
        return study.failed == 0 ? fmt::format("; the wanted {:.2f} deg is held", wanted)
                                 : fmt::format("; {:.0f} in 100 of all can be assembled and keep the wanted {:.2f} deg",
                                               std::floor(100 * study.keeping), wanted);
    if (study.held_tightened())
        return fmt::format("; to hold {:.2f} deg, {} tolerance{} must be tightened as the column 'needed' says", wanted,
                           tight, tight == 1 ? "" : "s");
    if (study.failed_tightened > 0.05 * study.request.samples)
        return fmt::format("; {:.2f} deg cannot be held: first set tolerances with which the heads can be assembled",
                           wanted);
    return fmt::format(
        "; {:.2f} deg cannot be held by tolerances: the head as described is split by {:.2f} deg already", wanted,
        study.split_deg.nominal);
}

std::string sentence_of(const ToleranceStudy& study) {
    const int drawn = study.request.samples;
    std::string out;
    if (study.failed > 0) out = share_in_words(study.failed, drawn) + " heads built so cannot be assembled";
    if (study.failed < drawn) {
        out += fmt::format("{} have blades within {:.2f} deg of one another",
                           study.failed > 0 ? "; 95 of 100 of the others" : "95 of 100 heads built so", study.split_95);
        if (!study.shares.empty() && study.shares[0].of_split > 0)
            out += fmt::format("; what matters most: {} ({:.0f} % of it)", study.shares[0].tolerance.number.label,
                               100 * study.shares[0].of_split);
    }
    return out + (study.request.wanted_split_deg ? wanted_in_words(study) : "") + ".";
}

}  // namespace

Answer answer(const ToleranceStudy& study, std::size_t rows) {
    Answer out;
    out.study = "tolerance";
    out.text = sentence_of(study);
    const bool sound = study.failed == 0 && (!study.request.wanted_split_deg || study.held());
    out.tone = sound ? Tone::calm : Tone::notice;
    out.tables = {spread_table(study),
                  share_table(study, rows == 0 ? study.shares.size() : std::min(rows, study.shares.size()))};
    out.notes = {
        fmt::format(
            "{} heads drawn (seed {}) and solved on the real linkage at {}; by exact slopes alone the 95 in 100 "
            "split is {:.3f} deg.",
            study.request.samples, study.request.seed, stick_words(study.kind, study.request.sticks),
            study.split_95_linear),
        "A spread is one standard deviation, by exact slopes or of the heads drawn; the split's is of two blades' "
        "difference. Every value within plus/minus is taken to be alike likely: a standard deviation of plus/minus "
        "over root 3 (JCGM 100:2008, 4.3.7).",
        "Default tolerances: common practice, no source. What the transmitter holds is exact, and stays as it was set "
        "up "
        "for the head described."};
    if (study.request.wanted_split_deg && !study.held() && study.held_tightened())
        out.notes.push_back(fmt::format(
            "With the needed tolerances 95 of 100 heads come within {:.3f} deg, drawn again on the real linkage.",
            study.split_95_tightened));
    if (study.failed > 0)
        out.notes.push_back(
            fmt::format("{} of the heads drawn cannot be assembled, all round the turn or in part of it: they have no "
                        "pitch and are left out of the tables. Of a wanted split they count as not keeping it.",
                        study.failed));
    return out;
}

}  // namespace swashwright::studies
