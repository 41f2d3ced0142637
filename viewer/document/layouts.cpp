#include "viewer/document/layouts.h"

#include "kinematics/head/servo_layout.h"
#include "viewer/document/data_folder.h"

namespace swashwright::document {

const std::vector<Layout>& layouts() {
    static const std::vector<Layout> all{
        {"Three servos, 120\u00b0",
         "Balls 60\u00b0 left and right of the nose and over the tail",
         "two_blade_600.toml",
         {60, -60, 180}},
        {"Three servos, 140\u00b0",
         "Balls 70\u00b0 left and right of the nose and over the tail",
         "two_blade_600.toml",
         {70, -70, 180}},
        {"Three servos, 90\u00b0", "Balls left, right and over the tail", "two_blade_600.toml", {90, -90, 180}},
        {"Four servos", "Four links on one ring", "four_servos_700.toml"},
        {"A link for the guide", "A link to the frame holds the ring from turning", "link_held_450.toml"},
        {"Bellcranks", "Servos low in the frame, rods to bellcranks under the ring", "bellcranks_500.toml"},
        {"Stabiliser bar", "A bar with paddles, mixing levers and wash-out", "stabiliser_bar_600.toml"},
        {"Hinged links", "The links turn the ring: no driver arms", "hinged_links_450.toml"},
        {"Rocking spindle", "Both blades flap together and that changes their pitch", "rocking_spindle_600.toml"},
        {"Tail", "A bellcrank moves the pitch slider; one stick, the rudder", "tail_600.toml"},
    };
    return all;
}

scene::Result<scene::Scene> scene_of(const Layout& layout) {
    auto scene = scene::load((scenes_folder() / layout.file).string());
    if (!scene) return scene;
    if (!layout.ball_azimuths_deg.empty())
        scene->head = head::with_servos_at(std::move(scene->head), layout.ball_azimuths_deg);
    scene->head.name = "New head: " + layout.words;
    scene->places = {};  // they speak of the demo's file
    return scene;
}

}  // namespace swashwright::document
