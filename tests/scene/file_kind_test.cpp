#include "kinematics/scene/file_kind.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "kinematics/bench_files/calliper.h"
#include "kinematics/bench_files/measured.h"
#include "kinematics/bench_files/readings.h"
#include "kinematics/scene/scene.h"

namespace swashwright::scene {
namespace {

using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;

const std::string demo_scene = SWASHWRIGHT_SCENES "/two_blade_600.toml";
const std::string demo_readings = SWASHWRIGHT_SCENES "/readings/two_blade_600.toml";
const std::string demo_measured = SWASHWRIGHT_SCENES "/readings/two_blade_600.measured.toml";
const std::string demo_calliper = SWASHWRIGHT_SCENES "/readings/two_blade_600.places.toml";
const std::string demo_lesson = SWASHWRIGHT_SCENES "/lessons/01_parts.toml";

TEST(FileKind, IsToldByWhatStandsInTheFile) {
    EXPECT_EQ(kind_of_file(demo_scene), FileKind::scene);
    EXPECT_EQ(kind_of_file(demo_readings), FileKind::readings);
    EXPECT_EQ(kind_of_file(demo_measured), FileKind::measured);
    EXPECT_EQ(kind_of_file(demo_calliper), FileKind::calliper);
    EXPECT_EQ(kind_of_file(demo_lesson), FileKind::lesson);
    EXPECT_EQ(kind_of_file("/nowhere.toml"), FileKind::scene);
}

TEST(FileKind, OtherThanTheWantedIsOneMistake) {
    const auto one = [](const auto& result, const char* words) {
        ASSERT_FALSE(result);
        EXPECT_THAT(result.error().list, ElementsAre(Field(&Mistake::message, HasSubstr(words))));
    };
    one(load(demo_readings), "this is a file of gauge readings, expected a scene");
    one(load(demo_measured), "this is a file of calliper readings, expected a scene");
    one(load(demo_calliper), "this is a file of calliper readings on a scene's head, expected a scene");
    one(load_measured(demo_calliper), "on a scene's head, expected a file of calliper readings");
    one(load_calliper(demo_scene), "this is a scene, expected a file of calliper readings on a scene's head");
    one(load(demo_lesson), "this is a lesson, expected a scene; lessons are on the window's sheet Lessons");
    one(load_readings(demo_scene), "this is a scene, expected a file of gauge readings");
    one(load_readings(demo_measured), "this is a file of calliper readings, expected a file of gauge readings");
    one(load_measured(demo_readings), "this is a file of gauge readings, expected a file of calliper readings");
}

}  // namespace
}  // namespace swashwright::scene
