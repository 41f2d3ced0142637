#include "viewer/panels/window/report_file.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "viewer/document/atomic_file.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/picture/distances.h"
#include "viewer/panels/window/state.h"

namespace swashwright::panels {

namespace {

nlohmann::json settings_of(const State& state) {
    const Screen& screen = state.screen;
    return {{"night", screen.settings.night},
            {"text_scale", screen.settings.text_scale},
            {"scale", screen.scale()},
            {"inches", screen.settings.inches},
            {"lessons_done", screen.settings.lessons_done},
            {"dialog", static_cast<int>(state.dialogs.open)},
            {"dialog_error", state.dialogs.error},
            {"framed", screen.report.framed()}};
}

nlohmann::json bench_of(const Bench& bench) {
    const Readout& live = bench.live();
    nlohmann::json out{{"collective", bench.controls.sticks.collective},
                       {"aileron", bench.controls.sticks.aileron},
                       {"elevator", bench.controls.sticks.elevator},
                       {"rudder", bench.controls.sticks.rudder},
                       {"hangs", live.hangs},
                       {"azimuth_deg", bench.controls.azimuth_deg},
                       {"turning", bench.controls.turning},
                       {"blades", bench.head().rotor.blades},
                       {"unsaved", bench.document().unsaved()},
                       {"path", bench.document().path()},
                       {"last_edit", bench.document().undo_label()},
                       {"closes", live.closes}};
    out["hands"] = nlohmann::json::object();
    for (const auto& [lever, angle_deg] : bench.controls.hands)
        out["hands"][fmt::format("lever[{}]", lever + 1)] = angle_deg;
    if (live.curve) out["split_deg"] = live.curve->split_deg();
    if (live.shown) {
        out["pitch_deg"] = live.shown->pose.pitch_deg;
        out["height_mm"] = live.shown->pose.height_mm;
        out["residual_mm"] = live.shown->pose.residual_mm;
    }
    return out;
}

nlohmann::json picture_of(const State& state) {
    const draw::Camera& camera = state.view.camera;
    nlohmann::json out{{"exaggeration", state.view.exaggeration},
                       {"note", state.sights.pointing.note},
                       {"camera",
                        {{"azimuth_deg", camera.azimuth_deg},
                         {"height_deg", camera.height_deg},
                         {"distance_mm", camera.distance_mm},
                         {"target_mm", {camera.target.x(), camera.target.y(), camera.target.z()}}}}};
    out["hidden"] = nlohmann::json::array();
    for (const draw::Part& part : state.view.hidden) out["hidden"].push_back(draw::name_of(part));
    out["distances"] = nlohmann::json::array();
    for (const draw::DistanceMark& mark : distance_marks(state.screen, state.bench, state.view))
        out["distances"].push_back(mark.value + ", " + mark.how);
    out["drag"] = state.sights.drag ? state.sights.drag->words + " " + state.sights.drag->trouble : std::string();
    std::vector<std::string> named;
    if (state.view.names)
        for (const draw::Spot& spot : state.sights.in_sight.spots) named.push_back(draw::name_of(spot.part));
    out["named"] = named;
    if (state.selection.selected) out["selected"] = draw::name_of(*state.selection.selected);
    return out;
}

nlohmann::json lessons_of(const State& state) {
    const Lessons& lessons = state.lessons;
    const document::Document& own = users_document(state.bench, lessons);
    nlohmann::json out{{"users_path", own.path()}, {"users_unsaved", own.unsaved()}};
    if (lessons.on_bench && lessons.open)
        out["lesson"] = {{"title", lessons.files[*lessons.open].lesson->title},
                         {"step", lessons.step + 1},
                         {"steps", lessons.files[*lessons.open].lesson->steps.size()},
                         {"solved", step_solved(lessons)}};
    if (state.sheet == Sheet::lessons && lessons.track_page && lessons.track.seen && *lessons.track.seen)
        out["track"] = {{"steps", (*lessons.track.seen)->steps},
                        {"best", (*lessons.track.seen)->best},
                        {"tip_mm", (*lessons.track.seen)->tip_mm},
                        {"split_mm", (*lessons.track.seen)->split_mm},
                        {"said", studies::answer(**lessons.track.seen).text}};
    const Practice& practice = lessons.practice;
    if (lessons.on_bench && practice.on()) {
        out["practice"] = {{"number", practice.round.number},
                           {"readings", practice.readings.size()},
                           {"chosen", practice.chosen},
                           {"said", practice.said}};
        if (practice.told && !practice.verdict.running() && practice.verdict.outcome() && *practice.verdict.outcome())
            out["practice"]["verdict"] = (*practice.verdict.outcome())->answer.text;
    }
    return out;
}

/// Answers that are whole, and how it stands with every open question.
nlohmann::json questions_of(const State& state) {
    nlohmann::json out = nlohmann::json::object();
    for (const Question& question : state.questions) {
        if (!question.open) continue;
        const Inquiry& inquiry = question.inquiry;
        out["asked"][question.key] = {{"answered", inquiry.answered()},
                                      {"whole", inquiry.whole()},
                                      {"fresh", inquiry.fresh()},
                                      {"running", inquiry.running()},
                                      {"percent", inquiry.percent()},
                                      {"stopped", question.stopped},
                                      {"stale", stale(question, state.screen.clock)}};
        if (!inquiry.outcome()) continue;
        const Outcome& outcome = *inquiry.outcome();
        const std::string& said = outcome ? outcome->answer.text : outcome.error();
        out["asked"][question.key]["says"] = said;
        if (inquiry.whole()) out["answers"][question.key] = said;
    }
    return out;
}

nlohmann::json values(const State& state) {
    nlohmann::json out = settings_of(state);
    for (const auto& part : {bench_of(state.bench), picture_of(state), lessons_of(state)}) out.update(part);
    const EntryNote& entry = state.screen.entry;
    if (entry.refused_at == state.bench.document().revision()) out["refused"] = entry.why;
    if (state.screen.typing.not_taken.id != 0) out["refused"] = state.screen.typing.not_taken.words;
    out.update(questions_of(state));
    const MeasureSheet& measure = state.measure;
    if (state.sheet == Sheet::measure)
        out["measure"] = {
            {"page", measure.page}, {"taken", measure.file.measured.taken.size()}, {"said", measure.said}};
    out["readings"] = {{"gauge", state.gauge.readings.size()},
                       {"calliper", measure.file.measured.taken.size()},
                       {"places", state.places.file.readings.list.size()}};
    if (state.sheet == Sheet::compare) out["compared"] = state.compare.answer.text;
    return out;
}

}  // namespace

void write_report(const State& state, long frame) {
    const Report& report = state.screen.report;
    if (!report.wanted()) return;
    nlohmann::json out{{"frame", frame}, {"sentence", state.bench.live().sentence.text}, {"values", values(state)}};
    for (const auto& [name, box] : report.widgets()) out["widgets"][name] = {box.x, box.y, box.z, box.w};
    // A test finds a whole report or the one before; it need not outlive a power cut.
    (void)document::write_atomically(report.path(), out.dump(), document::Durable::no);
}

}  // namespace swashwright::panels
