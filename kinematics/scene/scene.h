// Scene files, formats 1 and 2 (TOML): text to a head description and back. Format: scenes/README.md.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/part.h"

namespace swashwright::scene {

/// A place in a scene file. Lines and columns count from 1; 0 where no place can be named.
struct Place {
    int line = 0;
    int column = 0;
};

/// One mistake in a scene file.
struct Mistake {
    Place place;
    std::string message;  // what is wrong, what was expected, what was found, what to do
};

struct Mistakes {
    std::string file;
    std::vector<Mistake> list;  // never empty, in the order of the file

    /// One line for each mistake: "FILE:LINE:COLUMN: message", or "FILE: message" where no place can be named. Of many
    /// the first ones; the last line then counts the rest.
    std::string text() const;
};

template <class T>
using Result = tl::expected<T, Mistakes>;

/// Where the parts stand in the file, for messages about a head that was read well but cannot be assembled.
struct Places {
    Place swashplate;
    std::vector<Place> lower_links, upper_links;  // their lengths; empty if the scene does not come from a file
    std::vector<Place> links, levers;             // of other links their lengths
    std::vector<Place> solids;                    // their mesh files

    /// Of a link's length; null if the file has no such link.
    const Place* of_link(const head::PartName& link) const;
};

/// A scene file's contents. Comments and the order of keys are not kept; `write_over` brings comments back.
struct Scene {
    head::Description head;
    std::string note;  // shown to people; demos say here that they are invented
    Places places;     // not written
};

/// Reads a scene from text. `file` is used in messages only. Reports every mistake, not only the first.
/// Checks form, types, counts and ranges; whether the loop closes is the head's business
/// (`head::Head::neutral_failure`).
Result<Scene> parse(std::string_view text, std::string file);
/// Reads a scene from a file, and the meshes that it names. A file that cannot be read is a mistake with no place.
Result<Scene> load(const std::string& path);
/// The scene as text; `parse` gives the same numbers and texts back, to the last bit, if they are within its ranges.
std::string write(const Scene& scene);

}  // namespace swashwright::scene
