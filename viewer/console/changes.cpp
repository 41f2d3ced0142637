#include "viewer/console/changes.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "kinematics/head/numbers.h"
#include "kinematics/scene/refusal.h"
#include "viewer/console/numbers.h"

namespace swashwright::console {
namespace {

struct Change {
    head::Number number;
    double to = 0;
};

std::optional<Change> read_change(const std::string& text, const head::Description& head) {
    const std::size_t equals = std::min(text.find('='), text.size());
    const auto to = finite_number(std::string_view(text).substr(std::min(equals + 1, text.size())));
    const auto numbers = head::numbers(head);
    const auto found = std::ranges::find(numbers, text.substr(0, equals), &head::Number::path);
    if (!to || found == numbers.end()) return std::nullopt;
    return Change{*found, *to};
}

}  // namespace

void add_changes(CLI::App& verb, Changes& changes) {
    verb.add_option("--with", changes,
                    "A number of the scene that is other for this run; any number of them: upper_link[2].error_mm=0.3")
        ->type_name("NUMBER=VALUE")
        ->allow_extra_args(false);
}

tl::expected<document::LoadedHead, document::NoHead> load_head(const std::string& path, const Changes& changes,
                                                               bool must_close) {
    auto loaded = document::load_head(path, must_close && changes.empty());
    if (!loaded || changes.empty()) return loaded;
    scene::Scene& scene = loaded->scene;
    for (const std::string& text : changes) {
        const auto change = read_change(text, scene.head);
        if (!change)
            return tl::unexpected(document::NoHead{
                fmt::format("swashwright: --with {}: expected a number of this scene and its value, such as "
                            "upper_link[2].error_mm=0.3 or servo[1].trim_deg=2\n",
                            text)});
        scene::Scene next = scene;
        head::value(next.head, change->number) = change->to;
        if (const auto refused = scene::refusal(scene, next))
            return tl::unexpected(document::NoHead{fmt::format("swashwright: --with {}: {}\n", text, *refused)});
        scene = std::move(next);
    }
    auto head = head::Head::build(scene.head);
    if (!head) return tl::unexpected(document::NoHead{document::as_mistakes(path, scene, head.error()).text()});
    if (const head::Failure* failure = head->neutral_failure(); failure && must_close)
        return tl::unexpected(
            document::NoHead{document::as_mistakes(path, scene, *failure).text(), /*cannot_close=*/true});
    return document::LoadedHead{std::move(scene), std::move(*head)};
}

std::string words_of(const Changes& changes, const head::Description& head) {
    std::string out;
    for (const std::string& text : changes)
        if (const auto change = read_change(text, head)) {
            const head::Unit unit = change->number.unit;
            out += fmt::format("{} {} {:g}{}", out.empty() ? "With" : ";", change->number.label, change->to,
                               unit == head::Unit::mm    ? " mm"
                               : unit == head::Unit::deg ? " deg"
                                                         : "");
        }
    return out.empty() ? out : out + ".";
}

std::string noted(const Changes& changes, const scene::Scene& scene) {
    const std::string words = words_of(changes, scene.head);
    return words.empty() || scene.note.empty() ? words + scene.note : words + " " + scene.note;
}

}  // namespace swashwright::console
