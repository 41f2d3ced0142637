// What a press that changed several numbers at once has done: which from what to what, with the way back beside it.
#pragma once

#include <cstdint>
#include <string>

#include "kinematics/head/description.h"
#include "viewer/document/document.h"
#include "viewer/panels/base/screen.h"
#include "viewer/panels/bench/wishes.h"

namespace swashwright::panels {

struct Made {
    std::string words;           // empty: nothing
    std::uint64_t revision = 0;  // of the document that came of it
};

/// "lower link 1, length from 35.40 to 35.62 mm; ...": every number that moves something, in mm and deg. `other`: what
/// is said where none of them differs.
std::string change_words(const head::Description& before, const head::Description& after, const std::string& other);
/// As long as nothing has changed since; `id` is that of its button.
void draw_made(Screen& screen, const document::Document& document, const Made& made, const std::string& id,
               Wishes& wishes);

}  // namespace swashwright::panels
