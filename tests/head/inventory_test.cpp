// What a description has and where it stands, against the linkage that is built from it.
#include "kinematics/head/inventory.h"

#include <gtest/gtest.h>

#include "kinematics/head/ball_places.h"
#include "kinematics/head/solver.h"
#include "tests/support/random_linkage.h"

namespace swashwright::head {
namespace {

TEST(Inventory, LinksAreThoseOfTheModel) {
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d);
        ASSERT_TRUE(head) << d.name;
        const Model& model = head->model();
        const auto links = links_of(d);
        ASSERT_EQ(links.size(), model.rods().size()) << d.name;
        for (std::size_t i = 0; i < links.size(); ++i) {
            const LinkRod& rod = model.rods()[i];
            EXPECT_EQ(path_of(links[i]), model.part(rod.part).path);
            EXPECT_EQ(link_words(d, links[i]), model.part(rod.part).words);
            EXPECT_EQ(link_of(d, links[i])->length_mm, rod.made.length_mm);
            const auto ends = ends_of(d, links[i]);
            ASSERT_TRUE(ends);
            for (std::size_t e = 0; e < 2; ++e) {
                EXPECT_EQ(head->parts().ball((*ends)[e]), rod.ends[e].ball);
                const auto carrier = part_of(d, (*ends)[e]);
                ASSERT_TRUE(carrier);
                EXPECT_EQ(model.find(carrier->role, carrier->index), rod.ends[e].part);
            }
        }
        for (const Role role : {Role::horn, Role::grip, Role::lever, Role::slider, Role::upper_link})
            for (const int index : {0, 1, 2, 3, 4, 5, 6})
                EXPECT_EQ(model.find(role, index).has_value(), static_cast<std::size_t>(index) < count_of(d, role));
    }
}

TEST(Inventory, WhatIsNotThereIsTold) {
    Description d = testing::linkages().front();
    const auto others = static_cast<int>(count_of(d, Role::other_link));
    d.links.emplace_back();  // nothing says what it joins
    EXPECT_NE(link_of(d, {Role::other_link, others}), nullptr);
    EXPECT_FALSE(ends_of(d, {Role::other_link, others}));
    for (const PartName& none : {PartName{Role::other_link, others + 1}, PartName{Role::lower_link, -1},
                                 PartName{Role::upper_link, 99}, PartName{Role::horn, 0}}) {
        EXPECT_EQ(link_of(d, none), nullptr);
        EXPECT_FALSE(ends_of(d, none));
    }
    using enum BallName::Of;
    for (const BallName::Of of : {servo, inner_ball, outer_ball, grip, lever, slider, fixed_ball})
        for (const int index : {-1, 99}) EXPECT_FALSE(part_of(d, BallName{of, index, 0}));
}

TEST(Inventory, APathLeadsBackToItsPart) {
    for (int role = 0; role <= static_cast<int>(Role::other_link); ++role) {
        const PartName part{static_cast<Role>(role), is_numbered(static_cast<Role>(role)) ? 2 : 0};
        EXPECT_EQ(part_of(path_of(part)), part) << path_of(part);
    }
}

TEST(BallPlaces, PartsStandWhereTheModelPutsThem) {
    for (const Description& d : testing::linkages()) {
        const auto head = Head::build(d);
        ASSERT_TRUE(head) << d.name;
        const Sticks sticks = d.kind == Kind::tail ? Sticks{.rudder = 0.4} : Sticks{.collective = 0.3, .aileron = 0.2};
        const auto pose = head->pose(sticks, 50);
        Solver solver(*head);
        ASSERT_TRUE(pose && solver.pose(sticks, 50)) << d.name;
        linkage::Workspace& ws = solver.workspace();
        for (const Role role : {Role::frame, Role::horn, Role::inner_ring, Role::outer_ring, Role::hub, Role::grip,
                                Role::lever, Role::slider}) {
            const auto count = static_cast<int>(count_of(d, role));
            for (int i = 0; i < count; ++i) {
                const Placement* found = place_of(pose->skeleton, {role, i});
                ASSERT_NE(found, nullptr);
                const Placement wanted = head->model().placement(*head->model().find(role, i), ws);
                EXPECT_LT((found->origin - wanted.origin).norm() + (found->turn - wanted.turn).norm(), 1e-9) << d.name;
            }
            if (is_numbered(role)) {
                EXPECT_EQ(place_of(pose->skeleton, {role, count}), nullptr);
            }
        }
        for (const PartName& link : links_of(d))
            for (const std::size_t e : {0, 1}) {
                const BallName ball = (*ends_of(d, link))[e];
                if (ball.of == BallName::Of::fixed_ball) continue;
                const auto balls = balls_on(pose->skeleton, *part_of(d, ball));
                EXPECT_EQ(std::ranges::count(balls, *ball_place(pose->skeleton, ball)), 1) << name_of(ball);
            }
    }
}

}  // namespace
}  // namespace swashwright::head
