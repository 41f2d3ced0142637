#include "kinematics/scene/scene.h"

#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

#include "kinematics/scene/toml_text.h"

namespace swashwright::scene {

std::string Mistakes::text() const {
    std::string out;
    for (const Mistake& mistake : list) {
        const auto [line, column] = mistake.place;
        out += line > 0 ? fmt::format("{}:{}:{}: {}\n", file, line, column, mistake.message)
                        : fmt::format("{}: {}\n", file, mistake.message);
    }
    return out;
}

Result<Scene> load(const std::string& path) {
    const auto refuse = [&](std::string message) {
        return tl::unexpected(Mistakes{path, {Mistake{{}, std::move(message)}}});
    };
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored))
        return refuse("this is a folder; expected a scene file; name one in it");
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    if (!file)
        return refuse(
            fmt::format("cannot be opened ({}); expected a scene file; check the path", std::strerror(errno)));
    std::string text(largest_file + 1, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (file.bad()) return refuse("cannot be read to its end; expected a scene file; check the disk");
    text.resize(static_cast<std::size_t>(file.gcount()));
    return parse(text, path);
}

}  // namespace swashwright::scene
