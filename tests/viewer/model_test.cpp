// The glTF model, read back by two readers that are not ours: Assimp, and tinygltf.
#include "viewer/model/gltf.h"

#include <assimp/scene.h>
#include <gtest/gtest.h>
#include <tiny_gltf.h>

#include <algorithm>
#include <array>
#include <assimp/Importer.hpp>
#include <cstring>
#include <map>
#include <set>
#include <string>

#include "tests/support/random_linkage.h"
#include "tests/viewer/draw_heads.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::model {
namespace {

constexpr head::Sticks sticks{0.4, 0.5, -0.3};
// glTF holds floats: 6e-8 of at most half a metre, and of a quaternion's parts.
constexpr double near_m = 1e-6, near_turn = 1e-6;
constexpr int keys = 72;

std::vector<Moment> moments(const head::Description& d, int count) {
    std::vector<Moment> out;
    for (int i = 0; i < count; ++i) out.push_back({360.0 * i / count, draw::posed(d, sticks, 360.0 * i / count)});
    return out;
}

std::string written(const head::Description& d, int count, Form form = Form::binary) {
    const auto bytes = gltf(d, moments(d, count), {form, false, "", sticks});
    if (!bytes) throw std::runtime_error(bytes.error());
    return *bytes;
}

tinygltf::Model loaded(const std::string& bytes) {
    tinygltf::Model model;
    std::string error, warning;
    const auto* data = reinterpret_cast<const unsigned char*>(bytes.data());  // NOLINT: bytes are bytes
    if (!tinygltf::TinyGLTF().LoadBinaryFromMemory(&model, &error, &warning, data,
                                                   static_cast<unsigned>(bytes.size())) ||
        !warning.empty())
        throw std::runtime_error(error + warning);
    return model;
}

std::uint32_t word(const std::string& bytes, std::size_t at) {
    std::uint32_t out = 0;
    std::memcpy(&out, bytes.data() + at, 4);
    return out;
}

/// What glTF should say of a point of the head frame: nose to z, left to x, up to y; metres.
Vec3 mapped(const Vec3& mm) {
    return Vec3(mm.y(), mm.z(), mm.x()) / 1000;
}

Mat3 mapped(const Mat3& turn) {
    Mat3 out;
    for (int c = 0; c < 3; ++c) out.col(c) = 1000 * mapped(Vec3(turn.col(c)));
    return out;
}

/// From a node's own coordinates to the scene's, by Assimp.
aiMatrix4x4 to_scene(const aiNode* node) {
    aiMatrix4x4 out = node->mTransformation;
    for (node = node->mParent; node != nullptr; node = node->mParent) out = node->mTransformation * out;
    return out;
}

void expect_same(const aiMatrix4x4& found, const Placement& place, const std::string& what) {
    const Vec3 origin = mapped(place.origin);
    const Mat3 turn = mapped(place.turn);
    EXPECT_NEAR((Vec3(found.a4, found.b4, found.c4) - origin).norm(), 0, near_m) << what;
    Mat3 seen;
    seen << found.a1, found.a2, found.a3, found.b1, found.b2, found.b3, found.c1, found.c2, found.c3;
    EXPECT_NEAR((seen - turn).norm(), 0, near_turn) << what;
}

/// The nodes that ride on one body, with that body.
std::vector<std::pair<std::string, draw::Frame>> nodes_of(const head::Description& d) {
    using draw::Ride;
    std::vector<std::pair<std::string, draw::Frame>> out{{"inner ring", {Ride::inner_ring, 0}},
                                                         {"outer ring", {Ride::outer_ring, 0}},
                                                         {"hub", {Ride::hub, 0}},
                                                         {"shaft", {Ride::hub, 0}},
                                                         {"driver", {Ride::outer_ring, 0}},
                                                         {"guide, inner ring", {Ride::inner_ring, 0}}};
    for (int k = 0; k < static_cast<int>(d.grips.size()); ++k) {
        const std::string number = " " + std::to_string(k + 1);
        out.push_back({"grip" + number, {Ride::grip, k}});
        out.push_back({"blade" + number, {Ride::blade, k}});
        out.push_back({"upper link" + number, {Ride::upper_foot, k}});
        out.push_back({"upper link" + number + ", upper end", {Ride::upper_head, k}});
    }
    for (int j = 0; j < static_cast<int>(d.servos.size()); ++j) {
        const std::string number = " " + std::to_string(j + 1);
        out.push_back({"horn" + number, {Ride::horn, j}});
        out.push_back({"lower link" + number, {Ride::lower_foot, j}});
        out.push_back({"lower link" + number + ", upper end", {Ride::lower_head, j}});
    }
    return out;
}

class Model : public ::testing::TestWithParam<std::string> {
protected:
    const head::Description description = draw::demo(GetParam());
};

// Khronos, glTF 2.0, section 4.4: header of 12 bytes, a chunk of JSON, a chunk of numbers, each a multiple of 4 long.
TEST_P(Model, is_a_whole_binary_file) {
    const std::string bytes = written(description, 1);
    ASSERT_GT(bytes.size(), 20U);
    EXPECT_EQ(bytes.substr(0, 4), "glTF");
    EXPECT_EQ(word(bytes, 4), 2U);
    EXPECT_EQ(word(bytes, 8), bytes.size());
    const std::uint32_t json = word(bytes, 12);
    EXPECT_EQ(json % 4, 0U);
    EXPECT_EQ(bytes.substr(16, 4), "JSON");
    const std::uint32_t numbers = word(bytes, 20 + json);
    EXPECT_EQ(numbers % 4, 0U);
    EXPECT_EQ(bytes.substr(24 + json, 4), std::string("BIN\0", 4));
    EXPECT_EQ(28 + json + numbers, bytes.size());
}

TEST_P(Model, has_every_part_once_by_name) {
    const tinygltf::Model model = loaded(written(description, 1));
    EXPECT_EQ(model.asset.version, "2.0");
    EXPECT_EQ(model.asset.generator, "Swashwright " SWASHWRIGHT_VERSION);
    std::set<std::pair<draw::Part, draw::Frame>> groups;
    for (const auto& solid : draw::solids_of(description, false)) groups.insert({solid.part, solid.frame});
    EXPECT_EQ(model.nodes.size(), groups.size() + 1);  // and the root
    std::multiset<std::string> names;
    for (const auto& node : model.nodes) names.insert(node.name);
    for (const auto& [part, frame] : groups) EXPECT_EQ(names.count(draw::name_of(part)), 1U) << draw::name_of(part);
    EXPECT_EQ(std::set<std::string>(names.begin(), names.end()).size(), names.size());
}

TEST_P(Model, tells_the_pose) {
    const tinygltf::Model model = loaded(written(description, 1));
    const auto& told = model.scenes.at(0).extras;
    EXPECT_EQ(told.Get("sticks").Get("aileron").GetNumberAsDouble(), sticks.aileron);
    EXPECT_EQ(told.Get("azimuth_deg").GetNumberAsDouble(), 0);
    const head::Pose pose = draw::posed(description, sticks, 0);
    ASSERT_EQ(told.Get("pitch_deg").ArrayLen(), pose.pitch_deg.size());
    for (std::size_t k = 0; k < pose.pitch_deg.size(); ++k)
        EXPECT_EQ(told.Get("pitch_deg").Get(static_cast<int>(k)).GetNumberAsDouble(), pose.pitch_deg[k]);
}

TEST_P(Model, stands_as_the_pose_says) {
    const std::string bytes = written(description, 1);
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFileFromMemory(bytes.data(), bytes.size(), 0, "glb");
    ASSERT_NE(scene, nullptr) << importer.GetErrorString();
    const head::Pose pose = draw::posed(description, sticks, 0);
    const draw::Frames frames(description, pose, 1);
    for (const auto& [name, frame] : nodes_of(description)) {
        const aiNode* node = scene->mRootNode->FindNode(name.c_str());
        ASSERT_NE(node, nullptr) << name;
        expect_same(to_scene(node), *frames.find(frame), name);
    }
    // The balls of each link's ends, from the solver's skeleton, not from the drawing.
    for (std::size_t k = 0; k < pose.skeleton.outer_balls.size(); ++k) {
        const std::string name = "upper link " + std::to_string(k + 1);
        for (const auto& [node, ball] : {std::pair(name, pose.skeleton.outer_balls[k]),
                                         std::pair(name + ", upper end", pose.skeleton.grip_balls[k])}) {
            const aiMatrix4x4 found = to_scene(scene->mRootNode->FindNode(node.c_str()));
            EXPECT_NEAR((Vec3(found.a4, found.b4, found.c4) - mapped(ball)).norm(), 0, near_m) << node;
        }
    }
}

TEST_P(Model, turns_as_the_poses_say) {
    const std::string bytes = written(description, keys);
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFileFromMemory(bytes.data(), bytes.size(), 0, "glb");
    ASSERT_NE(scene, nullptr) << importer.GetErrorString();
    ASSERT_EQ(scene->mNumAnimations, 1U);
    const aiAnimation& turn = *scene->mAnimations[0];
    EXPECT_NEAR(turn.mDuration / turn.mTicksPerSecond, 10, 1e-6);
    std::map<std::string, const aiNodeAnim*> channels;
    for (unsigned i = 0; i < turn.mNumChannels; ++i) channels[turn.mChannels[i]->mNodeName.C_Str()] = turn.mChannels[i];
    EXPECT_EQ(channels.count("servo 1"), 0U);
    // A node at key `k`, by Assimp's own keys; keys that never change may be one.
    const auto local = [&](const aiNode* node, unsigned k) {
        const auto found = channels.find(node->mName.C_Str());
        if (found == channels.end()) return node->mTransformation;
        const aiNodeAnim& c = *found->second;
        const auto place = c.mPositionKeys[c.mNumPositionKeys == 1 ? 0 : k];
        const auto way = c.mRotationKeys[c.mNumRotationKeys == 1 ? 0 : k];
        if (c.mNumRotationKeys > 1) {
            EXPECT_NEAR(way.mTime / turn.mTicksPerSecond, 10.0 * k / keys, 1e-5);
        }
        return aiMatrix4x4(aiVector3D(1, 1, 1), way.mValue, place.mValue);
    };
    for (const unsigned k : {0U, 1U, 17U, 40U, 71U, 72U}) {
        const head::Pose pose = draw::posed(description, sticks, 360.0 * k / keys);
        const draw::Frames frames(description, pose, 1);
        for (const auto& [name, frame] : nodes_of(description)) {
            const aiNode* node = scene->mRootNode->FindNode(name.c_str());
            ASSERT_NE(node, nullptr) << name;
            aiMatrix4x4 found = local(node, k);
            for (node = node->mParent; node != nullptr; node = node->mParent) found = local(node, k) * found;
            expect_same(found, *frames.find(frame), name + " at key " + std::to_string(k));
        }
    }
}

// Section 3.6.2.4: min and max of positions are those of the numbers that are stored. And no vertex is stored twice.
TEST_P(Model, stores_each_vertex_once_and_tells_its_bounds) {
    const tinygltf::Model model = loaded(written(description, 1));
    const auto rows = [&](int accessor) {
        const auto& a = model.accessors.at(static_cast<std::size_t>(accessor));
        const auto& view = model.bufferViews.at(static_cast<std::size_t>(a.bufferView));
        std::vector<std::array<float, 3>> out(a.count);
        std::memcpy(out.data(), model.buffers[0].data.data() + view.byteOffset, 12 * a.count);
        return out;
    };
    for (const auto& mesh : model.meshes)
        for (const auto& primitive : mesh.primitives) {
            const int position = primitive.attributes.at("POSITION");
            const auto points = rows(position), normals = rows(primitive.attributes.at("NORMAL"));
            ASSERT_EQ(points.size(), normals.size());
            std::set<std::pair<std::array<float, 3>, std::array<float, 3>>> seen;
            for (std::size_t i = 0; i < points.size(); ++i) seen.insert({points[i], normals[i]});
            EXPECT_EQ(seen.size(), points.size()) << mesh.name;
            for (std::size_t c = 0; c < 3; ++c) {
                const auto [least, most] = std::ranges::minmax(points, {}, [c](const auto& p) { return p[c]; });
                const auto& a = model.accessors.at(static_cast<std::size_t>(position));
                EXPECT_EQ(a.minValues.at(c), static_cast<double>(least[c]));
                EXPECT_EQ(a.maxValues.at(c), static_cast<double>(most[c]));
            }
        }
}

// The same file as text: the same meshes to another reader.
TEST_P(Model, is_the_same_as_text) {
    const std::string text = written(description, 1, Form::text), bytes = written(description, 1);
    Assimp::Importer one, two;
    const aiScene* from_text = one.ReadFileFromMemory(text.data(), text.size(), 0, "gltf");
    const aiScene* from_bytes = two.ReadFileFromMemory(bytes.data(), bytes.size(), 0, "glb");
    ASSERT_NE(from_text, nullptr) << one.GetErrorString();
    ASSERT_NE(from_bytes, nullptr) << two.GetErrorString();
    ASSERT_EQ(from_text->mNumMeshes, from_bytes->mNumMeshes);
    for (unsigned m = 0; m < from_text->mNumMeshes; ++m) {
        EXPECT_EQ(from_text->mMeshes[m]->mNumFaces, from_bytes->mMeshes[m]->mNumFaces);
        EXPECT_EQ(from_text->mMeshes[m]->mVertices[0], from_bytes->mMeshes[m]->mVertices[0]);
    }
}

// Every kind of linkage: a node for each part, where the solver puts it.
TEST(ModelOfALinkage, HasANodeForEachPartInItsPlace) {
    for (const head::Description& d : testing::linkages()) {
        const std::string bytes = written(d, 3);
        Assimp::Importer importer;
        const aiScene* scene = importer.ReadFileFromMemory(bytes.data(), bytes.size(), 0, "glb");
        ASSERT_NE(scene, nullptr) << d.name << importer.GetErrorString();
        std::set<std::pair<draw::Part, draw::Frame>> groups;
        for (const auto& solid : draw::solids_of(d, false)) groups.insert({solid.part, solid.frame});
        for (const auto& [part, frame] : groups)
            EXPECT_NE(scene->mRootNode->FindNode(draw::name_of(part).c_str()), nullptr)
                << d.name << draw::name_of(part);
        EXPECT_EQ(loaded(bytes).nodes.size(), groups.size() + 1);  // and the root
        const head::Pose pose = draw::posed(d, sticks, 0);
        const auto stands = [&](const std::string& name, const Placement& place) {
            const aiNode* node = scene->mRootNode->FindNode(name.c_str());
            ASSERT_NE(node, nullptr) << d.name << name;
            expect_same(to_scene(node), place, d.name + ": " + name);
        };
        for (std::size_t i = 0; i < d.levers.size(); ++i)
            stands("lever " + std::to_string(i + 1), pose.skeleton.levers[i]);
        for (std::size_t i = 0; i < d.sliders.size(); ++i)
            stands("slider " + std::to_string(i + 1), pose.skeleton.sliders[i]);
        const draw::Frames frames(d, pose, 1);
        for (int i = 0; i < static_cast<int>(d.links.size()); ++i) {
            stands("link " + std::to_string(i + 1), *frames.find({draw::Ride::link_foot, i}));
            stands("link " + std::to_string(i + 1) + ", upper end", *frames.find({draw::Ride::link_head, i}));
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Demos, Model, ::testing::ValuesIn(draw::demos()), [](const auto& demo) { return demo.param; });

}  // namespace
}  // namespace swashwright::model
