// What of a head the eye sees: where a leader line may end, and which words on the ground would lie over parts.
// GL-free.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "viewer/draw/base/camera.h"
#include "viewer/draw/lines/strokes.h"

namespace swashwright::draw {

/// A place on a part that nothing hides.
struct Spot {
    Part part;
    Frame frame;
    Vec3 at;  // in the frame, so that it stays on the part while that moves
};

/// The words around the protractor: nose, 90, 180 and -90 deg.
inline constexpr std::array<double, 4> azimuth_words_deg{0, 90, 180, -90};

/// The rectangle around one solid of a part, pixels of the framebuffer.
struct SolidBox {
    Part part;
    glm::vec2 low, high;
};

struct InSight {
    std::vector<SolidBox> kept_free;  // of what words had better not lie on
    std::vector<Spot> spots;          // one for each part that is seen
    /// Where the words around the protractor stand, head frame; none where parts leave no room.
    std::array<std::optional<Vec3>, azimuth_words_deg.size()> words_at{};
};

/// Where the word at an azimuth stands on the ground, head frame.
Vec3 azimuth_word_at(double azimuth_deg, const Proportions& p);

/// A place for each part that can be seen, as near its middle as it may be; parts hidden behind others have none.
/// Places in `last` are kept while they are seen, so that leader lines do not jump as the head moves.
std::vector<Spot> spots_of(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                           const Viewport& viewport, const std::optional<Plane>& cut, const std::vector<Spot>& last);
/// Around the solids of what is lit or touched, and of the servos. Whether they are hidden is not asked.
std::vector<SolidBox> boxes_to_keep_free(const std::vector<Drawn>& drawn, const Frames& frames, const Camera& camera,
                                         const Style& style, const Viewport& viewport);
/// Where words of `half_width` x `half_height` pixels lie over no part: each at its azimuth, else farther out or a
/// little aside.
std::array<std::optional<Vec3>, azimuth_words_deg.size()> azimuth_words_at(
    const std::vector<Drawn>& drawn, const Frames& frames, const Proportions& p, const Camera& camera,
    const Viewport& viewport, double half_width, double half_height, const std::optional<Plane>& cut);

}  // namespace swashwright::draw
