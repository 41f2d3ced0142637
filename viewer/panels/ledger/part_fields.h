// Every number, name and choice of a part that the ledger does not show, as fields of a form. Which stands where and
// what it means; no drawing.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <variant>
#include <vector>

#include "kinematics/scene/scene.h"
#include "viewer/draw/base/part.h"

namespace swashwright::panels {

/// One number, or a few that belong together.
struct Numbers {
    using List = std::vector<double>;
    std::function<std::optional<List>(const head::Description&)> read;  // none: not given
    std::function<void(head::Description&, const std::optional<List>&)> write;
    List usual;                            // counts, or starts, where it is not given
    bool counts = false;                   // what is not given counts as `usual`
    bool may_be_missing = false;           // it can be taken away
    std::vector<std::string> each = {""};  // what each is: "x"
    int decimals = 2;
    double step = 0.01;
};

/// Something that may be typed, and what it is called: "lever[1].ball[2]", "bellcrank 1, ball 2".
struct Offer {
    std::string text, words;
};

struct Words {
    std::function<std::string(const scene::Scene&)> read;
    /// The error says what is wrong with the text.
    std::function<tl::expected<void, std::string>(scene::Scene&, const std::string&)> write;
    bool several_lines = false;
    std::function<std::vector<Offer>(const head::Description&)> offers = {};  // all that may be typed; none: anything
    bool ball = false;                                                        // it may be picked in the picture
};

struct Alternatives {
    std::vector<std::string> words;
    std::function<std::size_t(const head::Description&)> read;
    std::function<void(head::Description&, std::size_t)> write;
};

struct Field {
    std::string key;    // as in the scene file: "pulse_centre_us"
    std::string words;  // "Pulse at neutral, µs"; lengths end in "mm"
    std::string tip;
    std::variant<Numbers, Words, Alternatives> what;
    bool builds = false;  // parts may hang free by it: it is one step of putting a head together

    bool is_length() const { return words.ends_with("mm"); }
};

/// The fields of a part; those that all blades share stand with each of them, those of the whole head with the hub. The
/// accessors stay valid for every head with the same counts of parts. `inches`: how lengths in a text are read and
/// typed; numbers stay in mm.
std::vector<Field> fields_of(const head::Description& description, const draw::Part& part, bool inches = false);

/// "upper link 2", "servo left", "the head": how the form calls it.
std::string form_title(const head::Description& description, const draw::Part& part);

}  // namespace swashwright::panels
