#include "viewer/panels/bench/gauge.h"

#include <memory>
#include <utility>

#include "kinematics/bench_files/readings.h"

namespace swashwright::panels {

namespace {

/// What is typed, as readings of before; none where nothing is.
std::shared_ptr<const studies::Readings> typed(const BenchReadings& readings) {
    studies::Readings out = readings;
    out.before = nullptr;
    return out.size() > 0 ? std::make_shared<const studies::Readings>(std::move(out)) : nullptr;
}

}  // namespace

bool gauge_unsaved(const Gauge& gauge) {
    return gauge.saved != gauge.revision && gauge.readings.any();
}

std::string text_of(const Gauge& gauge) {
    return scene::write(scene::ReadingsFile{gauge.readings, gauge.note});
}

document::KeptReadings gauge_to_keep(const Gauge& gauge) {
    return {gauge.revision, gauge_unsaved(gauge), gauge.path, [&gauge] { return text_of(gauge); }};
}

void keep_as_before(Gauge& gauge) {
    BenchReadings& readings = gauge.readings;
    readings.before = typed(readings);
    for (auto& row : readings.pitch) row.typed = false;
    for (auto& row : readings.ring_height) row.typed = false;
    ++gauge.revision;
}

void bring_before_back(Gauge& gauge) {
    auto now = typed(gauge.readings);
    const auto before = gauge.readings.before;
    gauge.readings = *before;
    gauge.readings.before = std::move(now);
    ++gauge.revision;
}

void put_gauge_away(Gauge& gauge, std::string said) {
    const bool any = gauge.readings.any();
    const std::uint64_t revision = gauge.revision + 1;
    gauge = {};
    gauge.revision = gauge.saved = revision;
    if (any) gauge.said = std::move(said);
}

}  // namespace swashwright::panels
