#include "kinematics/bench_files/lesson.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "kinematics/head/numbers.h"
#include "kinematics/scene/reader.h"
#include "kinematics/studies/live/live_angle.h"

namespace swashwright::scene {
namespace {

constexpr std::size_t longest_title = 60, longest_line = 300, most_settings = 12, most_answers = 4;
constexpr Kind stick{"a stick position", -1, 1};
constexpr Kind elevation{"an angle in degrees", -89, 89};
constexpr Kind closer{"a factor", 1, 8};
constexpr Kind exaggeration{"a factor", 1, 20};
constexpr Kind seconds{"a time in seconds", 0.5, 60};
constexpr Kind speed{"a speed in turns a minute", 0, 60};
constexpr Kind any_number{"a number", -1e6, 1e6};
constexpr Kind tolerance{"a tolerance", 1e-9, 1000};

/// What can be named on the head that the lesson stands on.
struct Names {
    const head::Description& head;
    std::vector<head::Number> numbers;
    std::vector<std::string> values, parts;
};

std::string raise_path(std::size_t servo) {
    return fmt::format("servo[{}].raise", servo + 1);
}

Names names_of(const head::Description& head) {
    Names out{head, head::numbers(head), studies::live_value_names(head), {}};
    const auto list = [&](const char* name, std::size_t count) {
        for (std::size_t i = 1; i <= count; ++i) out.parts.push_back(fmt::format("{}[{}]", name, i));
    };
    list("servo", head.servos.size());
    list("lower_link", head.lower_links.size());
    list("upper_link", head.upper_links.size());
    list("grip", head.grips.size());
    list("blade", head.grips.size());
    list("link", head.links.size());
    list("lever", head.levers.size());
    list("slider", head.sliders.size());
    for (const char* one : {"swashplate.inner_balls", "swashplate.outer_balls", "swashplate.guide_pin",
                            "swashplate.driver_pins", "rotor", "rotor.shaft", "frame"})
        out.parts.emplace_back(one);
    return out;
}

bool is_number(const Names& names, const std::string& path) {
    for (std::size_t j = 0; j < names.head.servos.size(); ++j)
        if (path == raise_path(j)) return true;
    return std::ranges::count(names.numbers, path, &head::Number::path) > 0;
}

bool of_stance(const std::string& name) {
    return name == "collective" || name == "aileron" || name == "elevator" || name == "rudder" || name == "azimuth_deg";
}

/// A line break in the file is a blank in the text; an empty line stays one.
std::string unfolded(const std::string& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '\n') {
            out += text[i];
            continue;
        }
        std::size_t breaks = 1;
        while (i + 1 < text.size() && text[i + 1] == '\n') ++i, ++breaks;
        if (!out.empty() && i + 1 < text.size()) out += breaks > 1 ? "\n\n" : " ";
    }
    return out;
}

/// Reads a lesson's tables; without a scene, names go unchecked.
class Reader {
public:
    Reader(std::string folder) : folder_(std::move(folder)) {}

    Lesson operator()(Keys& top) {
        Lesson lesson;
        lesson.title = top.text("title", longest_title);
        lesson.order = top.integer("order", 1, 1000).value_or(1);
        lesson.note = top.text("note", 0);
        lesson.scene_file = top.text("scene", longest_line);
        if (!lesson.scene_file.empty()) load_scene(top, lesson);
        lesson.set = settings(top);
        if (auto list = top.tables("step", "each headed [[step]]"))
            for (Keys& keys : *list) lesson.steps.push_back(step(keys));
        top.finish();
        return lesson;
    }

private:
    void load_scene(Keys& top, Lesson& lesson) {
        auto scene = load((std::filesystem::path(folder_) / lesson.scene_file).string());
        if (!scene)
            return top.mistake("scene",
                               fmt::format("the scene cannot be read: {}", scene.error().list.front().message));
        scene_ = std::move(*scene);
        lesson.scene = *scene_;
        names_.emplace(names_of(scene_->head));
    }

    void check_number(Keys& keys, const char* key, const std::string& path) {
        if (names_ && !path.empty() && !is_number(*names_, path))
            keys.mistake(key, fmt::format("the head has no number \"{}\"; expected a scene path such as "
                                          "upper_link[1].length_mm",
                                          path));
    }

