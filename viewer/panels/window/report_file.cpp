#include "viewer/panels/window/report.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "viewer/document/atomic_file.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

nlohmann::json values(const State& state) {
    const Readout& live = state.live();
    nlohmann::json out{{"collective", state.controls.sticks.collective},
                       {"aileron", state.controls.sticks.aileron},
                       {"elevator", state.controls.sticks.elevator},
                       {"azimuth_deg", state.controls.azimuth_deg},
                       {"turning", state.controls.turning},
                       {"exaggeration", state.view.exaggeration},
                       {"night", state.settings.night},
                       {"text_scale", state.settings.text_scale},
                       {"scale", state.scale()},
                       {"inches", state.settings.inches},
                       {"blades", state.document.head().rotor.blades},
                       {"unsaved", state.document.unsaved()},
                       {"path", state.document.path()},
                       {"closes", live.closes},
                       {"dialog", static_cast<int>(state.dialog)},
                       {"dialog_error", state.dialog_error}};
    std::vector<std::string> named;
    if (state.view.names)
        for (const draw::Spot& spot : state.in_sight.spots) named.push_back(draw::name_of(spot.part));
    out["named"] = named;
    out["note"] = state.pointing.note;
    out["camera"] = {{"azimuth_deg", state.view.camera.azimuth_deg},
                     {"height_deg", state.view.camera.height_deg},
                     {"distance_mm", state.view.camera.distance_mm}};
    if (state.selected) out["selected"] = draw::name_of(*state.selected);
    if (state.form.refused_at == state.document.revision()) out["refused"] = state.form.why;
    if (state.typing.not_taken.id != 0) out["refused"] = state.typing.not_taken.words;
    out["last_edit"] = state.document.undo_label();
    for (const Question& question : state.questions)
        if (question.open && question.inquiry.outcome() && !question.inquiry.running()) {
            const Outcome& outcome = *question.inquiry.outcome();
            out["answers"][question.key] = outcome ? outcome->answer.text : outcome.error();
        }
    const Lessons& lessons = state.lessons;
    out["lessons_done"] = state.settings.lessons_done;
    out["users_path"] = users_document(state).path();
    out["users_unsaved"] = users_document(state).unsaved();
    if (lessons.on_bench && lessons.open)
        out["lesson"] = {{"title", lessons.files[*lessons.open].lesson->title},
                         {"step", lessons.step + 1},
                         {"steps", lessons.files[*lessons.open].lesson->steps.size()},
                         {"solved", step_solved(state)}};
    if (state.sheet == Sheet::measure) {
        const MeasureSheet& sheet = state.measure;
        out["measure"] = {{"page", sheet.page}, {"taken", sheet.file.measured.taken.size()}, {"said", sheet.said}};
    }
    out["readings"] = {{"gauge", state.readings.size()}, {"calliper", state.measure.file.measured.taken.size()}};
    if (state.sheet == Sheet::compare) out["compared"] = state.compare.answer.text;
    if (live.curve) out["split_deg"] = live.curve->split_deg();
    if (live.shown) {
        out["pitch_deg"] = live.shown->pose.pitch_deg;
        out["height_mm"] = live.shown->pose.height_mm;
        out["residual_mm"] = live.shown->pose.residual_mm;
    }
    return out;
}

}  // namespace

void Report::item(std::string_view name) {
    if (!wanted() || !ImGui::IsItemVisible()) return;
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    const ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 clip_low = list.GetClipRectMin(), clip_high = list.GetClipRectMax();
    rectangle(name, {std::max(low.x, clip_low.x), std::max(low.y, clip_low.y)},
              {std::min(high.x, clip_high.x), std::min(high.y, clip_high.y)});
}

void Report::rectangle(std::string_view name, ImVec2 top_left, ImVec2 bottom_right) {
    if (!wanted()) return;
    widgets_.insert_or_assign(std::string(name), ImVec4(top_left.x, top_left.y, bottom_right.x, bottom_right.y));
}

void Report::write(const State& state, long frame) const {
    if (!wanted()) return;
    nlohmann::json out{{"frame", frame}, {"sentence", state.live().sentence.text}, {"values", values(state)}};
    for (const auto& [name, box] : widgets_) out["widgets"][name] = {box.x, box.y, box.z, box.w};
    // A test finds a whole report or the one before; it need not outlive a power cut.
    (void)document::write_atomically(path_, out.dump(), document::Durable::no);
}

}  // namespace swashwright::panels
