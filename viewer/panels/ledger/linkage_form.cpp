#include "viewer/panels/ledger/linkage_form.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/change_parts.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/ledger/linkage_fields.h"

namespace swashwright::panels {

namespace {

using draw::Part;
using head::BallName;
using head::Role;

/// The next of a row of buttons: beside the last, or below it.
bool next_button(Screen& screen, const std::string& id, const std::string& word, const char* words, bool first) {
    if (!first) same_line_if_it_fits(word.c_str(), ImGui::GetStyle().ItemSpacing.x);
    return word_button(screen, id.c_str(), word.c_str(), words);
}

/// How far two balls stand apart as they are drawn, mm; none where one is not drawn yet.
std::optional<double> apart_mm(const Bench& bench, const std::array<BallName, 2>& ends) {
    const auto& shown = bench.live().shown;
    if (!shown) return std::nullopt;
    const Vec3 *a = head::ball_place(shown->pose.skeleton, ends[0]),
               *b = head::ball_place(shown->pose.skeleton, ends[1]);
    if (a == nullptr || b == nullptr) return std::nullopt;
    return std::max(0.01, std::round((*a - *b).norm() * 100) / 100);
}

/// What is said of the change that was made or refused last, if it was one of these.
void draw_said(Screen& screen, const Bench& bench, const std::string& stem) {
    draw_refusal(screen, bench, stem + ", ");
    if (screen.entry.assumed.empty() || screen.entry.assumed.starts_with("Blade") ||
        screen.entry.assumed.starts_with("Driver"))
        return;
    paragraph(screen.inks().soft, lengths_read(screen.entry.assumed, screen.settings.inches));
}

struct Asked {
    Screen& screen;
    Bench& bench;
    View& view;

