#include "viewer/browser/packing.h"

#include <algorithm>
#include <cereal/archives/binary.hpp>
#include <cereal/types/array.hpp>
#include <cereal/types/optional.hpp>
#include <cereal/types/string.hpp>
#include <cereal/types/utility.hpp>
#include <cereal/types/variant.hpp>
#include <cereal/types/vector.hpp>
#include <memory>
#include <sstream>
#include <utility>
#include <vector>

// The library finds these beside the types that they are of.
namespace swashwright::head {

template <class Archive>
void serialize(Archive& archive, Sticks& s) {
    archive(s.collective, s.aileron, s.elevator, s.rudder);
}
template <class Archive>
void serialize(Archive& archive, Mixing& m) {
    archive(m.collective_deg, m.cyclic_deg, m.phase_deg, m.cyclic_stick, m.combined_limit, m.rudder_deg);
}

}  // namespace swashwright::head

namespace swashwright::studies {

template <class Archive>
void serialize(Archive& archive, PitchReading& r) {
    archive(r.blade, r.sticks, r.azimuth_deg, r.reading_deg, r.uncertainty_deg);
}
template <class Archive>
void serialize(Archive& archive, RingHeightReading& r) {
    archive(r.ball, r.azimuth_deg, r.radius_mm, r.sticks, r.reading_mm, r.uncertainty_mm);
}
template <class Archive>
void serialize(Archive& archive, Gauge& g) {
    archive(g.zeroed_on, g.zero_within_deg, g.lean_within_deg);
}
template <class Archive>
void serialize(Archive& archive, Readings& r) {
    auto before = r.before ? std::make_optional(*r.before) : std::nullopt;
    archive(r.pitch, r.ring_height, r.gauge, before);
    r.before = before ? std::make_shared<const Readings>(std::move(*before)) : nullptr;
}
template <class Archive>
void serialize(Archive& archive, Column& c) {
    archive(c.key, c.head, c.unit, c.decimals, c.sign);
}
template <class Archive>
void serialize(Archive& archive, Table& t) {
    archive(t.key, t.title, t.columns, t.rows, t.parts);
}
template <class Archive>
void serialize(Archive& archive, Answer& a) {
    archive(a.study, a.text, a.tone, a.tables, a.notes);
}
template <class Archive>
void serialize(Archive& archive, Check& c) {
    archive(c.kind, c.key, c.words, c.label, c.unit, c.parts, c.low, c.high, c.close);
}
template <class Archive>
void serialize(Archive& archive, Hand& h) {
    archive(h.path, h.words, h.least_deg, h.neutral_deg, h.most_deg);
}
template <class Archive>
void serialize(Archive& archive, Place& p) {
    archive(p.sticks, p.azimuth_deg, p.hand_deg);
}
template <class Archive>
void serialize(Archive& archive, Extreme& e) {
    archive(e.value, e.margin, e.place);
}
template <class Archive>
void serialize(Archive& archive, Disc& d) {
    archive(d.cyclic, d.check, d.opens);
}
template <class Archive>
void serialize(Archive& archive, Envelope& e) {
    archive(e.checks, e.worst, e.collective, e.cyclic, e.cells, e.kind, e.mixing, e.hands, e.open, e.discs, e.opens,
            e.opens_message, e.poses);
}

template <class Archive>
void serialize(Archive& archive, Tachometer& t) {
    archive(t.before_rpm, t.climbing_rpm, t.pitch_deg);
}
template <class Archive>
void serialize(Archive& archive, PowerOptions& o) {
    archive(o.sticks, o.head_speed_rpm, o.mass_kg, o.engine_w, o.efficiency, o.temperature_c, o.height_m, o.tachometer);
}
template <class Archive>
void serialize(Archive& archive, BladeSection& s) {
    archive(s.lift_slope, s.drag, s.drag_rise, s.most_lift, s.stalled_rise);
}
template <class Archive>
void serialize(Archive& archive, RotorDisc& d) {
    archive(d.blades, d.tip_m, d.root_m, d.chord_m, d.section);
}
template <class Archive>
void serialize(Archive& archive, Craft& c) {
    archive(c.disc, c.mass_kg, c.density, c.kelvin, c.speed, c.engine_w, c.efficiency, c.body_m2, c.chord_guessed,
            c.root_guessed, c.slope_guessed, c.drag_guessed, c.mass_guessed, c.efficiency_guessed, c.air_guessed);
}
template <class Archive>
void serialize(Archive& archive, PowerFigures& f) {
    archive(f.hover_deg, f.hover_w, f.used_deg, f.climb_m_s, f.first_deg, f.engine_w);
}
template <class Archive>
void serialize(Archive& archive, Climb& c) {
    archive(c.m_s, c.power_w);
}
template <class Archive>
void serialize(Archive& archive, PitchRow& r) {
    archive(r.words, r.pitch_deg, r.doubt_deg, r.thrust_percent, r.standing_w, r.climb, r.loading, r.stalled_percent,
            r.more_loading, r.more_standing_w, r.more_climb_w);
}
template <class Archive>
void serialize(Archive& archive, SpeedRow& r) {
    archive(r.rpm, r.figures, r.loading);
}
template <class Archive>
void serialize(Archive& archive, TravelRow& r) {
    archive(r.pitch_deg, r.collective_deg, r.within_travel);
}
template <class Archive>
void serialize(Archive& archive, SimpleHover& h) {
    archive(h.pitch, h.inflow, h.power_w);
}
template <class Archive>
void serialize(Archive& archive, Power& p) {
    archive(p.options, p.craft, p.figures, p.doubts, p.now_deg, p.full_deg, p.stall_deg, p.start_deg, p.simple,
            p.places, p.curve, p.speeds, p.travels, p.horn_deg);
}

}  // namespace swashwright::studies

