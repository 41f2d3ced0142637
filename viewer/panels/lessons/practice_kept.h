// A round of practice as text, so that it outlives a program that comes to a bad end: on which head, which fault, where
// the gauge was read, which part would be named. What the gauge showed follows from these.
#pragma once

#include <string>
#include <tl/expected.hpp>

#include "viewer/document/recovery.h"
#include "viewer/panels/lessons/lesson_sheet.h"

namespace swashwright::panels {

/// What is to be kept while a round is on. Valid as long as both are.
document::KeptReadings practice_to_keep(const Bench& bench, const Lessons& lessons);

struct KeptRound {
    document::Document on;  // the head that it stands on, as described
    Practice practice;
};
/// `path`: of that head's scene. The error says why the round cannot go on.
tl::expected<KeptRound, std::string> round_of(const std::string& text, const std::string& path);

}  // namespace swashwright::panels
