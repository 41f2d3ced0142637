// Heads with poses from an independent solver: tests/data/reference and tests/data/linkages, told in their READMEs.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"

namespace swashwright::testing {

struct ReferenceHead {
    std::string file;
    head::Head head;
    nlohmann::json poses;
};

/// `folder` below tests/data, with the list in poses.json.
inline std::vector<ReferenceHead> reference_heads(const std::string& folder) {
    const std::string path = SWASHWRIGHT_TEST_DATA "/" + folder + "/";
    nlohmann::json data;
    std::ifstream(path + "poses.json") >> data;
    std::vector<ReferenceHead> out;
    for (const auto& entry : data["heads"]) {
        const std::string file = entry["scene"];
        const auto scene = scene::load(path + file);
        if (!scene) {
            ADD_FAILURE() << scene.error().text();
            continue;
        }
        auto head = head::Head::build(scene->head);
        if (!head) {
            ADD_FAILURE() << file << ": " << head.error().message;
            continue;
        }
        out.push_back({file, *head, entry["poses"]});
    }
    return out;
}

/// What the pose does not name stands at 0.
inline head::Sticks sticks_of(const nlohmann::json& pose) {
    return {pose.value("collective", 0.0), pose.value("aileron", 0.0), pose.value("elevator", 0.0),
            pose.value("rudder", 0.0)};
}

}  // namespace swashwright::testing
