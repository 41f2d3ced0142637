// Models by the real program.
#include <gtest/gtest.h>

#include "tests/console/program.h"
#include "tests/support/demo_head.h"

namespace swashwright::testing {
namespace {

TEST(ModelVerb, writes_what_the_files_name_says) {
    const std::string binary = temporary("head.glb"), text = temporary("head.gltf");
    EXPECT_EQ(run_program("model " + two_blade_file + " --collective 0.5 --out " + binary).exit_code, 0);
    EXPECT_EQ(run_program("model " + two_blade_file + " --turn --whole-blades --out " + text).exit_code, 0);
    EXPECT_EQ(file_text(binary).substr(0, 4), "glTF");
    EXPECT_EQ(file_text(text).front(), '{');
    EXPECT_NE(file_text(text).find("\"times_slower\""), std::string::npos);
    std::remove(binary.c_str());
    std::remove(text.c_str());
}

TEST(ModelVerb, refuses_another_kind_of_file_and_what_is_no_pose) {
    const Outcome kind = run_program("model " + two_blade_file + " --out head.obj");
    EXPECT_EQ(kind.exit_code, 2);
    EXPECT_NE(kind.err.find(".glb or .gltf"), std::string::npos);
    EXPECT_EQ(run_program("model " + two_blade_file + " --collective 2 --out unused.glb").exit_code, 2);
    EXPECT_EQ(run_program("model " + two_blade_file + " --horns 1,2 --out unused.glb").exit_code, 2);
}

// The head as it nearly closes is written all the same, and the exit code says that it does not.
TEST(ModelVerb, writes_a_head_that_does_not_close) {
    const std::string path = temporary("short.glb");
    const Outcome outcome = run_program("model " + two_blade_file + " --horns 80,80,-80 --out " + path);
    EXPECT_EQ(outcome.exit_code, 1) << outcome.err;
    EXPECT_EQ(file_text(path).substr(0, 4), "glTF");
    std::remove(path.c_str());
    const Outcome nowhere = run_program("model " + two_blade_file + " --out /nowhere/at/all.glb");
    EXPECT_EQ(nowhere.exit_code, 1);
    EXPECT_NE(nowhere.err.find("/nowhere/at/all.glb"), std::string::npos);
}

}  // namespace
}  // namespace swashwright::testing
