#include "viewer/panels/window/stage.h"

#include <epoxy/gl.h>

#include <utility>

#include "viewer/draw/base/palette.h"
#include "viewer/draw/base/proportions.h"
#include "viewer/draw/lines/pick.h"
#include "viewer/panels/picture/picture_view.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

void note(std::vector<double>& key, const draw::Part& part) {
    key.push_back(static_cast<double>(part.role));
    key.push_back(part.index);
}

void note_picture(std::vector<double>& key, const State& state, const draw::Style& style) {
    key.clear();
    const Shown& shown = *state.live().shown;
    const draw::Camera& camera = state.view.camera;
    for (const double value :
         {static_cast<double>(state.scenes_opened), static_cast<double>(shown.revision),
          state.controls.sticks.collective, state.controls.sticks.aileron, state.controls.sticks.elevator,
          state.controls.azimuth_deg, camera.target.x(), camera.target.y(), camera.target.z(), camera.distance_mm,
          camera.azimuth_deg, camera.height_deg, camera.view_deg, static_cast<double>(style.night), style.exaggeration,
          static_cast<double>(style.whole_blades), static_cast<double>(state.extras.stamp()),
          static_cast<double>(state.view.cut), static_cast<double>(style.ambient_occlusion)})
        key.push_back(value);
    if (style.touched) note(key, *style.touched);
    if (style.touched_too) note(key, *style.touched_too);
    key.push_back(-1);
    for (const draw::Part& part : style.lit) note(key, part);
    key.push_back(-1);
    for (const draw::Part& part : style.trouble) note(key, part);
}

void clear(bool night) {
    const glm::vec3 paper = draw::sheet(night).paper;
    glClearColor(paper.r, paper.g, paper.b, 1);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
}

}  // namespace

void Stage::draw(State& state, int width, int height) {
    look(state, draw_anew(state, width, height));
}

bool Stage::draw_anew(const State& state, int width, int height) {
    stale_ = target_.resize(width, height) || stale_;
    const auto& shown = state.live().shown;
    if (!shown) {
        target_.begin();
        clear(state.settings.night);
        target_.end();
        stale_ = true;
        return true;
    }
    const draw::Style style = picture_style(state);
    note_picture(next_key_, state, style);
    if (!stale_ && next_key_ == key_) return false;
    std::swap(key_, next_key_);
    stale_ = false;

    const std::vector<double> head_key(key_.begin(), key_.begin() + 2);
    if (head_key != head_key_) drawing_.set_head(shown->description);
    head_key_ = head_key;
    target_.begin();
    clear(style.night);
    drawing_.render(shown->description, shown->pose, state.view.camera, style,
                    {0, 0, target_.width(), target_.height()}, target_.height());
    target_.end();
    return true;
}

void Stage::look(State& state, bool drawn_anew) {
    const auto& shown = state.live().shown;
    const draw::Viewport viewport{0, 0, target_.width(), target_.height()};
    const auto same = [](const ImVec2& a, const ImVec2& b) { return a.x == b.x && a.y == b.y; };
    Pointing& pointing = state.pointing;
    if (shown && (drawn_anew || names_ != state.view.names)) {
        names_ = state.view.names;
        const auto covered = state.in_sight.words_covered;
        state.in_sight = drawing_.in_sight(shown->description, shown->pose, state.view.camera, picture_style(state),
                                           viewport, ImGui::GetTextLineHeight(), names_, state.in_sight);
        // Words were written before this was known: one more frame, also where nothing moves any longer.
        if (names_ || covered != state.in_sight.words_covered) state.tip_pending = true;
    }
    if (!shown || !pointing.at) {
        pointer_.reset();
        return;
    }
    if (!drawn_anew && pointer_ && same(*pointer_, *pointing.at)) return;
    pointer_ = pointing.at;
    const ImVec2 pixels = ImGui::GetIO().DisplayFramebufferScale;
    const double x = pixels.x * pointing.at->x, y = pixels.y * pointing.at->y;
    const auto part =
        drawing_.pick(shown->description, shown->pose, state.view.camera, picture_style(state), viewport, x, y);
    if (part != pointing.part) pointing.since = state.clock;
    if (part && part != pointing.part) state.tip_pending = true;
    pointing.part = part;
    pointing.ball = part ? draw::ball_under(*part, shown->pose, draw::proportions_of(shown->description).ball,
                                            state.view.camera, viewport, x, y)
                         : std::nullopt;
}

void Stage::take_click(State& state, float scale) const {
    if (!state.click) return;
    const ImVec2 click = *std::exchange(state.click, std::nullopt);
    const auto& shown = state.live().shown;
    if (!shown) return;
    state.selected = drawing_.pick(shown->description, shown->pose, state.view.camera, picture_style(state),
                                   {0, 0, target_.width(), target_.height()}, static_cast<double>(scale * click.x),
                                   static_cast<double>(scale * click.y));
    state.show_selected = state.selected.has_value();
}

}  // namespace swashwright::panels
