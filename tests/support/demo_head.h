// The demo heads, for tests that need one as it is shipped.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "kinematics/scene/scene.h"

namespace swashwright::testing {

/// By its file in scenes/: "two_blade_600.toml".
inline head::Description demo(const std::string& file) {
    const auto scene = scene::load(SWASHWRIGHT_SCENES "/" + file);
    EXPECT_TRUE(scene) << (scene ? "" : scene.error().text());
    return scene ? scene->head : head::Description{};
}

inline head::Description two_blades() {
    return demo("two_blade_600.toml");
}

}  // namespace swashwright::testing
