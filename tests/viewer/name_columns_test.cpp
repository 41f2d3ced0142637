#include "viewer/draw/overlay/name_columns.h"

#include <gtest/gtest.h>

#include <random>

namespace swashwright::draw {
namespace {

bool meet(const NameBox& a, const NameBox& b) {
    return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y;
}

/// Pictures, names and taken places of any kind, from the crowded to the empty.
struct Case {
    std::vector<NameWanted> wanted;
    std::vector<NameBox> taken, busy;
    NameSheet sheet;

    explicit Case(unsigned seed) {
        std::mt19937 random(seed);
        const auto between = [&](float low, float high) {
            return std::uniform_real_distribution<float>(low, high)(random);
        };
        const glm::vec2 low(between(0, 200), between(0, 200)), size(between(120, 1600), between(80, 1000));
        sheet.picture = {low, low + size};
        sheet.height = between(12, 40);
        sheet.gap = between(1, 8);
        const auto inside = [&] { return low + glm::vec2(between(0, size.x), between(0, size.y)); };
        for (int i = static_cast<int>(between(0, 40)); i > 0; --i) wanted.push_back({between(20, 260), inside()});
        for (auto* boxes : {&taken, &busy}) {
            for (int i = static_cast<int>(between(0, 8)); i > 0; --i) {
                const glm::vec2 at = inside();
                boxes->push_back({at, at + glm::vec2(between(5, 200), between(5, 80))});
            }
        }
        sheet.taken = taken;
        sheet.busy = busy;
    }
};

TEST(NameColumns, KeepNamesApartInsideThePictureAndOffWhatIsTaken) {
    std::size_t wanted = 0, placed_at_all = 0;
    for (unsigned seed = 0; seed < 400; ++seed) {
        SCOPED_TRACE(seed);
        const Case now(seed);
        const auto placed = place_names(now.wanted, now.sheet);
        wanted += now.wanted.size(), placed_at_all += placed.size();
        for (std::size_t i = 0; i < placed.size(); ++i) {
            const NameBox& box = placed[i].box;
            EXPECT_NEAR(box.high.x - box.low.x, now.wanted[placed[i].which].width, 1e-3);
            EXPECT_GE(box.low.x, now.sheet.picture.low.x);
            EXPECT_GE(box.low.y, now.sheet.picture.low.y);
            EXPECT_LE(box.high.x, now.sheet.picture.high.x);
            EXPECT_LE(box.high.y, now.sheet.picture.high.y);
            for (const NameBox& other : now.taken) EXPECT_FALSE(meet(box, other));
            for (std::size_t j = 0; j < i; ++j) {
                EXPECT_FALSE(meet(box, placed[j].box));
                EXPECT_NE(placed[i].which, placed[j].which);
            }
        }
    }
    EXPECT_GT(2 * placed_at_all, wanted);  // narrow or low pictures have no room for all
}

TEST(NameColumns, LeadersCrossNowhereWhereThereIsRoom) {
    std::mt19937 random(7);
    for (int round = 0; round < 100; ++round) {
        std::vector<NameWanted> wanted;
        for (int i = 0; i < 20; ++i)
            wanted.push_back({std::uniform_real_distribution<float>(40, 140)(random),
                              {std::uniform_real_distribution<float>(350, 930)(random),
                               std::uniform_real_distribution<float>(60, 740)(random)}});
        const auto placed = place_names(wanted, {.picture = {{0, 0}, {1280, 800}}, .taken = {}, .busy = {}});
        ASSERT_EQ(placed.size(), wanted.size());
        for (const NamePlaced& a : placed)
            for (const NamePlaced& b : placed)
                EXPECT_FALSE(a.which != b.which && cross(a.from, wanted[a.which].tip, b.from, wanted[b.which].tip));
    }
}

TEST(NameColumns, ANameStandsBesideItsTip) {
    const std::vector<NameWanted> wanted{{100, {500, 300}}, {100, {700, 500}}};
    const auto placed = place_names(wanted, {.picture = {{0, 0}, {1280, 800}}, .taken = {}, .busy = {}});
    ASSERT_EQ(placed.size(), 2);
    for (const NamePlaced& name : placed)
        EXPECT_NEAR((name.box.low.y + name.box.high.y) / 2, wanted[name.which].tip.y, 4);  // the grid of places
    EXPECT_LT(placed[0].box.high.x, 500);
    EXPECT_GT(placed[1].box.low.x, 700);
}

TEST(NameColumns, WhatIsBusyIsLeftFreeWhereANameCanMove) {
    const std::vector<NameWanted> wanted{{100, {500, 300}}};
    const std::vector<NameBox> busy{{{0, 270}, {400, 330}}, {{900, 270}, {1280, 330}}};
    const auto placed = place_names(wanted, {.picture = {{0, 0}, {1280, 800}}, .taken = {}, .busy = busy});
    ASSERT_EQ(placed.size(), 1);
    for (const NameBox& box : busy) EXPECT_FALSE(meet(placed[0].box, box));
}

TEST(NameColumns, OneRowOfRoomTakesTheFirstWantedOfEachSide) {
    const std::vector<NameWanted> wanted{{50, {100, 20}}, {50, {300, 20}}, {50, {110, 25}}, {50, {310, 25}}};
    const auto placed = place_names(wanted, {.picture = {{0, 0}, {400, 30}}, .height = 20, .taken = {}, .busy = {}});
    ASSERT_EQ(placed.size(), 2);
    EXPECT_EQ(placed[0].which, 0);
    EXPECT_EQ(placed[1].which, 1);
}

}  // namespace
}  // namespace swashwright::draw