    /// `sticks`: they and the rotor may be set too.
    std::vector<Setting> settings(Keys& keys, const char* key = "set", bool sticks = false) {
        std::vector<Setting> out;
        keys.allow(key);
        if (!keys.has(key)) return out;
        if (auto list = keys.tables(key, "{ number, to }"))
            for (Keys& one : *list) {
                Setting& setting = out.emplace_back();
                setting.number = one.text("number", longest_line);
                const bool moves = sticks && of_stance(setting.number);
                setting.to = one.number("to", moves && setting.number != "azimuth_deg" ? stick : any_number);
                if (!moves) check_number(one, "number", setting.number);
                if (setting.number.ends_with(".raise") && setting.to != 1 && setting.to != -1)
                    one.mistake("to", fmt::format("expected 1 or -1, found {}", setting.to));
                one.finish();
            }
        if (out.size() > most_settings)
            keys.mistake(key, fmt::format("expected {} settings at most, found {}", most_settings, out.size()));
        return out;
    }

    /// The keys of a stance stand in the table itself. A tail has other sticks than a main rotor.
    Stance stance(Keys& keys) {
        Stance out;
        const bool tail = names_ && names_->head.kind == head::Kind::tail;
        if (tail || !names_) out.sticks.rudder = keys.number("rudder", stick, 0);
        if (!tail) {
            out.sticks.collective = keys.number("collective", stick, 0);
            out.sticks.aileron = keys.number("aileron", stick, 0);
            out.sticks.elevator = keys.number("elevator", stick, 0);
        }
        out.azimuth_deg = keys.number("azimuth_deg", angle, 0);
        return out;
    }

    std::optional<Standpoint> standpoint(Keys& keys) {
        const Standpoint named[] = {{}, {145, 20, 1, {}}, {0, 4, 1, {}}, {90, 4, 1, {}}, {180, 89, 1, {}}};
        const std::size_t view = keys.word("view", {"as before", "corner", "nose", "left", "top"}, false);
        keys.allow("camera");
        if (!keys.has("camera")) return view ? std::optional(named[view]) : std::nullopt;
        auto camera = keys.table("camera", "{ bearing_deg, elevation_deg, closer, at }");
        if (!camera) return std::nullopt;
        Standpoint out = named[view];
        if (view && (camera->has("bearing_deg") || camera->has("elevation_deg")))
            camera->mistake("a bearing or elevation beside view; expected only one of the two");
        camera->allow("bearing_deg"), camera->allow("elevation_deg");
        if (!view) {
            out.bearing_deg = camera->number("bearing_deg", angle);
            out.elevation_deg = camera->number("elevation_deg", elevation);
        }
        out.closer = camera->number("closer", closer, 1);
        camera->allow("at");
        if (camera->has("at")) out.part = camera->text("at", longest_line);
        check_part(*camera, "at", out.part);
        camera->finish();
        return out;
    }

    void check_part(Keys& keys, const char* key, const std::string& part) {
        if (names_ && !part.empty() && !std::ranges::count(names_->parts, part))
            keys.mistake(key, fmt::format("the head has no part \"{}\"; expected one such as upper_link[1], servo[2], "
                                          "grip[1], swashplate.inner_balls",
                                          part));
    }

    /// The keys of a goal stand in the table itself.
    studies::Goal goal(Keys& keys) {
        studies::Goal out{keys.text("value", longest_line), keys.number("wanted", any_number),
                          keys.number("within", tolerance)};
        if (names_ && !out.value.empty() && !std::ranges::count(names_->values, out.value) &&
            !is_number(*names_, out.value))
            keys.mistake("value", fmt::format("the head has no value \"{}\"; expected one such as ring_tilt_deg, "
                                              "blade[1].pitch_deg, or a number by its scene path",
                                              out.value));
        return out;
    }

    Choice choice(Keys& keys) {
        Choice out;
        out.question = keys.text("question", longest_line);
        out.answers = keys.texts("answers", 2, most_answers, longest_line);
        const int count = out.answers.empty() ? static_cast<int>(most_answers) : static_cast<int>(out.answers.size());
        out.right = static_cast<std::size_t>(keys.integer("right", 1, count).value_or(1) - 1);
        out.because = keys.text("because", longest_line);
        keys.finish();
        return out;
    }

    Task task(Keys& keys) {
        Task out;
        out.words = keys.text("words", longest_line);
        out.change = keys.texts("change", 0, 4, longest_line);
        for (const std::string& path : out.change) check_number(keys, "change", path);
        if (auto list = keys.tables("goals", "{ value, wanted, within }"))
            for (Keys& one : *list) {
                out.goals.push_back(goal(one));
                one.finish();
            }
        out.done = keys.text("done", longest_line);
        out.way = settings(keys, "way", true);
        keys.finish();
        return out;
    }

