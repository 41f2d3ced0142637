#include "viewer/panels/bench/gauge.h"

#include <utility>

#include "kinematics/bench_files/readings.h"

namespace swashwright::panels {

bool gauge_unsaved(const Gauge& gauge) {
    return gauge.saved != gauge.revision && gauge.readings.size() > 0;
}

std::string text_of(const Gauge& gauge) {
    return scene::write(scene::ReadingsFile{gauge.readings, gauge.note});
}

document::KeptReadings gauge_to_keep(const Gauge& gauge) {
    return {gauge.revision, gauge_unsaved(gauge), gauge.path, [&gauge] { return text_of(gauge); }};
}

void put_gauge_away(Gauge& gauge, std::string said) {
    const bool any = gauge.readings.size() > 0;
    const std::uint64_t revision = gauge.revision + 1;
    gauge = {};
    gauge.revision = gauge.saved = revision;
    if (any) gauge.said = std::move(said);
}

}  // namespace swashwright::panels
