// Calliper readings being fitted to a head where it keeps nobody waiting: on a desktop in a thread. A page does it at
// once, while the window waits (viewer/browser).
#pragma once

#include <memory>
#include <string>
#include <tl/expected.hpp>

#include "kinematics/studies/measured/calliper_fit.h"

namespace swashwright::panels {

class PlacesErrand {
public:
    using Outcome = tl::expected<studies::CalliperFit, std::string>;

    /// Starts at once.
    PlacesErrand(head::Head head, studies::CalliperReadings readings);
    ~PlacesErrand();  // waits for its end: a fifth of a second at most
    PlacesErrand(const PlacesErrand&) = delete;
    PlacesErrand& operator=(const PlacesErrand&) = delete;

    bool done() const;
    /// Waits for its end where it is not done; one time.
    Outcome take();

private:
    struct Work;
    std::unique_ptr<Work> work_;
};

}  // namespace swashwright::panels
