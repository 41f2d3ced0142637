// What goes to a page's worker and comes back is all there: what is asked, and what is answered.
#include "viewer/browser/packing.h"

#include <gtest/gtest.h>

#include <set>

#include "kinematics/bench_files/readings.h"
#include "tests/support/demo_head.h"
#include "viewer/console/study.h"

namespace swashwright::browser {
namespace {

/// With a gauge of all that it may be, one sign typed wrong, and as they were before.
studies::Readings readings_as_they_are() {
    studies::Readings out = scene::load_readings(SWASHWRIGHT_SCENES "/readings/two_blade_600.toml").value().readings;
    out.before = std::make_shared<const studies::Readings>(out);
    out.gauge = {studies::ZeroedOn::level, 0.2, 0.7};
    out.pitch.back().reading_deg *= -1;
    return out;
}

std::string text_of(const head::Description& description) {
    scene::Scene scene;
    scene.head = description;
    return scene::write(scene);
}

std::string text_of(const panels::Asked& asked) {
    return scene::write(scene::ReadingsFile{asked.readings, asked.readings_note});
}

panels::Asked asked_of(const studies::Question& question, const studies::Card& card, const head::Head& head) {
    panels::Asked out{head, {0.3, 0.1, -0.2, 0}, question.start(card)};
    if (question.reads_readings) {
        out.readings = readings_as_they_are();
        out.readings_note = "Invented.";
    }
    return out;
}

void expect_same_order(const studies::Question& question, const panels::Asked& asked) {
    const auto order = unpacked_order(packed(question.run, asked));
    ASSERT_TRUE(order) << order.error();
    EXPECT_EQ(order->study, question.run);
    EXPECT_EQ(text_of(order->asked.head.description()), text_of(asked.head.description()));
    EXPECT_EQ(order->asked.sticks, asked.sticks);
    EXPECT_EQ(order->asked.values, asked.values);
    EXPECT_EQ(text_of(order->asked), text_of(asked));
    EXPECT_EQ(order->asked.readings.before != nullptr, asked.readings.before != nullptr);
}

/// What of a reply came over, of those that were seen.
using Seen = std::set<std::string>;

void expect_same(const panels::Outcome& outcome, Seen& seen) {
    const std::string bytes = packed(outcome);
    const panels::Outcome came = unpacked_outcome(bytes);
    EXPECT_EQ(packed(came), bytes);
    ASSERT_EQ(came.has_value(), outcome.has_value());
    if (!outcome) {
        EXPECT_EQ(came.error(), outcome.error());
        seen.insert("no answer");
        return;
    }
    EXPECT_EQ(console::as_json(came->answer), console::as_json(outcome->answer));
    EXPECT_EQ(as_text(came->answer), as_text(outcome->answer));
    EXPECT_EQ(came->answer.tone, outcome->answer.tone);
    EXPECT_EQ(came->proposal_words, outcome->proposal_words);
    EXPECT_EQ(came->take_again, outcome->take_again);
    EXPECT_EQ(came->so_far, outcome->so_far);
    if (!outcome->so_far.empty()) seen.insert("so far");
    ASSERT_EQ(came->proposal.has_value(), outcome->proposal.has_value());
    ASSERT_EQ(came->map != nullptr, outcome->map != nullptr);
    ASSERT_EQ(came->power != nullptr, outcome->power != nullptr);
    if (outcome->proposal) {
        EXPECT_EQ(text_of(*came->proposal), text_of(*outcome->proposal));
        seen.insert("proposal");
    }
    if (outcome->map) {
        EXPECT_EQ(came->map->poses, outcome->map->poses);
        seen.insert("map");
    }
    if (outcome->power) {
        EXPECT_EQ(console::as_json(studies::answer(*came->power)), console::as_json(studies::answer(*outcome->power)));
        seen.insert("power");
    }
    if (!outcome->take_again.empty()) seen.insert("take again");
}

TEST(Packing, LeavesNothingOutOfAnyQuestionAndItsAnswer) {
    Seen seen;
    for (const char* file : {"two_blade_600.toml", "tail_600.toml"}) {
        const head::Head head = testing::demo_head(file);
        for (const studies::Question& question : studies::all_questions())
            for (const studies::Card& card : question.cards) {
                SCOPED_TRACE(std::string(file) + ", " + card.key);
                panels::Asked asked = asked_of(question, card, head);
                expect_same_order(question, asked);
                asked.so_far = [&](panels::Reply look) { expect_same(panels::Outcome(std::move(look)), seen); };
                expect_same(question.run(asked).map_error(&studies::NoAnswer::why), seen);
            }
    }
    EXPECT_EQ(seen, (Seen{"no answer", "proposal", "map", "power", "take again", "so far"}));
}

// What has no card is asked by a place of its own in the window.
TEST(Packing, LeavesNothingOutOfARoundOfPractice) {
    const auto practice = std::ranges::find(studies::all_questions(), "practice", &studies::Question::verb);
    ASSERT_NE(practice, studies::all_questions().end());
    panels::Asked asked{testing::demo_head("two_blade_600.toml"), {}, studies::Values(practice->options)};
    asked.values.set("number", std::int64_t{20'261'129});
    asked.values.set("read", std::vector<std::string>{"blade=2,azimuth=90,collective=1", "ball=1"});
    asked.values.set("name", std::vector<std::string>{"mixing"});
    expect_same_order(*practice, asked);
    Seen seen;
    expect_same(practice->run(asked).map_error(&studies::NoAnswer::why), seen);
    EXPECT_TRUE(seen.empty());
}

TEST(Packing, TakesTheTrianglesOfAMeshAlong) {
    head::Description description = testing::two_blades();
    head::Triangles triangles;
    triangles.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 0.5}};
    triangles.faces = {{0, 1, 2}, {0, 2, 3}};
    description.solids.push_back({.part = "hub", .shape = head::Solid::Shape::mesh, .file = "a.stl"});
    description.solids.back().mesh = std::make_shared<const head::Triangles>(triangles);
    const studies::Question& question = studies::all_questions().front();
    const panels::Asked asked{head::Head::build(description).value(), {}, studies::Values(question.options)};
    const auto order = unpacked_order(packed(question.run, asked));
    ASSERT_TRUE(order) << order.error();
    const auto& came = order->asked.head.description().solids.back().mesh;
    ASSERT_TRUE(came);
    EXPECT_EQ(came->points, triangles.points);
    EXPECT_EQ(came->faces, triangles.faces);
}

}  // namespace
}  // namespace swashwright::browser
