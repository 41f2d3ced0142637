// --with: numbers of the scene that are other for this run; the file stays as it is.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "viewer/document/load_head.h"

namespace swashwright::console {

/// "upper_link[2].error_mm=0.3", as typed; by the paths of `head::numbers`.
using Changes = std::vector<std::string>;

/// `changes` must outlive parsing.
void add_changes(CLI::App& verb, Changes& changes);
/// `document::load_head`, with the changes made. A change is held to the rules of scene files.
tl::expected<document::LoadedHead, document::NoHead> load_head(const std::string& path, const Changes& changes,
                                                               bool must_close = true);
/// "With upper link 2, error 0.3 mm." Empty without changes.
std::string words_of(const Changes& changes, const head::Description& head);
/// The scene's note, after what was changed.
std::string noted(const Changes& changes, const scene::Scene& scene);

}  // namespace swashwright::console
