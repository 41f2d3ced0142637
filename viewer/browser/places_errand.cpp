// Calliper readings fitted to a head in the page's one thread.
#include "viewer/panels/measure/places_errand.h"

#include <utility>

namespace swashwright::panels {

struct PlacesErrand::Work {
    Outcome outcome;
};

PlacesErrand::PlacesErrand(head::Head head, studies::CalliperReadings readings)
    : work_(std::make_unique<Work>(Work{calliper_fit(head, readings)})) {}

PlacesErrand::~PlacesErrand() = default;

bool PlacesErrand::done() const {
    return true;
}

PlacesErrand::Outcome PlacesErrand::take() {
    return std::move(work_->outcome);
}

}  // namespace swashwright::panels
