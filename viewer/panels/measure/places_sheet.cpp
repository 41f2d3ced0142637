#include "viewer/panels/measure/places_sheet.h"

#include <algorithm>
#include <utility>

namespace swashwright::panels {

namespace {

using studies::CalliperReading;

PlacesFound work_out(const head::Description& description, const studies::CalliperReadings& typed,
                     std::vector<studies::CalliperPlace> last) {
    PlacesFound out;
    out.places = std::move(last);
    const auto head = head::Head::build(description);
    if (!head) {
        out.present.resize(out.places.size());
        out.fit = tl::unexpected(head.error().message);
        return out;
    }
    out.places = studies::calliper_places(*head);
    for (const studies::CalliperPlace& place : out.places) out.present.push_back(present_value(place, *head));
    studies::CalliperReadings here = typed;
    out.elsewhere = std::erase_if(
        here.list, [&](const CalliperReading& reading) { return !find_place(out.places, reading.place); });
    out.fit = calliper_fit(*head, here);
    return out;
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
    if (sheet.found_revision != sheet.revision || sheet.found_head != document.revision()) {
        sheet.found = work_out(document.head(), sheet.file.readings, std::move(sheet.found.places));
        if (sheet.file.scene_file.empty()) sheet.file.scene_file = document.path();
        sheet.found_revision = sheet.revision;
        sheet.found_head = document.revision();
    }
    return sheet.found;
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
