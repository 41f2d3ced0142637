// The scenes of every kind of linkage, for tests that go over all of them.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

namespace swashwright::testing {

inline std::vector<std::string> linkage_files() {
    std::vector<std::string> out;
    for (const auto& entry : std::filesystem::directory_iterator(SWASHWRIGHT_TEST_DATA "/linkages"))
        if (entry.path().extension() == ".toml") out.push_back(entry.path().string());
    std::ranges::sort(out);
    return out;
}

inline std::string name_of_file(const ::testing::TestParamInfo<std::string>& info) {
    return std::filesystem::path(info.param).stem().string();
}

}  // namespace swashwright::testing
