#include "viewer/model/gltf.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <tuple>

#include "viewer/draw/gl/drawing.h"
#include "viewer/draw/lines/strokes.h"
#include "viewer/draw/lines/washes.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/solids.h"
#include "viewer/model/accessors.h"

namespace swashwright::model {
namespace {

using tinygltf::Value;

constexpr double metres = 0.001;  // in a millimetre

std::array<float, 3> floats(const Vec3& v) {
    return {static_cast<float>(v.x()), static_cast<float>(v.y()), static_cast<float>(v.z())};
}

Placement within(const Placement& outer, const Placement& inner) {
    return {outer.turn.transpose() * inner.turn, outer.turn.transpose() * (inner.origin - outer.origin)};
}

const char* words_of(draw::Ride ride) {
    switch (ride) {
        case draw::Ride::horn:
            return "horn";
        case draw::Ride::inner_ring:
            return "inner ring";
        case draw::Ride::outer_ring:
            return "outer ring";
        case draw::Ride::hub:
            return "hub";
        case draw::Ride::grip:
            return "grip";
        case draw::Ride::blade:
            return "blade";
        case draw::Ride::lever:
            return "lever";
        case draw::Ride::slider:
            return "slider";
        case draw::Ride::lower_head:
        case draw::Ride::upper_head:
        case draw::Ride::link_head:
            return "upper end";
        case draw::Ride::lower_foot:
        case draw::Ride::upper_foot:
        case draw::Ride::link_foot:
            return "lower end";
        default:
            return "frame";
    }
}

std::string material_name(const draw::Drawn& drawn) {
    switch (drawn.tone) {
        case draw::Tone::steel:
            return "steel";
        case draw::Tone::bright:
            return "bright steel";
        case draw::Tone::alloy:
            return "alloy";
        case draw::Tone::dark:
            return "dark metal";
        case draw::Tone::plastic:
            return "plastic";
        case draw::Tone::carbon:
            return "carbon";
        case draw::Tone::thread:
            return "thread";
        case draw::Tone::blade:
            return fmt::format("blade {}", drawn.part.index + 1);
        default:
            return fmt::format("bands of blade {}", drawn.part.index + 1);
    }
}

/// From the sheet's sRGB to the light that glTF counts in (IEC 61966-2-1).
double linear(float s) {
    return s <= 0.04045F ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
}

/// The solids of one part on one body.
using Group = std::vector<const draw::Drawn*>;

class Writer {
public:
    Writer(const head::Description& description, const std::vector<Moment>& moments, const Order& order)
        : order_(order), moments_(moments), accessors_(model_), description_(description) {}

    tl::expected<std::string, std::string> write();

private:
    void add_root();
    void add_group(const draw::Part& part, const draw::Frame& frame, const Group& group);
    int mesh_of(const std::string& name, const Group& group);
    tinygltf::Primitive primitive_of(std::span<const draw::Drawn* const> alike);
    int material_of(const draw::Drawn& drawn);
    /// Where a frame stands at each moment; for a link's upper end on its lower end. Empty if it has no place at one.
    std::vector<Placement> places_of(const draw::Frame& frame) const;
    void place_node(int node, const std::vector<Placement>& places);
    void add_channel(int node, const char* path, int values);
    void tell_pose();

