// The first step of verbs that read a scene.
#pragma once

#include <string>
#include <tl/expected.hpp>

#include "viewer/console/changes.h"
#include "viewer/document/load_head.h"

namespace swashwright::console {

/// A scene's head, with `changes` made; or the exit code, the reason being told on standard error: `bad_input` for a
/// file that is no head, `cannot_be_assembled` for a head that `must_close` and does not. `out` is what the verb will
/// write, if it writes a file: refused if it is the scene or a mesh that the scene names.
tl::expected<document::LoadedHead, int> load(const std::string& path, const Changes& changes, const std::string& out,
                                             bool must_close);

}  // namespace swashwright::console
