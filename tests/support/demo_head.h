// Heads of scene files, first of all the demo heads, for tests that need one as it is shipped.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"

namespace swashwright::testing {

inline const std::string two_blade_file = SWASHWRIGHT_SCENES "/two_blade_600.toml";

inline head::Description loaded(const std::string& path) {
    const auto scene = scene::load(path);
    EXPECT_TRUE(scene) << (scene ? "" : scene.error().text());
    return scene ? scene->head : head::Description{};
}

/// By its file in scenes/: "two_blade_600.toml".
inline head::Description demo(const std::string& file) {
    return loaded(SWASHWRIGHT_SCENES "/" + file);
}

inline head::Head demo_head(const std::string& file) {
    return head::Head::build(demo(file)).value();
}

inline head::Description two_blades() {
    return loaded(two_blade_file);
}

}  // namespace swashwright::testing
