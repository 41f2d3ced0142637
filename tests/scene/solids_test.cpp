#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <limits>

#include "kinematics/scene/scene.h"

namespace swashwright::scene {
namespace {

using ::testing::HasSubstr;

std::string demo() {
    std::ifstream in(SWASHWRIGHT_SCENES "/two_blade_600.toml");
    return {std::istreambuf_iterator<char>(in), {}};
}

/// A folder of the test's own with a scene and its mesh.
class Folder {
public:
    Folder() : path_(::testing::TempDir() + "swashwright_solids_" + std::to_string(getpid())) {
        std::filesystem::create_directories(path_);
    }
    ~Folder() { std::filesystem::remove_all(path_); }
    std::string put(const std::string& name, const std::string& text) const {
        std::ofstream(path_ + "/" + name, std::ios::binary) << text;
        return path_ + "/" + name;
    }

private:
    std::string path_;
};

const std::string triangle =
    "solid t\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 10 0 0\nvertex 0 10 0\nendloop\nendfacet\nendsolid "
    "t\n";

TEST(Solids, ComeBackAsTheyWereWritten) {
    const std::string text = demo() + R"(
[[solid]]
part = "frame"
shape = "box"
at_mm = [1.0, 2.0, 3.0]
size_mm = [10.0, 20.0, 30.0]

[[solid]]
part = "outer_ring"
shape = "ring"
at_mm = [0.0, 0.0, 2.5]
diameter_mm = 40.0
section_mm = 3.0

[[solid]]
part = "grip[2]"
shape = "cylinder"
at_mm = [0.0, 0.0, 10.0]
to_mm = [0.0, 0.0, 20.0]
diameter_mm = 8.0
)";
    const auto scene = parse(text, "test");
    ASSERT_TRUE(scene) << scene.error().text();
    ASSERT_EQ(scene->head.solids.size(), 3U);
    EXPECT_EQ(scene->head.solids[1].section_mm, 3.0);
    const std::string written = write(*scene);
    const auto again = parse(written, "again");
    ASSERT_TRUE(again) << again.error().text();
    EXPECT_EQ(write(*again), written);
    EXPECT_EQ(again->head.solids[2].part, "grip[2]");
    EXPECT_EQ(again->head.solids[0].size_mm, Vec3(10, 20, 30));
}

TEST(Solids, MistakesAreNamedWithTheirPlace) {
    const auto scene = parse(
        demo() + "\n[[solid]]\npart = \"grip[3]\"\nshape = \"box\"\nat_mm = [0, 0, 0]\nsize_mm = [1, 0, 1]\n", "f");
    ASSERT_FALSE(scene);
    EXPECT_THAT(scene.error().text(), HasSubstr("expected one of frame, inner_ring, outer_ring, hub, servo[1]"));
    const auto limits = parse(demo() + "\n[[solid]]\npart = \"hub\"\nshape = \"cube\"\n", "f");
    ASSERT_FALSE(limits);
    EXPECT_THAT(limits.error().text(), HasSubstr("capsule"));
}

TEST(Solids, AMeshIsReadFromBesideTheScene) {
    const Folder folder;
    folder.put("plate.stl", triangle);
    const std::string scene_text = demo() + "\n[[solid]]\npart = \"frame\"\nshape = \"mesh\"\nfile = \"plate.stl\"\n";
    const auto scene = load(folder.put("scene.toml", scene_text));
    ASSERT_TRUE(scene) << scene.error().text();
    ASSERT_TRUE(scene->head.solids[0].mesh);
    EXPECT_EQ(scene->head.solids[0].mesh->faces.size(), 1U);
    EXPECT_EQ(scene->head.solids[0].mesh->points.size(), 3U);
}

TEST(Solids, AMeshOfSeveralPiecesInTextIsReadToItsEnd) {
    const Folder folder;
    std::string other = triangle;
    other.replace(other.find("vertex 0 10 0"), 13, "vertex 0 20 0");
    folder.put("plate.stl", triangle + other);
    const std::string scene_text = demo() + "\n[[solid]]\npart = \"frame\"\nshape = \"mesh\"\nfile = \"plate.stl\"\n";
    const auto scene = load(folder.put("scene.toml", scene_text));
    ASSERT_TRUE(scene) << scene.error().text();
    EXPECT_EQ(scene->head.solids[0].mesh->faces.size(), 2U);
    EXPECT_EQ(scene->head.solids[0].mesh->points.size(), 4U);
    folder.put("plate.stl", triangle + other.substr(0, other.find("endsolid")));
    EXPECT_FALSE(load(folder.put("scene.toml", scene_text)));
}

TEST(Solids, AMeshThatCannotBeReadIsAMistake) {
    const Folder folder;
    const std::string scene_text = demo() + "\n[[solid]]\npart = \"frame\"\nshape = \"mesh\"\nfile = \"plate.stl\"\n";
    const std::string path = folder.put("scene.toml", scene_text);
    const auto missing = load(path);
    ASSERT_FALSE(missing);
    EXPECT_THAT(missing.error().text(), HasSubstr("there is no such file; expected an STL file of triangles in mm"));
    EXPECT_GT(missing.error().list[0].place.line, 0);
    folder.put("plate.stl", "this is not a mesh at all");
    EXPECT_FALSE(load(path));
    folder.put("plate.stl", "");
    EXPECT_FALSE(load(path));
}

/// A binary STL as it is laid out everywhere: 80 bytes of anything, the count, then normal, corners and two bytes each.
std::string binary(std::uint32_t count, std::uint32_t said, std::array<float, 9> corners) {
    std::string out(80, ' ');
    const auto put = [&](const void* from, std::size_t size) { out.append(static_cast<const char*>(from), size); };
    put(&said, 4);
    const std::array<float, 3> normal{0, 0, 1};
    for (std::uint32_t i = 0; i < count; ++i) {
        put(normal.data(), 12);
        put(corners.data(), 36);
        out.append(2, '\0');
    }
    return out;
}

TEST(Solids, AMeshMayBeBinary) {
    const Folder folder;
    const std::string path =
        folder.put("scene.toml", demo() + "\n[[solid]]\npart = \"hub\"\nshape = \"mesh\"\nfile = \"Plate.Stl\"\n");
    folder.put("Plate.Stl", binary(1, 1, {0, 0, 0, 10, 0, 0, 0, 10, 2.5F}));
    const auto scene = load(path);
    ASSERT_TRUE(scene) << scene.error().text();
    ASSERT_EQ(scene->head.solids[0].mesh->points.size(), 3U);
    double highest = 0;
    for (const Vec3& p : scene->head.solids[0].mesh->points) highest = std::max(highest, p.z());
    EXPECT_EQ(highest, 2.5);
}

TEST(Solids, OfAMeshWhatIsWrongIsTold) {
    constexpr float nan = std::numeric_limits<float>::quiet_NaN();
    const std::array<float, 9> fine{0, 0, 0, 10, 0, 0, 0, 10, 0};
    const std::vector<std::pair<std::string, std::string>> cases{
        {binary(1, 1, {nan, 0, 0, 10, 0, 0, 0, 10, 0}), "a corner is not a finite number"},
        {binary(1, 1, {1e30F, 0, 0, 10, 0, 0, 0, 10, 0}), "a corner is more than 10000 mm away"},
        {binary(2, 4'000'000'000U, fine), "it is not one, or is cut short"},
        {binary(2, 2, fine).substr(0, 150), "it is not one, or is cut short"},
        {binary(200'001, 200'001, fine), "it has 200001 triangles, more than 200000; make it coarser"},
        {binary(0, 0, fine), "expected an STL file"}};
    const Folder folder;
    const std::string path =
        folder.put("scene.toml", demo() + "\n[[solid]]\npart = \"hub\"\nshape = \"mesh\"\nfile = \"plate.stl\"\n");
    for (const auto& [bytes, expected] : cases) {
        folder.put("plate.stl", bytes);
        const auto scene = load(path);
        ASSERT_FALSE(scene) << expected;
        EXPECT_THAT(scene.error().text(), HasSubstr(expected));
        EXPECT_THAT(scene.error().text(), HasSubstr("plate.stl"));
    }
}

// Studs, sockets, stops and the combined stick's limit come back too; what cannot be is refused.
TEST(Limits, ComeBackAndAreChecked) {
    auto scene = *parse(demo(), "demo");
    scene.head.servos[0].stud = {0, 1, 0};
    scene.head.swashplate.outer_stud = {1, 0, 0.5};
    scene.head.swashplate.height_stops_mm = std::array{30.0, 60.0};
    scene.head.swashplate.driver_reach_mm = std::array{10.0, 22.0};
    scene.head.upper_links[1].tilt_limit_deg = std::array{18.0, 15.0};
    scene.head.upper_links[0].end_twist_deg = -30;
    scene.head.grips[0].stud = Vec3(-1, 0, 0);
    scene.head.mixing.combined_limit = 1.4;
    scene.head.clearance_mm = 0.8;
    const auto again = parse(write(scene), "again");
    ASSERT_TRUE(again) << again.error().text();
    EXPECT_EQ(write(*again), write(scene));
    EXPECT_EQ(*again->head.grips[0].stud, Vec3(-1, 0, 0));
    scene.head.upper_links[0].neck_mm = {4.7, 4.7};
    const auto refused = parse(write(scene), "f");
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().text(), HasSubstr("let the lower end tilt"));
    EXPECT_FALSE(parse(demo() + "combined_limit = 5\n", "f"));
}

}  // namespace
}  // namespace swashwright::scene
