// A turning head as an animated picture: WebP, by libwebp (RFC 9649).
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "viewer/draw/picture/picture.h"

namespace swashwright::draw {

/// One picture of the film: where the head stands then, and the words for it.
struct Moment {
    head::Pose pose;
    std::string words;
};

/// The bytes of a film that begins again at its end, in which each of `moments` stands for `milliseconds`. Fails with a
/// sentence.
tl::expected<std::string, std::string> make_film(const head::Description& description,
                                                 const std::vector<Moment>& moments, int milliseconds,
                                                 PictureOrder order);

}  // namespace swashwright::draw
