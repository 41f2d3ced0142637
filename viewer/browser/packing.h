// What a page and its workers say to each other, as bytes. Both are this same program, so no form needs to last.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

#include "kinematics/scene/scene.h"
#include "viewer/panels/questions/errand.h"
#include "viewer/sheet/print.h"

namespace swashwright::browser {

struct Order {
    panels::Study study = nullptr;
    panels::Asked asked;
};

std::string packed(panels::Study study, const panels::Asked& asked);
/// Fails with a sentence where the head cannot be read again.
tl::expected<Order, std::string> unpacked_order(std::string_view bytes);

std::string packed(const panels::Outcome& outcome);
panels::Outcome unpacked_outcome(std::string_view bytes);

/// A build sheet to be laid out, with the fonts that it is measured in; its picture without the pixels.
struct SheetOrder {
    scene::Scene scene;
    sheet::Paper paper{};
    std::optional<sheet::Picture> picture;
    std::vector<std::pair<std::string, std::string>> fonts;  // path and bytes
    bool card = false;
};

std::string packed(const SheetOrder& order);
tl::expected<SheetOrder, std::string> unpacked_sheet_order(std::string_view bytes);

/// Pages as SVG, or why there are none.
std::string packed(const tl::expected<std::string, std::string>& pages);
tl::expected<std::string, std::string> unpacked_pages(std::string_view bytes);

}  // namespace swashwright::browser
