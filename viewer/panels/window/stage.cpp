#include "viewer/panels/window/stage.h"

#include <epoxy/gl.h>

#include <utility>

#include "viewer/draw/base/palette.h"
#include "viewer/draw/base/proportions.h"
#include "viewer/draw/lines/pick.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

void clear(bool night) {
    const glm::vec3 paper = draw::sheet(night).paper;
    glClearColor(paper.r, paper.g, paper.b, 1);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
}

draw::Style style_of(const State& state) {
    return picture_style(state.screen, state.bench, state.view, state.selection, state.sights);
}

}  // namespace

void Stage::draw(State& state, int width, int height, float scale) {
    if (target_.resize(width, height)) drawn_.reset();
    take_click(state, scale);
    const bool drawn_anew = draw_anew(state);
    find_in_sight(state, drawn_anew);
    find_pointed_at(state, drawn_anew, scale);
}

bool Stage::draw_anew(State& state) {
    const auto& shown = state.bench.live().shown;
    if (!shown) {
        target_.begin();
        clear(state.screen.settings.night);
        target_.end();
        drawn_.reset();
        return true;
    }
    Input now{shown->revision, shown->sticks, shown->azimuth_deg, shown->hands, state.view.camera, style_of(state)};
    if (drawn_ == now) {
        sharpen(state);
        return false;
    }
    if (meshes_of_ != shown->revision) drawing_.set_head(shown->description);
    meshes_of_ = shown->revision;
    drawn_ = std::move(now);
    at_rest_ = 0;
    render(state, fine_ = false);
    if (!moving(state)) state.screen.settle = true;
    return true;
}

void Stage::sharpen(State& state) {
    constexpr int rest = 2;  // a hand that drags stops for a frame now and then
    if (fine_ || moving(state) || ImGui::IsAnyMouseDown()) return;
    state.screen.settle = true;  // no event need come for the frames until then
    if (++at_rest_ >= rest) render(state, fine_ = true);
}

void Stage::render(const State& state, bool fine) {
    const Shown& shown = *state.bench.live().shown;
    target_.begin(fine);
    clear(drawn_->style.night);
    drawing_.render(shown.description, shown.pose, drawn_->camera, drawn_->style, whole(), target_.height());
    target_.end();
}

void Stage::take_click(State& state, float scale) const {
    state.sights.pixels = scale;
    if (!state.sights.click) return;
    const Click click = *std::exchange(state.sights.click, std::nullopt);
    const double x = static_cast<double>(scale * click.at.x), y = static_cast<double>(scale * click.at.y);
    const auto& shown = state.bench.live().shown;
    if (!shown) return;
    Selection& selection = state.selection;
    if (selection.pick && !selection.pick->ball) {
        constexpr double reach = 18;  // pixels at scale 1: half of what a finger's width would be
        selection.pick->ball = draw::ball_near(shown->description, shown->pose, state.view.camera, whole(), x, y,
                                               reach * static_cast<double>(scale * state.screen.scale()));
        state.screen.settle = true;  // the form is drawn before the picture
        return;
    }
    const draw::Style style = style_of(state);
    const auto hit = drawing_.hit(shown->description, shown->pose, state.view.camera, style, whole(), x, y);
    const auto place = place_at(*shown, state.view.camera, style, whole(), x, y,
                                static_cast<double>(scale * state.screen.scale()), hit);
    if (state.sights.distance.open && click.what == Click::For::choose) {
        if (place) take_place(state.view, state.sights, *place);
        state.screen.settle = true;
        return;
    }
    selection.selected = hit ? std::optional(hit->part) : std::nullopt;
    selection.show_selected = selection.selected.has_value();
    if (click.what == Click::For::frame) state.view.fit = hit ? Fit::chosen : Fit::moving;
    if (click.what == Click::For::menu) state.sights.menu = {selection.selected, place, true};
    state.screen.settle = true;
}

void Stage::find_in_sight(State& state, bool drawn_anew) {
    const auto& shown = state.bench.live().shown;
    if (!shown || (!drawn_anew && names_ == state.view.names)) return;
    names_ = state.view.names;
    draw::InSight& in_sight = state.sights.in_sight;
    in_sight = drawing_.in_sight(shown->description, shown->pose, state.view.camera, style_of(state), whole(),
                                 ImGui::GetTextLineHeight(), names_, in_sight);
}

void Stage::find_pointed_at(State& state, bool drawn_anew, float scale) {
    const auto& shown = state.bench.live().shown;
    Pointing& pointing = state.sights.pointing;
    if (!shown || !pointing.at) {
        pointer_.reset();
        return;
    }
    const bool moved = !pointer_ || pointer_->x != pointing.at->x || pointer_->y != pointing.at->y;
    if (!drawn_anew && !moved) return;
    pointer_ = pointing.at;
    const double x = scale * pointing.at->x, y = scale * pointing.at->y;
    const draw::Camera& camera = state.view.camera;
    const auto hit = drawing_.hit(shown->description, shown->pose, camera, style_of(state), whole(), x, y);
    const auto part = hit ? std::optional(hit->part) : std::nullopt;
    pointing.place.reset();
    if (hit) {
        const draw::Frames frames(shown->description, shown->pose, state.view.exaggeration);
        if (const Placement* placement = frames.find(hit->frame)) pointing.place = *placement * hit->at;
    }
    if (part != pointing.part) pointing.since = state.screen.clock;
    if (part && part != pointing.part) state.screen.frame_wanted = true;  // when it has rested
    pointing.part = part;
    pointing.ball = part ? draw::ball_under(*part, shown->pose, draw::proportions_of(shown->description).ball, camera,
                                            whole(), x, y)
                         : std::nullopt;
}

}  // namespace swashwright::panels
