// The log of one head, format 1 (TOML): what its scene was on a day, with a note, in one file beside it. A state holds
// the whole scene, so it can be compared with any other and taken up again. Keys: scenes/README.md, "The log".
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "kinematics/scene/scene.h"
#include "kinematics/studies/answer/answer.h"

namespace swashwright::scene {

struct LogState {
    std::string date;  // "2026-11-29", ISO 8601
    std::string note;  // one line, may be empty
    Scene scene;       // with the meshes that were found
};

struct HeadLog {
    std::vector<LogState> states;  // as they were put in
};

/// "two_blade_600.log.toml" beside "two_blade_600.toml".
std::string log_path(const std::string& scene_path);

/// Reports every mistake; those in a state's scene with the state's number and the line within it.
Result<HeadLog> parse_log(std::string_view text, std::string file);
/// A log that is not there is an empty one.
Result<HeadLog> load_log(const std::string& path);
/// `parse_log` gives the same back.
std::string write(const HeadLog& log);

/// "2026-11-29", where several are of that day with its number: "2026-11-29 (state 2)". `state`: from 0.
std::string state_words(const HeadLog& log, std::size_t state);

/// Why a state cannot be put in: a date that is none, a file that would grow too long to be read. Empty if it can.
std::string log_complaint(const HeadLog& log, const LogState& state);

/// The states in a table, with the pitch of each at mid stick, and how the head as it is now differs from the last.
studies::Answer answer(const HeadLog& log, const head::Description& now);

}  // namespace swashwright::scene