    /// `name` is the change's label, and where a refusal is said.
    bool change(const std::string& name, const head::Change& change) const {
        return change_count(screen, bench, view, name, change, /*builds=*/true);
    }
};

/// One more ball, or one less, of a lever, slider or ring. `like`: one of its balls, there or not.
void draw_balls(const Asked& asked, const std::string& stem, const BallName& like, std::size_t count) {
    const head::Description& d = asked.bench.head();
    const bool of_lever = like.of == BallName::Of::lever, of_slider = like.of == BallName::Of::slider;
    if (next_button(asked.screen, stem + ", add a ball", "Add a ball", "Its place is typed in the rows above", true)) {
        asked.change(stem + ", a ball more", of_lever    ? head::with_lever_ball_added(d, like.index)
                                             : of_slider ? head::with_slider_ball_added(d, like.index)
                                                         : head::with_ring_ball_added(d, like.of));
        return;
    }
    for (std::size_t b = 0; b < count; ++b) {
        BallName ball = like;
        (of_lever || of_slider ? ball.ball : ball.index) = static_cast<int>(b);
        if (!next_button(asked.screen, fmt::format("{}, take ball {} away", stem, b + 1),
                         fmt::format("Take ball {} away", b + 1), "Once nothing goes to it any more", false))
            continue;
        asked.change(stem + ", a ball less", head::with_ball_removed(d, ball));
        return;
    }
}

void draw_balls_of(const Asked& asked, const std::string& stem, const Part& part) {
    const head::Description& d = asked.bench.head();
    const auto i = static_cast<std::size_t>(part.index);
    using enum BallName::Of;
    if (part.role == Role::lever) return draw_balls(asked, stem, {lever, part.index}, d.levers[i].balls_mm.size());
    if (part.role == Role::slider) return draw_balls(asked, stem, {slider, part.index}, d.sliders[i].balls_mm.size());
    if (part.role == Role::inner_ring) return draw_balls(asked, stem, {inner_ball}, d.swashplate.inner_balls.size());
    draw_balls(asked, stem, {outer_ball}, d.swashplate.outer_balls.size());
}

/// The link is made as long as its balls stand apart, or goes away.
void draw_link(const Asked& asked, const std::string& stem, const Part& part) {
    const head::Description& d = asked.bench.head();
    bool first = true;
    if (const auto apart = apart_mm(asked.bench, head::ends_of(d, part).value_or(std::array<BallName, 2>{}))) {
        const std::string words = "As it stands, " + length_text(*apart, asked.screen.settings.inches);
        first = false;
        if (next_button(asked.screen, stem + ", as it stands", words,
                        "Makes the link as long as its two balls are apart in the picture", true)) {
            scene::Scene next = asked.bench.document().scene();
            head::Link& made = *head::link_of(next.head, part);
            made.length_mm = *apart - made.error_mm;
            try_build(asked.screen, asked.bench, std::move(next), stem + ", as it stands");
            return;
        }
    }
    if (next_button(asked.screen, stem + ", take away", "Take the link away", nullptr, first))
        asked.change(stem + ", a link less", head::with_link_removed(d, part));
}

/// Fields of something that no part in the picture stands for, and the button that takes it away.
void draw_listed(const Asked& asked, Selection& selection, const Part& part, const std::string& stem,
                 const std::vector<Field>& fields, const head::Change& without) {
    ImGui::PushID(stem.c_str());
    ImGui::AlignTextToFramePadding();
    ImGui::TextDisabled("%s", stem.c_str());
    for (const Field& field : fields)
        draw_field(asked.screen, asked.bench, selection, {part, fmt::format("{}, {}", stem, field.key)}, field);
    if (word_button(asked.screen, (stem + ", take away").c_str(), "Take it away", nullptr))
        asked.change(stem + ", less", without);
    draw_refusal(asked.screen, asked.bench, stem + ", less");
    ImGui::PopID();
}

void draw_fixed_balls_and_pins(const Asked& asked, Selection& selection) {
    const head::Description before = asked.bench.head();  // an edit puts another in its place
    for (std::size_t i = 0; i < before.fixed_balls.size(); ++i) {
        const BallName ball{BallName::Of::fixed_ball, static_cast<int>(i)};
        draw_listed(asked, selection, head::part_of(before.fixed_balls[i].on), fmt::format("fixed ball {}", i + 1),
                    fixed_ball_fields(before, i), head::with_ball_removed(before, ball));
        if (asked.bench.head().fixed_balls.size() != before.fixed_balls.size()) return;
    }
    for (std::size_t i = 0; i < before.pins.size(); ++i) {
        draw_listed(asked, selection, head::part_of(before, before.pins[i].ends[0]).value_or(Part{}),
                    fmt::format("pin {}", i + 1), pin_fields(i), head::with_pin_removed(before, static_cast<int>(i)));
        if (asked.bench.head().pins.size() != before.pins.size()) return;
    }
}

}  // namespace

void draw_part_changes(Screen& screen, Bench& bench, View& view, Selection& selection, const Part& part) {
    if (!has_part(bench.head(), part)) return;
    const Asked asked{screen, bench, view};
    const std::string stem = stem_of(bench.head(), part);
    switch (part.role) {
        case Role::lower_link:
        case Role::upper_link:
        case Role::other_link:
            draw_link(asked, stem, part);
            break;
        case Role::lever:
        case Role::slider: {
            draw_balls_of(asked, stem, part);
            if (!has_part(bench.head(), part)) return;
            const bool lever = part.role == Role::lever;
            if (next_button(screen, stem + ", take away", lever ? "Take the lever away" : "Take the slider away",
                            "Once nothing stands on it or goes to it any more", false) &&
                asked.change(stem + (lever ? ", a lever less" : ", a slider less"),
                             lever ? head::with_lever_removed(bench.head(), part.index)
                                   : head::with_slider_removed(bench.head(), part.index)))
                selection.selected.reset();
            break;
        }
        case Role::inner_ring:
        case Role::outer_ring:
            draw_balls_of(asked, stem, part);
            break;
        default:
            return;
    }
    draw_said(screen, bench, stem);
}

std::optional<Part> draw_new_parts(Screen& screen, Bench& bench, View& view, Selection& selection) {
    const Asked asked{screen, bench, view};
    const head::Description& d = bench.head();
    const int levers = static_cast<int>(d.levers.size()), sliders = static_cast<int>(d.sliders.size());
    const int links = static_cast<int>(d.links.size());
    const auto ends = head::likely_ends(d);
    std::optional<Part> added;
    if (next_button(screen, "add a lever", "Add a lever", "Bellcrank, mixing lever, wash-out arm, bar, spindle",
                    true) &&
        asked.change("new parts, a lever", head::with_lever_added(d)))
        added = Part{Role::lever, levers};
    else if (next_button(screen, "add a slider", "Add a slider", "Whatever slides along a line", false) &&
             asked.change("new parts, a slider", head::with_slider_added(d)))
        added = Part{Role::slider, sliders};
    else if (next_button(screen, "add a link", "Add a link", "Between two balls, as long as they stand apart", false) &&
             ends &&
             asked.change("new parts, a link", head::with_link_added(d, *ends, apart_mm(bench, *ends).value_or(20))))
        added = Part{Role::other_link, links};
    else if (next_button(screen, "add a fixed ball", "Add a fixed ball", "A ball fixed on a part", false))
        asked.change("new parts, a fixed ball", head::with_fixed_ball_added(d));
    else if (next_button(screen, "add a pin", "Add a pin", "Two balls become one point: a joint without a link",
                         false) &&
             ends)
        asked.change("new parts, a pin", head::with_pin_added(d, *ends));
    draw_said(screen, bench, "new parts");
    paragraph(
        screen.inks().soft,
        "A new lever or slider hangs free, and nothing can be posed, until links or pins hold it. Each step is one "
        "of undo; the head can be saved meanwhile.");
    if (!added) draw_fixed_balls_and_pins(asked, selection);
    return added;
}

void draw_hanging(Screen& screen, const Bench& bench) {
    if (!bench.live().hangs) return;
    const float room = trouble_mark(screen);
    ImGui::Indent(room);
    paragraph(
        screen.inks().ink,
        "Being put together: nothing can be posed until every part is held, and no more than held. Parts are drawn "
        "where they stand, links from ball to ball however long they are. Go on, or take it back.");
    screen.report.item("hangs");
    ImGui::Unindent(room);
}

}  // namespace swashwright::panels