    const Order& order_;
    const std::vector<Moment>& moments_;
    tinygltf::Model model_;
    Accessors accessors_;
    const head::Description& description_;
    std::vector<draw::Frames> frames_;         // of each moment
    std::map<std::string, int> materials_;     // by name
    std::map<draw::Frame, int> links_;         // the node of each link's lower end
    std::map<draw::Part, int> nodes_of_part_;  // so far
    int times_ = -1;
};

int Writer::material_of(const draw::Drawn& drawn) {
    const std::string name = material_name(drawn);
    if (const auto known = materials_.find(name); known != materials_.end()) return known->second;
    const glm::vec3 colour = draw::wash_of(drawn.part, drawn.tone, draw::Style{}).light;
    tinygltf::Material material;
    material.name = name;
    material.pbrMetallicRoughness.baseColorFactor = {linear(colour.r), linear(colour.g), linear(colour.b), 1};
    // As on the drawing: no gloss, and nothing that is black where there is nothing around to be mirrored.
    material.pbrMetallicRoughness.metallicFactor = 0;
    material.pbrMetallicRoughness.roughnessFactor = 0.8;
    model_.materials.push_back(std::move(material));
    return materials_[name] = static_cast<int>(model_.materials.size()) - 1;
}

tinygltf::Primitive Writer::primitive_of(std::span<const draw::Drawn* const> alike) {
    std::vector<std::array<float, 3>> points, normals;
    std::vector<std::uint32_t> indices;
    std::map<std::array<std::array<float, 3>, 2>, std::uint32_t> known;
    for (const draw::Drawn* drawn : alike) {
        const auto number_of = [&](int vertex) {
            const draw::Vertex& v = drawn->surface.vertices[static_cast<std::size_t>(vertex)];
            const std::array<std::array<float, 3>, 2> key{floats(v.point * metres), floats(v.normal)};
            const auto [at, fresh] = known.try_emplace(key, static_cast<std::uint32_t>(points.size()));
            if (fresh) points.push_back(key[0]), normals.push_back(key[1]);
            return at->second;
        };
        const std::vector<int>& corners = drawn->surface.triangles;
        for (std::size_t i = 0; i + 2 < corners.size(); i += 3) {
            const std::array<std::uint32_t, 3> face{number_of(corners[i]), number_of(corners[i + 1]),
                                                    number_of(corners[i + 2])};
            if (face[0] == face[1] || face[1] == face[2] || face[2] == face[0]) continue;  // too small for floats
            indices.insert(indices.end(), face.begin(), face.end());
        }
    }
    tinygltf::Primitive primitive;
    primitive.mode = TINYGLTF_MODE_TRIANGLES;
    if (indices.empty()) return primitive;
    primitive.material = material_of(*alike.front());
    primitive.indices = accessors_.add_triangles(indices, points.size());
    primitive.attributes["POSITION"] = accessors_.add_vertices(points);
    primitive.attributes["NORMAL"] = accessors_.add_vertices(normals);
    return primitive;
}

int Writer::mesh_of(const std::string& name, const Group& group) {
    tinygltf::Mesh mesh;
    mesh.name = name;
    for (auto from = group.begin(); from != group.end();) {
        const auto to = std::find_if(from, group.end(), [&](const auto* d) { return d->tone != (*from)->tone; });
        tinygltf::Primitive primitive = primitive_of(std::span(from, to));
        if (primitive.indices >= 0) mesh.primitives.push_back(std::move(primitive));
        from = to;
    }
    if (mesh.primitives.empty()) return -1;
    model_.meshes.push_back(std::move(mesh));
    return static_cast<int>(model_.meshes.size()) - 1;
}

std::vector<Placement> Writer::places_of(const draw::Frame& frame) const {
    draw::Frame below = frame;
    if (frame.ride == draw::Ride::lower_head) below.ride = draw::Ride::lower_foot;
    if (frame.ride == draw::Ride::upper_head) below.ride = draw::Ride::upper_foot;
    if (frame.ride == draw::Ride::link_head) below.ride = draw::Ride::link_foot;
    std::vector<Placement> places;
    for (const draw::Frames& frames : frames_) {
        const Placement *place = frames.find(frame), *carrier = frames.find(below);
        if (place == nullptr || carrier == nullptr) return {};
        places.push_back(below == frame ? *place : within(*carrier, *place));
    }
    return places;
}

void Writer::add_channel(int node, const char* path, int values) {
    tinygltf::Animation& animation = model_.animations.front();
    tinygltf::AnimationSampler sampler;
    sampler.input = times_;
    sampler.output = values;
    tinygltf::AnimationChannel channel;
    channel.sampler = static_cast<int>(animation.samplers.size());
    channel.target_node = node;
    channel.target_path = path;
    animation.samplers.push_back(std::move(sampler));
    animation.channels.push_back(std::move(channel));
}

void Writer::place_node(int node, const std::vector<Placement>& places) {
    std::vector<std::array<float, 3>> origins;
    std::vector<std::array<float, 4>> turns;
    Quat last = Quat::Identity();
    const auto add = [&](const Placement& place) {
        Quat turn = Quat(place.turn).normalized();
        if (turn.dot(last) < 0) turn.coeffs() *= -1;  // the short way from key to key
        last = turn;
        origins.push_back(floats(place.origin * metres));
        turns.push_back({static_cast<float>(turn.x()), static_cast<float>(turn.y()), static_cast<float>(turn.z()),
                         static_cast<float>(turn.w())});
    };
    std::ranges::for_each(places, add);
    const Vec3 origin = places.front().origin * metres;
    const Quat turn = Quat(places.front().turn).normalized();
    tinygltf::Node& made = model_.nodes[static_cast<std::size_t>(node)];
    if (!origin.isZero(0)) made.translation = {origin.x(), origin.y(), origin.z()};
    if (!turn.vec().isZero(0)) made.rotation = {turn.x(), turn.y(), turn.z(), turn.w()};
    if (places.size() == 1) return;
    add(places.front());  // the end of the turn is its beginning
    const auto moves = [](const auto& keys, float least) {
        return std::ranges::any_of(keys, [&](const auto& key) {
            for (std::size_t c = 0; c < key.size(); ++c)
                if (std::abs(key[c] - keys.front()[c]) > least) return true;
            return false;
        });
    };
    // Below a nanometre and a few roundings of a float nothing is seen to move.
    if (moves(origins, 1e-9F)) add_channel(node, "translation", accessors_.add_places(origins));
    if (moves(turns, 1e-7F)) add_channel(node, "rotation", accessors_.add_turns(turns));
}

void Writer::add_root() {
    tinygltf::Node root;
    root.name = description_.name.empty() ? "rotor head" : description_.name;
    root.rotation = {-0.5, -0.5, -0.5, 0.5};  // x, y, z, w: nose to z, left to x, up to y
    model_.nodes.push_back(std::move(root));
}

void Writer::add_group(const draw::Part& part, const draw::Frame& frame, const Group& group) {
    const std::vector<Placement> places = places_of(frame);
    if (places.empty()) return;  // this pose lacks the part
    std::string name = draw::name_of(part);
    // What a lever or slider stands on is not what carries its name.
    const bool beside = (part.role == head::Role::lever && frame.ride != draw::Ride::lever) ||
                        (part.role == head::Role::slider && frame.ride != draw::Ride::slider);
    if (beside || nodes_of_part_[part]++ > 0) name += fmt::format(", {}", words_of(frame.ride));
    tinygltf::Node made;
    made.name = name;
    made.mesh = mesh_of(name, group);
    if (made.mesh < 0) return;
    const int node = static_cast<int>(model_.nodes.size());
    model_.nodes.push_back(std::move(made));
    place_node(node, places);
    int parent = 0;
    if (frame.ride == draw::Ride::lower_foot || frame.ride == draw::Ride::upper_foot ||
        frame.ride == draw::Ride::link_foot)
        links_[frame] = node;
    if (frame.ride == draw::Ride::lower_head) parent = links_.at({draw::Ride::lower_foot, frame.index});
    if (frame.ride == draw::Ride::upper_head) parent = links_.at({draw::Ride::upper_foot, frame.index});
    if (frame.ride == draw::Ride::link_head) parent = links_.at({draw::Ride::link_foot, frame.index});
    model_.nodes[static_cast<std::size_t>(parent)].children.push_back(node);
}

Value numbers(const std::vector<double>& values) {
    Value::Array list;
    for (const double v : values) list.emplace_back(v + 0.0);
    return Value(std::move(list));
}

void Writer::tell_pose() {
    const Moment& first = moments_.front();
    Value::Object told{{"azimuth_deg", Value(first.azimuth_deg)},
                       {"horns_deg", numbers(first.pose.horn_deg)},
                       {"pitch_deg", numbers(first.pose.pitch_deg)}};
    if (!description_.name.empty()) told["head"] = Value(description_.name);
    if (!order_.note.empty()) told["note"] = Value(order_.note);
    if (!first.pose.lever_deg.empty()) told["levers_deg"] = numbers(first.pose.lever_deg);
    if (!first.pose.slider_mm.empty()) told["sliders_mm"] = numbers(first.pose.slider_mm);
    if (order_.sticks && description_.kind == head::Kind::tail)
        told["sticks"] = Value(Value::Object{{"rudder", Value(order_.sticks->rudder)}});
    else if (order_.sticks)
        told["sticks"] = Value(Value::Object{{"collective", Value(order_.sticks->collective)},
                                             {"aileron", Value(order_.sticks->aileron)},
                                             {"elevator", Value(order_.sticks->elevator)}});
    model_.scenes.front().extras = Value(std::move(told));
    if (model_.animations.empty()) return;
    Value::Array azimuths, pitches;
    for (const Moment& moment : moments_) {
        azimuths.emplace_back(moment.azimuth_deg);
        pitches.push_back(numbers(moment.pose.pitch_deg));
    }
    Value::Object turn{{"azimuth_deg", Value(std::move(azimuths))}, {"pitch_deg", Value(std::move(pitches))}};
    const double rpm = description_.rotor.head_speed_rpm;
    if (rpm > 0) {
        turn["head_speed_rpm"] = Value(rpm);
        turn["times_slower"] = Value(order_.seconds * rpm / 60);
    }
    model_.animations.front().extras = Value(std::move(turn));
}

tl::expected<std::string, std::string> Writer::write() {
    model_.asset.version = "2.0";
    model_.asset.generator = "Swashwright " SWASHWRIGHT_VERSION;
    model_.defaultScene = 0;
    model_.scenes.emplace_back().nodes = {0};
    add_root();
    for (const Moment& moment : moments_) frames_.emplace_back(description_, moment.pose, 1.0);
    if (moments_.size() > 1) {
        model_.animations.emplace_back().name = "one turn";
        std::vector<float> times;
        const double each = order_.seconds / static_cast<double>(moments_.size());
        for (std::size_t i = 0; i <= moments_.size(); ++i)
            times.push_back(static_cast<float>(each * static_cast<double>(i)));
        times_ = accessors_.add_times(times);
    }
    const std::vector<draw::Drawn> drawn = draw::drawn_from(draw::solids_of(description_, order_.whole_blades));
    Group all;
    for (const draw::Drawn& d : drawn) all.push_back(&d);
    std::ranges::stable_sort(all, {}, [](const auto* d) { return std::tie(d->part, d->frame, d->tone); });
    for (auto from = all.begin(); from != all.end();) {
        const auto to = std::find_if(from, all.end(), [&](const auto* d) {
            return std::tie(d->part, d->frame) != std::tie((*from)->part, (*from)->frame);
        });
        add_group((*from)->part, (*from)->frame, Group(from, to));
        from = to;
    }
    tell_pose();
    std::ostringstream out;
    const bool binary = order_.form == Form::binary;
    if (!tinygltf::TinyGLTF().WriteGltfSceneToStream(&model_, out, !binary, binary) || !out)
        return tl::unexpected(std::string("the model cannot be put into glTF: there is no memory for it"));
    return std::move(out).str();
}

}  // namespace

tl::expected<std::string, std::string> gltf(const head::Description& description, const std::vector<Moment>& moments,
                                            const Order& order) {
    if (moments.empty()) return tl::unexpected(std::string("a model needs a pose"));
    return Writer(description, moments, order).write();
}

}  // namespace swashwright::model