namespace swashwright::sheet {

template <class Archive>
void serialize(Archive& archive, Label& l) {
    archive(l.words, l.x, l.y);
}

}  // namespace swashwright::sheet

namespace swashwright::browser {

namespace {

using panels::Asked;
using panels::Outcome;
using panels::Reply;

template <class... Parts>
std::string written(const Parts&... parts) {
    std::ostringstream out;
    cereal::BinaryOutputArchive archive(out);
    archive(parts...);
    return out.str();
}

class Reader {
public:
    explicit Reader(std::string_view bytes) : in_(std::string(bytes)), archive_(in_) {}
    template <class... Parts>
    void operator()(Parts&... parts) {
        archive_(parts...);
    }
    template <class T>
    T one() {
        T out{};
        archive_(out);
        return out;
    }

private:
    std::istringstream in_;
    cereal::BinaryInputArchive archive_;
};

/// Corner by corner, face by face; empty of a solid that is no mesh.
std::pair<std::vector<double>, std::vector<int>> numbers_of(const head::Solid& solid) {
    std::pair<std::vector<double>, std::vector<int>> out;
    if (!solid.mesh) return out;
    for (const Vec3& p : solid.mesh->points) out.first.insert(out.first.end(), p.data(), p.data() + 3);
    for (const auto& f : solid.mesh->faces) out.second.insert(out.second.end(), f.begin(), f.end());
    return out;
}

void take_numbers(head::Solid& solid, const std::pair<std::vector<double>, std::vector<int>>& numbers) {
    const auto& [points, faces] = numbers;
    if (faces.empty()) return;
    auto mesh = std::make_shared<head::Triangles>();
    for (std::size_t i = 0; i + 2 < points.size(); i += 3)
        mesh->points.emplace_back(points[i], points[i + 1], points[i + 2]);
    for (std::size_t i = 0; i + 2 < faces.size(); i += 3) mesh->faces.push_back({faces[i], faces[i + 1], faces[i + 2]});
    solid.mesh = std::move(mesh);
}

/// A scene with the meshes that it names.
std::string packed(const scene::Scene& scene) {
    std::vector<std::pair<std::vector<double>, std::vector<int>>> meshes;
    for (const head::Solid& solid : scene.head.solids) meshes.push_back(numbers_of(solid));
    return written(scene::write(scene), meshes);
}

tl::expected<scene::Scene, std::string> unpacked_scene(std::string_view bytes) {
    std::string text;
    std::vector<std::pair<std::vector<double>, std::vector<int>>> meshes;
    Reader read(bytes);
    read(text, meshes);
    auto scene = scene::parse(text, "the head");
    if (!scene) return tl::unexpected(scene.error().text());
    for (std::size_t i = 0; i < std::min(meshes.size(), scene->head.solids.size()); ++i)
        take_numbers(scene->head.solids[i], meshes[i]);
    return std::move(*scene);
}

/// Of the program's own, which are the same here and there: it is told by its place among them.
std::size_t place_of(panels::Study study) {
    const auto& all = studies::all_questions();
    return static_cast<std::size_t>(std::ranges::find(all, study, &studies::Question::run) - all.begin());
}

}  // namespace

std::string packed(panels::Study study, const Asked& asked) {
    // All that is asked by: with one more this does not compile.
    const auto& [head, sticks, chosen, readings, readings_note, stop, percent, first_look] = asked;
    const std::size_t place = place_of(study);
    const studies::Question& question = studies::all_questions()[place];
    std::vector<studies::Value> values;
    for (const studies::Option& option : question.options) values.push_back(chosen.at(option.key));
    scene::Scene scene;
    scene.head = head.description();
    return written(place, packed(scene), sticks, values, readings, readings_note);
}

tl::expected<Order, std::string> unpacked_order(std::string_view bytes) {
    Reader read(bytes);
    const studies::Question& question = studies::all_questions()[read.one<std::size_t>()];
    auto scene = unpacked_scene(read.one<std::string>());
    if (!scene) return tl::unexpected(scene.error());
    auto head = head::Head::build(scene->head);
    if (!head) return tl::unexpected(head.error().message);
    Asked asked{std::move(*head), {}, studies::Values(question.options)};
    std::vector<studies::Value> values;
    read(asked.sticks, values, asked.readings, asked.readings_note);
    for (std::size_t i = 0; i < values.size(); ++i) asked.values.set(question.options[i].key, values[i]);
    return Order{question.run, std::move(asked)};
}

std::string packed(const Outcome& outcome) {
    if (!outcome) return written(false, outcome.error());
    // All that is answered: with one more this does not compile.
    const auto& [answer, proposal, proposal_words, map, take_again, power] = *outcome;
    std::string proposed;
    if (proposal) {
        scene::Scene scene;
        scene.head = *proposal;
        proposed = packed(scene);
    }
    return written(true, answer, proposed, proposal_words, map ? std::make_optional(*map) : std::nullopt, take_again,
                   power ? std::make_optional(*power) : std::nullopt);
}

Outcome unpacked_outcome(std::string_view bytes) {
    Reader read(bytes);
    if (!read.one<bool>()) return tl::unexpected(read.one<std::string>());
    Reply reply;
    std::string proposal;
    std::optional<studies::Envelope> map;
    std::optional<studies::Power> power;
    read(reply.answer, proposal, reply.proposal_words, map, reply.take_again, power);
    if (!proposal.empty())
        if (auto scene = unpacked_scene(proposal)) reply.proposal = std::move(scene->head);
    if (map) reply.map = std::make_shared<const studies::Envelope>(std::move(*map));
    if (power) reply.power = std::make_shared<const studies::Power>(std::move(*power));
    return reply;
}

std::string packed(const SheetOrder& order) {
    const auto& picture = order.picture;
    return written(packed(order.scene), order.paper, picture.has_value(), picture ? picture->pixels.width : 0,
                   picture ? picture->pixels.height : 0, picture ? picture->labels : std::vector<sheet::Label>(),
                   order.fonts);
}

tl::expected<SheetOrder, std::string> unpacked_sheet_order(std::string_view bytes) {
    Reader read(bytes);
    auto scene = unpacked_scene(read.one<std::string>());
    if (!scene) return tl::unexpected(scene.error());
    SheetOrder order;
    order.scene = std::move(*scene);
    bool drawn = false;
    sheet::Picture picture;
    read(order.paper, drawn, picture.pixels.width, picture.pixels.height, picture.labels, order.fonts);
    if (drawn) order.picture = std::move(picture);
    return order;
}

std::string packed(const tl::expected<std::string, std::string>& pages) {
    return written(pages.has_value(), pages ? *pages : pages.error());
}

tl::expected<std::string, std::string> unpacked_pages(std::string_view bytes) {
    Reader read(bytes);
    const bool good = read.one<bool>();
    auto text = read.one<std::string>();
    if (!good) return tl::unexpected(std::move(text));
    return text;
}

}  // namespace swashwright::browser
