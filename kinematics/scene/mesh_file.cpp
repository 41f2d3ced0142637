#include "kinematics/scene/mesh_file.h"

#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <fmt/format.h>

#include <algorithm>
#include <assimp/Importer.hpp>
#include <filesystem>

namespace swashwright::scene {

namespace {

constexpr std::uintmax_t largest_mesh_file = 64 * 1024 * 1024;
constexpr double furthest_mm = 10000;  // as other coordinates of a scene

bool named_stl(const std::string& path) {
    std::string end = std::filesystem::path(path).extension().string();
    std::ranges::transform(end, end.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; });
    return end == ".stl";
}

}  // namespace

tl::expected<head::Triangles, std::string> read_mesh(const std::string& path) {
    const auto fail = [&](std::string_view why) {
        return tl::unexpected(fmt::format("{}: {}; expected an STL file of triangles in mm", path, why));
    };
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error)) return fail("there is no such file");
    if (std::filesystem::file_size(path, error) > largest_mesh_file || error) return fail("the file is over 64 MB");
    if (!named_stl(path)) return fail("the name does not end in .stl");
    Assimp::Importer importer;
    importer.SetPropertyInteger(AI_CONFIG_PP_SBP_REMOVE, aiPrimitiveType_POINT | aiPrimitiveType_LINE);
    const aiScene* scene =
        importer.ReadFile(path, aiProcess_Triangulate | aiProcess_JoinIdenticalVertices | aiProcess_SortByPType);
    if (!scene) return fail("it is not one, or is cut short, or holds something else than numbers");
    head::Triangles out;
    for (unsigned m = 0; m < scene->mNumMeshes; ++m) {
        const aiMesh& mesh = *scene->mMeshes[m];
        const int first = static_cast<int>(out.points.size());
        for (unsigned v = 0; v < mesh.mNumVertices; ++v) {
            out.points.emplace_back(mesh.mVertices[v].x, mesh.mVertices[v].y, mesh.mVertices[v].z);
            if (!out.points.back().allFinite()) return fail("a corner is not a finite number");
            if (out.points.back().cwiseAbs().maxCoeff() > furthest_mm)
                return fail(fmt::format("a corner is more than {:.0f} mm away", furthest_mm));
        }
        for (unsigned f = 0; f < mesh.mNumFaces; ++f) {
            const aiFace& face = mesh.mFaces[f];
            if (face.mNumIndices == 3)
                out.faces.push_back({first + static_cast<int>(face.mIndices[0]),
                                     first + static_cast<int>(face.mIndices[1]),
                                     first + static_cast<int>(face.mIndices[2])});
        }
    }
    if (out.faces.empty()) return fail("it has no triangle");
    if (out.faces.size() > static_cast<std::size_t>(most_triangles))
        return fail(
            fmt::format("it has {} triangles, more than {}; make it coarser", out.faces.size(), most_triangles));
    return out;
}

}  // namespace swashwright::scene
