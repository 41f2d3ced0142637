// Numbers packed into a glTF buffer.
#pragma once

#include <tiny_gltf.h>

#include <array>
#include <cstdint>
#include <map>
#include <span>
#include <string>
#include <vector>

namespace swashwright::model {

/// Fills the one buffer of a model. What is the same to the byte is kept once. Each returns the accessor's number.
class Accessors {
public:
    explicit Accessors(tinygltf::Model& model);

    int add_times(std::span<const float> seconds);
    int add_turns(std::span<const std::array<float, 4>> quaternions);
    int add_places(std::span<const std::array<float, 3>> places);
    int add_vertices(std::span<const std::array<float, 3>> vectors);
    int add_triangles(std::span<const std::uint32_t> indices, std::size_t vertices);

private:
    int add(const void* from, std::size_t bytes, tinygltf::Accessor accessor, int target);
    /// With the least and the most of each component, as glTF wants of times and of vertices.
    template <std::size_t N>
    int add_floats(std::span<const std::array<float, N>> rows, int type, int target);

    tinygltf::Model& model_;
    std::map<std::string, int> known_;
};

}  // namespace swashwright::model
