#include "kinematics/scene/file_kind.h"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "kinematics/scene/reader.h"

namespace swashwright::scene {
namespace {

/// `has` says whether a key stands at the top of the file.
template <class Has>
FileKind kind_by(const Has& has) {
    const auto any = [&](std::initializer_list<const char*> keys) { return std::ranges::any_of(keys, has); };
    if (any({"rotor", "servo", "swashplate"})) return FileKind::scene;
    if (has("reading") && has("scene") && !has("layout")) return FileKind::calliper;
    if (any({"layout", "reading"})) return FileKind::measured;
    if (any({"pitch", "ring_height", "before"})) return FileKind::readings;
    return has("step") ? FileKind::lesson : FileKind::scene;
}

struct Words {
    const char* what;
    const char* where;  // it belongs
};

Words words_of(FileKind kind) {
    switch (kind) {
        case FileKind::scene:
            return {"a scene", "open it as a scene"};
        case FileKind::readings:
            return {"a file of gauge readings",
                    "open it in the window, or ask: swashwright diagnose SCENE --readings FILE"};
        case FileKind::measured:
            return {"a file of calliper readings", "open it in the window, or ask: swashwright measured FILE"};
        case FileKind::calliper:
            return {"a file of calliper readings on a scene's head", "ask: swashwright measured FILE"};
        case FileKind::lesson:
            break;
    }
    return {"a lesson", "lessons are on the window's sheet Lessons"};
}

}  // namespace

FileKind kind_of_file(const std::string& path) {
    const auto text = read_file(path, "a scene file");
    const auto table = text ? read_toml(*text) : tl::unexpected(Mistake{});
    return table ? kind_by([&](const char* key) { return table->contains(key); }) : FileKind::scene;
}

bool is_of_another_kind(Keys& top, FileKind wanted) {
    const FileKind kind = kind_by([&](const char* key) { return top.has(key); });
    // Where nothing tells, a scene passes for the kind that is wanted.
    if (kind == wanted || (kind == FileKind::scene && !top.has("rotor"))) return false;
    const Words found = words_of(kind), expected = words_of(wanted);
    top.mistake(fmt::format("this is {}, expected {}; {}", found.what, expected.what, found.where));
    return true;
}

}  // namespace swashwright::scene
