// What the scene rules say against a change of a scene that was sound before.
#pragma once

#include <optional>
#include <string>

#include "kinematics/scene/scene.h"

namespace swashwright::scene {

/// Why `next` is refused, as a sentence: a mistake that reading it from a file would tell and that `now` does not have,
/// or that no head can be built of it. None if it may stand; a loop that does not close may. `hanging`: parts may hang
/// free or hold each other rigid, too, because they are being put together one by one.
std::optional<std::string> refusal(const Scene& now, const Scene& next, bool hanging = false);

}  // namespace swashwright::scene
