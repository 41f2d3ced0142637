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

namespace swashwright {
namespace {

/// As a value of its own, or none.
template <class T>
std::optional<T> owned(const std::shared_ptr<const T>& shared) {
    return shared ? std::make_optional(*shared) : std::nullopt;
}

template <class T>
std::shared_ptr<const T> shared(std::optional<T> value) {
    return value ? std::make_shared<const T>(std::move(*value)) : nullptr;
}

}  // namespace
}  // namespace swashwright

// The library finds these beside the types that they are of. All fields in their order: where one is left out, it does
// not compile.
#define PACKED_BY_FIELDS(Type, ...)                  \
    template <class Archive>                         \
    void serialize(Archive& archive, Type& packed) { \
        auto& [__VA_ARGS__] = packed;                \
        archive(__VA_ARGS__);                        \
    }

namespace swashwright::head {

PACKED_BY_FIELDS(Sticks, collective, aileron, elevator, rudder)
PACKED_BY_FIELDS(Mixing, collective_deg, cyclic_deg, phase_deg, cyclic_stick, combined_limit, rudder_deg)

}  // namespace swashwright::head

namespace swashwright::studies {

PACKED_BY_FIELDS(PitchReading, blade, sticks, azimuth_deg, reading_deg, uncertainty_deg)
PACKED_BY_FIELDS(RingHeightReading, ball, azimuth_deg, radius_mm, sticks, reading_mm, uncertainty_mm)
PACKED_BY_FIELDS(Gauge, zeroed_on, zero_within_deg, lean_within_deg)
template <class Archive>
void serialize(Archive& archive, Readings& readings) {
    auto& [pitch, ring_height, gauge, shared_before] = readings;
    auto before = owned(shared_before);
    archive(pitch, ring_height, gauge, before);
    shared_before = shared(std::move(before));
}

PACKED_BY_FIELDS(Column, key, head, unit, decimals, sign)
PACKED_BY_FIELDS(Table, key, title, columns, rows, parts)
PACKED_BY_FIELDS(Answer, study, text, tone, tables, notes)

PACKED_BY_FIELDS(Check, kind, key, words, label, unit, parts, low, high, close)
PACKED_BY_FIELDS(Hand, path, words, least_deg, neutral_deg, most_deg)
PACKED_BY_FIELDS(Place, sticks, azimuth_deg, hand_deg)
PACKED_BY_FIELDS(Extreme, value, margin, place, within)
PACKED_BY_FIELDS(Disc, cyclic, check, opens)
PACKED_BY_FIELDS(Envelope, checks, worst, collective, cyclic, cells, kind, mixing, hands, open, discs, opens,
                 opens_message, poses)

PACKED_BY_FIELDS(BladeSection, lift_slope, drag, drag_rise, most_lift, stalled_rise)
PACKED_BY_FIELDS(RotorDisc, blades, tip_m, root_m, chord_m, section)
PACKED_BY_FIELDS(Craft, disc, mass_kg, density, kelvin, speed, engine_w, efficiency, body_m2, chord_guessed,
                 root_guessed, slope_guessed, drag_guessed, mass_guessed, efficiency_guessed, air_guessed)
PACKED_BY_FIELDS(Climb, m_s, power_w)
PACKED_BY_FIELDS(SimpleHover, pitch, inflow, power_w)
PACKED_BY_FIELDS(Tachometer, before_rpm, climbing_rpm, pitch_deg)
PACKED_BY_FIELDS(PowerOptions, sticks, head_speed_rpm, mass_kg, engine_w, efficiency, temperature_c, height_m,
                 tachometer)
PACKED_BY_FIELDS(PowerFigures, hover_deg, hover_w, used_deg, climb_m_s, first_deg, engine_w)
PACKED_BY_FIELDS(PitchRow, words, pitch_deg, doubt_deg, thrust_percent, standing_w, climb, loading, stalled_percent,
                 more_loading, more_standing_w, more_climb_w)
PACKED_BY_FIELDS(SpeedRow, rpm, figures, loading)
PACKED_BY_FIELDS(TravelRow, pitch_deg, collective_deg, within_travel)
PACKED_BY_FIELDS(Power, options, craft, figures, doubts, now_deg, full_deg, stall_deg, start_deg, simple, places, curve,
                 speeds, travels, horn_deg)

}  // namespace swashwright::studies

namespace swashwright::sheet {

PACKED_BY_FIELDS(Label, words, x, y)

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
    const std::size_t place = place_of(study);
    const studies::Question& question = studies::all_questions()[place];
    std::vector<studies::Value> values;
    // The rest of it a worker has of its own.
    const auto& [head, sticks, chosen, readings, readings_note, stop, percent, so_far] = asked;
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
    const auto& [answer, proposal, proposal_words, map, take_again, power, so_far] = *outcome;
    std::string proposed;
    if (proposal) {
        scene::Scene scene;
        scene.head = *proposal;
        proposed = packed(scene);
    }
    return written(true, answer, proposed, proposal_words, owned(map), take_again, owned(power), so_far);
}

Outcome unpacked_outcome(std::string_view bytes) {
    Reader read(bytes);
    if (!read.one<bool>()) return tl::unexpected(read.one<std::string>());
    Reply reply;
    std::string proposal;
    std::optional<studies::Envelope> map;
    std::optional<studies::Power> power;
    read(reply.answer, proposal, reply.proposal_words, map, reply.take_again, power, reply.so_far);
    if (!proposal.empty())
        if (auto scene = unpacked_scene(proposal)) reply.proposal = std::move(scene->head);
    reply.map = shared(std::move(map));
    reply.power = shared(std::move(power));
    return reply;
}

std::string packed(const SheetOrder& order) {
    const auto& picture = order.picture;
    return written(packed(order.scene), order.paper, picture.has_value(), picture ? picture->pixels.width : 0,
                   picture ? picture->pixels.height : 0, picture ? picture->labels : std::vector<sheet::Label>(),
                   order.fonts, order.card);
}

tl::expected<SheetOrder, std::string> unpacked_sheet_order(std::string_view bytes) {
    Reader read(bytes);
    auto scene = unpacked_scene(read.one<std::string>());
    if (!scene) return tl::unexpected(scene.error());
    SheetOrder order;
    order.scene = std::move(*scene);
    bool drawn = false;
    sheet::Picture picture;
    read(order.paper, drawn, picture.pixels.width, picture.pixels.height, picture.labels, order.fonts, order.card);
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
