// Where panels stand, and how much of the window the picture has.
#include "viewer/panels/base/layout.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <vector>

namespace swashwright::panels {
namespace {

struct Window {
    float width, height, scale;
};

const std::vector<Window> windows{{1024, 768, 1},  {1024, 768, 1.2F},  {1280, 800, 1},     {1280, 800, 1.5F},
                                  {1920, 1080, 1}, {1920, 1080, 1.5F}, {2560, 1440, 1.5F}, {3840, 2160, 2}};

std::string name_of(const Window& window) {
    return fmt::format("{} x {} at {:.0f} %", window.width, window.height, 100 * window.scale);
}

/// One row of tools where they fit, two where text is large.
Layout laid_out(const Window& window, Standing standing = {}) {
    standing.tools_height = (window.width / window.scale < 1250 ? 76 : 43) * window.scale;
    return lay_out(window.width, window.height, window.scale, standing);
}

double picture_share(const Window& window, const Standing& standing = {}) {
    const Rect picture = laid_out(window, standing).picture;
    return static_cast<double>(picture.width * picture.height / (window.width * window.height));
}

TEST(Layout, GivesThePictureHalfOfACommonWindow) {
    EXPECT_GE(picture_share({1280, 800, 1}), 0.5);
    EXPECT_GE(picture_share({1920, 1080, 1}), 0.6);
    EXPECT_GE(picture_share({1920, 1080, 1.5F}), 0.475);
    EXPECT_GE(picture_share({1024, 768, 1}), 0.41);
    EXPECT_GE(picture_share({1280, 800, 1.5F}), 0.25);
    EXPECT_GE(picture_share({1280, 800, 1}, {.wide = true}), 0.42);
    EXPECT_GE(picture_share({1920, 1080, 1}, {.wide = true}), 0.5);
}

TEST(Layout, GivesThePictureWhatIsFoldedAway) {
    for (const Window& window : windows)
        for (const bool wide : {false, true}) {
            SCOPED_TRACE(name_of(window));
            const double open = picture_share(window, {.wide = wide}),
                         no_tray = picture_share(window, {.wide = wide, .tray_folded = true}),
                         no_column = picture_share(window, {.wide = wide, .column_folded = true});
            EXPECT_GT(no_tray, open);
            EXPECT_GT(no_column, open);
            EXPECT_GE(no_column, 0.5);
        }
    EXPECT_GE(picture_share({1280, 800, 1}, {.wide = true, .tray_folded = true}), 0.465);
    EXPECT_GE(picture_share({1280, 800, 1}, {.column_folded = true}), 0.7);
    EXPECT_GE(picture_share({1280, 800, 1.5F}, {.tray_folded = true, .column_folded = true}), 0.6);
}

TEST(Layout, HoldsAllInsideTheWindowSideBySide) {
    for (const Window& window : windows)
        for (int bits = 0; bits < 16; ++bits) {
            SCOPED_TRACE(fmt::format("{}, {}", name_of(window), bits));
            const Layout l = laid_out(window, {.hands_height = bits & 8 ? 46 * window.scale : 0,
                                               .wide = (bits & 1) != 0,
                                               .tray_folded = (bits & 2) != 0,
                                               .column_folded = (bits & 4) != 0});
            const std::vector<Rect> all{l.sentence, l.tools, l.picture, l.caption, l.folds, l.hands, l.tray, l.column};
            for (const Rect& a : all) {
                EXPECT_GE(a.x, 0);
                EXPECT_GE(a.y, 0);
                EXPECT_LE(a.right(), window.width);
                EXPECT_LE(a.bottom(), window.height);
                for (const Rect& b : all) {
                    if (&a == &b || a.width * a.height == 0 || b.width * b.height == 0) continue;
                    EXPECT_TRUE(a.right() <= b.x || b.right() <= a.x || a.bottom() <= b.y || b.bottom() <= a.y);
                }
            }
            EXPECT_EQ(l.column.width == 0, (bits & 4) != 0);
        }
}

/// What is used next lies below an item or to its right: a note covers neither it nor that, where there is room
/// elsewhere.
TEST(BesideItem, LeavesTheItemAndWhatIsNextFree) {
    const auto over = [](const Rect& a, const Rect& b) {
        return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
    };
    const Rect low{900, 700, 80, 27};
    const Rect above = beside_item(low, 300, 60, 1280, 800, 5);
    EXPECT_FLOAT_EQ(above.bottom(), low.y - 5);
    EXPECT_FALSE(over(above, low));
    const Rect edge = beside_item({1220, 400, 50, 27}, 300, 60, 1280, 800, 5);
    EXPECT_LE(edge.right(), 1280);
    EXPECT_LT(edge.bottom(), 400);
    const Rect top = beside_item({700, 10, 80, 27}, 300, 60, 1280, 800, 5);  // no room above: to the left
    EXPECT_LE(top.right(), 700);
    const Rect corner = beside_item({5, 10, 80, 27}, 300, 60, 1280, 800, 5);  // nor to the left
    EXPECT_GE(corner.x, 85);
    const Rect wide = beside_item({5, 10, 1270, 27}, 300, 60, 1280, 800, 5);  // only below
    EXPECT_GE(wide.y, 37);
    for (const Rect& item : {low, Rect{1220, 400, 50, 27}, Rect{700, 10, 80, 27}, Rect{5, 10, 80, 27}})
        EXPECT_FALSE(over(beside_item(item, 300, 60, 1280, 800, 5), item));
}

}  // namespace
}  // namespace swashwright::panels
