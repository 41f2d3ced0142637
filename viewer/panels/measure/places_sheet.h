// The open head measured place by place: what was typed so far, and what it comes to.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/bench_files/calliper.h"
#include "viewer/document/document.h"
#include "viewer/document/recovery.h"
#include "viewer/panels/bench/made.h"
#include "viewer/panels/measure/places_errand.h"

namespace swashwright::panels {

/// What readings come to on one head.
struct PlacesFound {
    std::vector<studies::CalliperPlace> places;  // of the head
    std::vector<std::optional<double>> present;  // what the head gives at each
    std::size_t elsewhere = 0;                   // readings of places that it does not have: not used
    tl::expected<studies::CalliperFit, std::string> fit = tl::unexpected(std::string());
};

struct PlacesSheet {
    scene::CalliperFile file;    // typed so far
    std::uint64_t revision = 1;  // changes with every number typed
    std::uint64_t saved_revision = 1;
    bool shown = false;                // this page of the Measure sheet, in place of the pages of a new head
    std::set<std::string> open;        // groups of places that are unfolded
    bool doubts_open = false;          // all that is doubtful
    std::optional<std::string> go_to;  // the place whose field the keyboard goes to in the next frame
    std::string path;                  // of the readings; empty until they are saved or read
    std::string said;                  // what came of saving, reading or setting

    Made made;                                     // of setting, while nothing has been changed since
    std::uint64_t set_readings = 0, set_head = 0;  // readings that were set last, and the document that had them then
    /// Readings and document, by their revisions.
    struct Stamp {
        std::uint64_t readings = 0, head = 0;

        bool operator==(const Stamp&) const = default;
    };
    Stamp placed, fitted;  // of what the places of `found` were made, and its fit
    PlacesFound found;
    std::unique_ptr<PlacesErrand> at_work;  // on the next fit
    Stamp at_work_on;
    double fitted_at = 0;  // when the fit was last one of the readings as they are, seconds of the program's clock

    /// The reading of a place; null if it was not taken.
    studies::CalliperReading* reading(const std::string& place);
    void put(const studies::CalliperReading& reading);
    void take_out(const std::string& place);
};

/// Worked out once for each change of readings and of the user's document; waits for it. Places of the last head stay
/// where the open one cannot be one; `fit` then says why.
const PlacesFound& places_found(PlacesSheet& sheet, const document::Document& document);
/// The same without waiting, for every frame: the fit is the last one until the next is worked out.
const PlacesFound& places_so_far(PlacesSheet& sheet, const document::Document& document);
/// The fit is of readings, or of a head, that are no more.
bool places_behind(const PlacesSheet& sheet, const document::Document& document);
/// After every change of a reading, a diameter, or what the scene's numbers are.
void places_changed(PlacesSheet& sheet);
/// In place of what was typed. `path`: of their file, empty for none; `saved`: it holds them.
void take_places(PlacesSheet& sheet, scene::CalliperFile file, const std::string& path, bool saved);
/// They were of another head; `said` tells where they are.
void put_places_away(PlacesSheet& sheet, std::string said);
/// There are readings that are in no file yet.
bool places_unsaved(const PlacesSheet& sheet);
/// What is to be kept of them against a crash. Valid as long as `sheet` is.
document::KeptReadings places_to_keep(const PlacesSheet& sheet);

}  // namespace swashwright::panels
