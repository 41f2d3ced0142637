#include "kinematics/scene/scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <span>

#include "kinematics/scene/files.h"
#include "kinematics/scene/mesh_file.h"
#include "kinematics/scene/toml_text.h"

namespace swashwright::scene {

namespace {

constexpr std::size_t most_told = 20;  // more would push the first ones off the screen

}  // namespace

const Place* Places::of_link(const head::PartName& link) const {
    const auto& list = link.role == head::Role::lower_link   ? lower_links
                       : link.role == head::Role::upper_link ? upper_links
                                                             : links;
    const auto i = static_cast<std::size_t>(link.index);
    return is_link(link.role) && i < list.size() ? &list[i] : nullptr;
}

std::string Mistakes::text() const {
    std::string out;
    for (const Mistake& mistake : std::span(list).first(std::min(list.size(), most_told))) {
        const auto [line, column] = mistake.place;
        out += line > 0 ? fmt::format("{}:{}:{}: {}\n", file, line, column, mistake.message)
                        : fmt::format("{}: {}\n", file, mistake.message);
    }
    if (list.size() > most_told)
        out += fmt::format("{}: and {} more mistakes; correct these first\n", file, list.size() - most_told);
    return out;
}

Result<std::string> read_file(const std::string& path, std::string_view expected) {
    const auto refuse = [&](std::string message) {
        return tl::unexpected(Mistakes{path, {Mistake{{}, std::move(message)}}});
    };
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored))
        return refuse(fmt::format("this is a folder; expected {}; name one in it", expected));
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    if (!file)
        return refuse(
            fmt::format("cannot be opened ({}); expected {}; check the path", std::strerror(errno), expected));
    std::string text(largest_file + 1, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (file.bad()) return refuse(fmt::format("cannot be read to its end; expected {}; check the disk", expected));
    text.resize(static_cast<std::size_t>(file.gcount()));
    return text;
}

std::vector<Mistake> read_meshes(Scene& scene, const std::string& path) {
    std::vector<Mistake> out;
    for (std::size_t i = 0; i < scene.head.solids.size(); ++i) {
        head::Solid& solid = scene.head.solids[i];
        if (solid.shape != head::Solid::Shape::mesh) continue;
        auto mesh = read_mesh(mesh_path(path, solid));
        if (mesh)
            solid.mesh = std::make_shared<const head::Triangles>(std::move(*mesh));
        else
            out.push_back({scene.places.solids[i], mesh.error()});
    }
    return out;
}

Result<Scene> load(const std::string& path) {
    const auto text = read_file(path, "a scene file");
    if (!text) return tl::unexpected(text.error());
    auto scene = parse(*text, path);
    if (!scene) return scene;
    if (auto mistakes = read_meshes(*scene, path); !mistakes.empty())
        return tl::unexpected(Mistakes{path, std::move(mistakes)});
    return scene;
}

std::string beside(const std::string& path, const std::string& name) {
    return (std::filesystem::path(path).parent_path() / name).string();
}

std::string mesh_path(const std::string& path, const head::Solid& solid) {
    return beside(path, solid.file);
}

std::vector<std::string> files_of(const std::string& path, const Scene& scene) {
    std::vector<std::string> out{path};
    for (const head::Solid& solid : scene.head.solids)
        if (solid.shape == head::Solid::Shape::mesh) out.push_back(mesh_path(path, solid));
    return out;
}

}  // namespace swashwright::scene
