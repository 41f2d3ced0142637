// Scene files, format 1 (TOML): text to a head description and back. Format: README.md, "Scene files".
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/description.h"

namespace swashwright::scene {

/// One mistake in a scene file. Lines and columns count from 1; 0 where no place can be named.
struct Mistake {
    int line = 0;
    int column = 0;
    std::string message;  // what is wrong, what was expected, what was found, what to do
};

struct Mistakes {
    std::string file;
    std::vector<Mistake> list;  // never empty, in the order of the file

    /// One line for each mistake: "FILE:LINE:COLUMN: message".
    std::string text() const;
};

template <class T>
using Result = tl::expected<T, Mistakes>;

/// What is read besides the head itself.
struct Scene {
    head::Description head;
};

/// Reads a scene from text. `file` is used in messages only. Reports every mistake, not only the first.
/// Checks form, types, counts and ranges; whether the loop closes is the head's business (`load_head`).
Result<Scene> parse(std::string_view text, std::string file);
/// Reads a scene from a file. A file that cannot be read is a mistake with line 0.
Result<Scene> load(const std::string& path);
/// The scene as text; `parse` gives the same numbers back, to the last bit.
std::string write(const Scene& scene);

}  // namespace swashwright::scene
