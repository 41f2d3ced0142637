// A head's build sheet, from what the studies say about it.
#pragma once

#include <optional>
#include <stop_token>
#include <string>
#include <tl/expected.hpp>

#include "kinematics/head/head.h"
#include "viewer/sheet/content.h"

namespace swashwright::sheet {

struct Wishes {
    bool card = false;  // the card for the field box in its place (field_card.h)
    bool picture = true;
    std::string made;  // date; today if empty
    std::stop_token stop = {};
    std::optional<Picture> drawn = {};  // the picture, where it was drawn beforehand
};

/// `note`: what the scene says about itself. Fails with a sentence where the head has no pose at neutral, or if it was
/// stopped ("stopped"). A study that has no answer leaves its reason in its place. For the picture an OpenGL context is
/// opened, which is this thread's current one for that time.
tl::expected<Sheet, std::string> compose(const head::Head& head, const std::string& note, const Wishes& wishes = {});

}  // namespace swashwright::sheet
