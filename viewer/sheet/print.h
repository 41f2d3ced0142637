// A sheet's content on paper, a plot as a picture. Nothing is worked out here.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "viewer/sheet/content.h"

namespace swashwright::sheet {

enum class Paper { a4, letter };  // ISO 216: 210 x 297 mm; ANSI/ASME Y14.1: 8.5 x 11 in

/// "a4", "letter".
std::optional<Paper> paper_named(std::string_view name);

/// A length that is drawn true: two thin strokes, and where nothing else crosses them.
struct TrueLength {
    std::string name;  // "bar", or the gauge's part: "upper_link[1]"
    int page = 1;
    bool upright = false;     // along the page
    double from = 0, to = 0;  // the strokes' places along the length; mm from the page's left, or top if upright
    double across = 0;        // where to look for them, mm from the page's top, or left if upright
};

struct Pdf {
    std::string bytes;
    int pages = 0;
    std::vector<TrueLength> true_lengths;
};

/// Fails with a sentence where cairo does.
tl::expected<Pdf, std::string> pdf(const Sheet& sheet, Paper paper);
/// The bytes of an SVG file.
tl::expected<std::string, std::string> svg(const Plot& plot);
tl::expected<std::string, std::string> svg(const EnvelopeMap& map);

}  // namespace swashwright::sheet
