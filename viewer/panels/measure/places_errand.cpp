#include "viewer/panels/measure/places_errand.h"

#include <chrono>
#include <future>
#include <utility>

namespace swashwright::panels {

struct PlacesErrand::Work {
    std::future<Outcome> outcome;  // waits for its thread where it goes away
};

PlacesErrand::PlacesErrand(head::Head head, studies::CalliperReadings readings)
    : work_(std::make_unique<Work>(
          Work{std::async(std::launch::async, [head = std::move(head), readings = std::move(readings)] {
              return calliper_fit(head, readings);
          })})) {}

PlacesErrand::~PlacesErrand() = default;

bool PlacesErrand::done() const {
    return work_->outcome.wait_for(std::chrono::seconds(0)) == std::future_status::ready;
}

PlacesErrand::Outcome PlacesErrand::take() {
    return work_->outcome.get();
}

}  // namespace swashwright::panels
