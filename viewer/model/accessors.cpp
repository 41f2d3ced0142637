#include "viewer/model/accessors.h"

#include <algorithm>
#include <cstring>

namespace swashwright::model {
namespace {

constexpr int no_target = 0;  // not for drawing

}  // namespace

Accessors::Accessors(tinygltf::Model& model) : model_(model) {
    model_.buffers.emplace_back();
}

int Accessors::add(const void* from, std::size_t bytes, tinygltf::Accessor accessor, int target) {
    std::string key(bytes, '\0');
    std::memcpy(key.data(), from, bytes);
    key += static_cast<char>(accessor.type) + std::to_string(accessor.componentType) + std::to_string(target);
    if (const auto known = known_.find(key); known != known_.end()) return known->second;
    std::vector<unsigned char>& data = model_.buffers.front().data;
    data.resize((data.size() + 3) / 4 * 4);  // every view begins at a multiple of its component's size
    tinygltf::BufferView view;
    view.buffer = 0;
    view.byteOffset = data.size();
    view.byteLength = bytes;
    view.target = target;
    data.resize(data.size() + bytes);
    std::memcpy(data.data() + view.byteOffset, from, bytes);
    accessor.bufferView = static_cast<int>(model_.bufferViews.size());
    model_.bufferViews.push_back(std::move(view));
    model_.accessors.push_back(std::move(accessor));
    return known_[key] = static_cast<int>(model_.accessors.size()) - 1;
}

template <std::size_t N>
int Accessors::add_floats(std::span<const std::array<float, N>> rows, int type, int target) {
    tinygltf::Accessor accessor;
    accessor.componentType = TINYGLTF_COMPONENT_TYPE_FLOAT;
    accessor.type = type;
    accessor.count = rows.size();
    for (std::size_t c = 0; c < N; ++c) {
        const auto component = [c](const std::array<float, N>& row) { return row[c]; };
        const auto [least, most] = std::ranges::minmax(rows, {}, component);
        accessor.minValues.push_back(static_cast<double>(least[c]));
        accessor.maxValues.push_back(static_cast<double>(most[c]));
    }
    return add(rows.data(), rows.size_bytes(), std::move(accessor), target);
}

int Accessors::add_times(std::span<const float> seconds) {
    const std::vector<std::array<float, 1>> rows = [&] {
        std::vector<std::array<float, 1>> out;
        for (const float s : seconds) out.push_back({s});
        return out;
    }();
    return add_floats<1>(rows, TINYGLTF_TYPE_SCALAR, no_target);
}

int Accessors::add_turns(std::span<const std::array<float, 4>> quaternions) {
    return add_floats<4>(quaternions, TINYGLTF_TYPE_VEC4, no_target);
}

int Accessors::add_places(std::span<const std::array<float, 3>> places) {
    return add_floats<3>(places, TINYGLTF_TYPE_VEC3, no_target);
}

int Accessors::add_vertices(std::span<const std::array<float, 3>> vectors) {
    return add_floats<3>(vectors, TINYGLTF_TYPE_VEC3, TINYGLTF_TARGET_ARRAY_BUFFER);
}

int Accessors::add_triangles(std::span<const std::uint32_t> indices, std::size_t vertices) {
    tinygltf::Accessor accessor;
    accessor.type = TINYGLTF_TYPE_SCALAR;
    accessor.count = indices.size();
    accessor.componentType = TINYGLTF_COMPONENT_TYPE_UNSIGNED_INT;
    if (vertices >= 65535)  // 65535 itself is not allowed as a number of 16 bits
        return add(indices.data(), indices.size_bytes(), std::move(accessor), TINYGLTF_TARGET_ELEMENT_ARRAY_BUFFER);
    std::vector<std::uint16_t> half;
    half.reserve(indices.size());
    for (const std::uint32_t i : indices) half.push_back(static_cast<std::uint16_t>(i));
    accessor.componentType = TINYGLTF_COMPONENT_TYPE_UNSIGNED_SHORT;
    return add(half.data(), half.size() * sizeof(half[0]), std::move(accessor), TINYGLTF_TARGET_ELEMENT_ARRAY_BUFFER);
}

}  // namespace swashwright::model
