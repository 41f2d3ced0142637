// Files that are wrong in one way each, and the whole text that the program gives for them. To add one, put
// NN_name.toml and NN_name.txt (with FILE for the file's name) into tests/data/broken.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "kinematics/scene/scene.h"

namespace swashwright::scene {
namespace {

std::string text_of(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

std::vector<std::filesystem::path> broken_files() {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_TEST_DATA "/broken"))
        if (entry.path().extension() == ".toml") files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    return files;
}

class Broken : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(Broken, gets_the_message_that_stands_beside_it) {
    const auto scene = parse(text_of(GetParam()), "FILE");
    ASSERT_FALSE(scene);
    EXPECT_EQ(scene.error().text(), text_of(std::filesystem::path(GetParam()).replace_extension(".txt")));
}

INSTANTIATE_TEST_SUITE_P(Scene, Broken, ::testing::ValuesIn(broken_files()),
                         [](const auto& file) { return "file_" + file.param.stem().string(); });

}  // namespace
}  // namespace swashwright::scene
