// A scene file opened as the window opens it, without a window.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <utility>

#include "viewer/panels/window/state.h"

namespace swashwright::panels {

inline document::Document opened(const std::string& path) {
    auto document = document::Document::open(path);
    EXPECT_TRUE(document);
    return std::move(*document);
}

/// With no dialog open, and a report that is wanted but never written.
inline State state_of(const std::string& path) {
    State state = make_state(opened(path), "", "wanted");
    state.dialogs.open = Dialog::none;
    return state;
}

}  // namespace swashwright::panels