    std::vector<Claim> claims(Keys& keys) {
        std::vector<Claim> out;
        keys.allow("claims");
        if (!keys.has("claims")) return out;
        if (auto list = keys.tables("claims", "{ says, value, wanted, within }"))
            for (Keys& one : *list) {
                Claim& claim = out.emplace_back();
                claim.says = one.text("says", longest_line);
                claim.goal = goal(one);
                claim.at = stance(one);
                claim.set = settings(one);
                one.finish();
            }
        return out;
    }

    Step step(Keys& keys) {
        Step out;
        out.text = unfolded(keys.text("text", 0));
        if (out.text.empty()) keys.mistake("text", "expected a text in quotation marks, found none; add it");
        out.source = unfolded(keys.text("source", 0));
        out.from = standpoint(keys);
        out.stance = stance(keys);
        keys.allow("to");
        if (keys.has("to"))
            if (auto to = keys.table("to", "{ collective, aileron, elevator (or rudder), azimuth_deg }")) {
                out.to = stance(*to);
                to->finish();
            }
        out.seconds = keys.number("seconds", seconds, out.seconds);
        out.rotor_rpm = keys.number("rotor_rpm", speed, 0);
        out.exaggerate = keys.number("exaggerate", exaggeration, 1);
        out.whole_blades = keys.word("blades", {"stubs", "whole"}, false) == 1;
        out.lit = keys.texts("lit", 0, 12, longest_line);
        for (const std::string& part : out.lit) check_part(keys, "lit", part);
        out.angle = keys.text("angle", 0);
        if (names_ && !out.angle.empty() &&
            (!std::ranges::count(names_->values, out.angle) || !studies::is_angle(out.angle)))
            keys.mistake("angle", fmt::format("the head has no angle \"{}\" between two parts; expected one such as "
                                              "servo[1].horn_to_link_deg or grip[1].arm_to_link_deg",
                                              out.angle));
        out.set = settings(keys);
        if (keys.has("drawing"))
            out.drawing = drawings[keys.word("drawing", {drawings[0], drawings[1], drawings[2]}, true)];
        keys.allow("drawing"), keys.allow("choice"), keys.allow("task");
        if (keys.has("choice"))
            if (auto one = keys.table("choice", "headed [step.choice]")) out.choice = choice(*one);
        if (keys.has("task"))
            if (auto one = keys.table("task", "headed [step.task]")) out.task = task(*one);
        if (out.choice && out.task) keys.mistake("task", "found beside choice; expected one question a step");
        out.claims = claims(keys);
        keys.finish();
        return out;
    }

    std::string folder_;
    std::optional<Scene> scene_;
    std::optional<Names> names_;
};

void apply(head::Description& head, const std::vector<Setting>& settings) {
    for (const Setting& setting : settings) {
        for (std::size_t j = 0; j < head.servos.size(); ++j)
            if (setting.number == raise_path(j)) head.servos[j].raise = setting.to > 0 ? 1 : -1;
        for (const head::Number& number : head::numbers(head))
            if (number.path == setting.number) head::value(head, number) = setting.to;
    }
}

}  // namespace

Result<Lesson> parse_lesson(std::string_view text, std::string file) {
    const std::string folder = std::filesystem::path(file).parent_path().string();
    return read_document(text, std::move(file), Reader(folder));
}

Result<Lesson> load_lesson(const std::string& path) {
    const auto text = read_file(path, "a lesson file");
    if (!text) return tl::unexpected(text.error());
    return parse_lesson(*text, path);
}

Stance stance_of(const Task& task, Stance from) {
    for (const Setting& setting : task.way) {
        if (setting.number == "collective") from.sticks.collective = setting.to;
        if (setting.number == "aileron") from.sticks.aileron = setting.to;
        if (setting.number == "elevator") from.sticks.elevator = setting.to;
        if (setting.number == "rudder") from.sticks.rudder = setting.to;
        if (setting.number == "azimuth_deg") from.azimuth_deg = setting.to;
    }
    return from;
}

head::Description head_of(const Lesson& lesson, const Step& step, const std::vector<Setting>& more) {
    head::Description out = lesson.scene.head;
    for (const auto* settings : {&lesson.set, &step.set, &more}) apply(out, *settings);
    return out;
}

}  // namespace swashwright::scene
