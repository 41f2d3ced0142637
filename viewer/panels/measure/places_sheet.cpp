#include "viewer/panels/measure/places_sheet.h"

#include <algorithm>
#include <utility>

namespace swashwright::panels {

namespace {

using studies::CalliperReading;

PlacesSheet::Stamp stamp_of(const PlacesSheet& sheet, const document::Document& document) {
    return {sheet.revision, document.revision()};
}

/// All but the fit; that is begun, or cannot be.
void begin(PlacesSheet& sheet, const document::Document& document) {
    PlacesFound& out = sheet.found;
    const PlacesSheet::Stamp now = stamp_of(sheet, document);
    if (sheet.file.scene_file.empty()) sheet.file.scene_file = document.path();
    sheet.placed = now;
    out.present.clear();
    out.elsewhere = 0;
    auto head = head::Head::build(document.head());
    if (!head) {
        out.present.resize(out.places.size());
        out.fit = tl::unexpected(head.error().message);
        sheet.fitted = now;
        return;
    }
    out.places = studies::calliper_places(*head);
    for (const studies::CalliperPlace& place : out.places) out.present.push_back(present_value(place, *head));
    studies::CalliperReadings here = sheet.file.readings;
    out.elsewhere = std::erase_if(
        here.list, [&](const CalliperReading& reading) { return !find_place(out.places, reading.place); });
    sheet.at_work_on = now;
    sheet.at_work = std::make_unique<PlacesErrand>(std::move(*head), std::move(here));
}

void take_fit(PlacesSheet& sheet) {
    sheet.found.fit = sheet.at_work->take();
    sheet.fitted = sheet.at_work_on;
    sheet.at_work.reset();
}

}  // namespace

CalliperReading* PlacesSheet::reading(const std::string& place) {
    const auto there = std::ranges::find(file.readings.list, place, &CalliperReading::place);
    return there == file.readings.list.end() ? nullptr : &*there;
}

void PlacesSheet::put(const CalliperReading& reading) {
    if (CalliperReading* there = this->reading(reading.place))
        *there = reading;
    else
        file.readings.list.push_back(reading);
}

void PlacesSheet::take_out(const std::string& place) {
    std::erase_if(file.readings.list, [&](const CalliperReading& reading) { return reading.place == place; });
}

const PlacesFound& places_found(PlacesSheet& sheet, const document::Document& document) {
    const PlacesSheet::Stamp now = stamp_of(sheet, document);
    if (sheet.fitted == now) return sheet.found;
    if (!sheet.at_work || sheet.at_work_on != now) begin(sheet, document);
    if (sheet.at_work) take_fit(sheet);
    return sheet.found;
}

const PlacesFound& places_so_far(PlacesSheet& sheet, const document::Document& document) {
    if (sheet.at_work && sheet.at_work->done()) take_fit(sheet);
    const PlacesSheet::Stamp now = stamp_of(sheet, document);
    if (sheet.fitted != now && !sheet.at_work) begin(sheet, document);
    if (sheet.at_work && sheet.at_work->done()) take_fit(sheet);  // a page's is done at once
    return sheet.found;
}

bool places_behind(const PlacesSheet& sheet, const document::Document& document) {
    return sheet.fitted != stamp_of(sheet, document);
}

void places_changed(PlacesSheet& sheet) {
    ++sheet.revision;
    sheet.said.clear();
}

void take_places(PlacesSheet& sheet, scene::CalliperFile file, const std::string& path, bool saved) {
    sheet.file = std::move(file);
    sheet.path = path;
    places_changed(sheet);
    sheet.saved_revision = saved ? sheet.revision : 0;
}

void put_places_away(PlacesSheet& sheet, std::string said) {
    const bool any = !sheet.file.readings.list.empty();
    take_places(sheet, {}, "", /*saved=*/true);  // also the file's name and the diameters
    if (any) sheet.said = std::move(said);
}

bool places_unsaved(const PlacesSheet& sheet) {
    const studies::RoundSizes& sizes = sheet.file.readings.sizes;
    return sheet.saved_revision != sheet.revision &&
           (!sheet.file.readings.list.empty() || sizes != studies::RoundSizes{});
}

document::KeptReadings places_to_keep(const PlacesSheet& sheet) {
    return {sheet.revision, places_unsaved(sheet), sheet.path,
            [&sheet] { return scene::write(sheet.file, sheet.found.places); }};
}

}  // namespace swashwright::panels
