#include "viewer/panels/lessons/practice_kept.h"

#include <nlohmann/json.hpp>
#include <utility>

#include "kinematics/studies/questions/practice_places.h"

namespace swashwright::panels {

namespace {

/// The document that the round stands on, whether or not it is shown.
const document::Document& rounds_document(const Bench& bench, const Lessons& lessons) {
    return (lessons.on_bench ? bench : lessons.off_bench->bench).document();
}

std::string text_of(const scene::Scene& scene, const Practice& practice) {
    auto places = nlohmann::json::array();
    for (const auto& r : practice.readings.pitch) places.push_back(studies::place_text(r));
    for (const auto& r : practice.readings.ring_height) places.push_back(studies::place_text(r));
    const nlohmann::json json{{"title", practice.round.title},
                              {"number", practice.round.number},
                              {"scene", scene::write(scene)},
                              {"places", places},
                              {"chosen", practice.chosen}};
    return json.dump(2, ' ', false, nlohmann::json::error_handler_t::replace);
}

bool is_round(const nlohmann::json& json) {
    if (!json.is_object() || !json.contains("number") || !json["number"].is_number_unsigned()) return false;
    if (!json.contains("places") || !json["places"].is_array()) return false;
    for (const auto& place : json["places"])
        if (!place.is_string()) return false;
    for (const char* key : {"title", "scene", "chosen"})
        if (!json.contains(key) || !json[key].is_string()) return false;
    return true;
}

}  // namespace

document::KeptReadings practice_to_keep(const Bench& bench, const Lessons& lessons) {
    const Practice& practice = lessons.practice;
    if (!practice.on() || practice.told) return {practice.revision, false, {}, {}};
    const document::Document& on = rounds_document(bench, lessons);
    return {practice.revision, true, on.path(), [&on, &practice] { return text_of(on.as_opened(), practice); }};
}

tl::expected<KeptRound, std::string> round_of(const std::string& text, const std::string& path) {
    const auto json = nlohmann::json::parse(text, nullptr, /*allow_exceptions=*/false);
    if (!is_round(json)) return tl::unexpected(std::string("The round of practice that was left cannot be read."));
    auto scene = scene::parse(json["scene"].get<std::string>(), path);
    if (!scene) return tl::unexpected(scene.error().text());
    KeptRound out{document::Document(std::move(*scene), path), {}};
    out.practice = hide(out.on.head(), {json["title"], json["number"].get<std::uint64_t>()});
    if (!out.practice.on()) return tl::unexpected(out.practice.said);
    studies::Readings places = out.practice.readings;
    for (const auto& place : json["places"])
        if (auto added = studies::add_place(places, place.get<std::string>()); !added)
            return tl::unexpected(added.error());
    if (places.size() > 0) read_places(out.practice, std::move(places));
    if (!out.practice.said.empty()) return tl::unexpected(out.practice.said);
    choose_part(out.practice, json["chosen"]);
    return out;
}

}  // namespace swashwright::panels
