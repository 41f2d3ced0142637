#include "viewer/panels/measure/measure_sheet.h"

#include <array>
#include <utility>
#include <vector>

namespace swashwright::panels {

namespace {

using studies::Taking;

const std::array<std::vector<Taking>, 18>& pages() {
    using T = Taking;
    static const std::array<std::vector<Taking>, 18> all{{{T::ball, T::shaft, T::cross_bolt, T::barrel},
                                                          {T::boss_lower, T::boss_upper},
                                                          {T::inner_span},
                                                          {T::outer_span, T::outer_to_shaft},
                                                          {T::sleeve, T::sleeve_below},
                                                          {T::inner_ball, T::faces, T::outer_ball},
                                                          {T::block_to_face, T::block_to_ball},
                                                          {T::face_to_bolt, T::block_to_bolt, T::bolt_to_axis},
                                                          {T::arm_span},
                                                          {T::arm_along, T::arm_lead, T::arm_up},
                                                          {T::horn},
                                                          {T::servo_height},
                                                          {T::servo_along, T::servo_across},
                                                          {T::horn_span},
                                                          {T::lower_link},
                                                          {T::upper_link},
                                                          {T::guide_pin, T::driver_pin},
                                                          {T::tip}}};
    return all;
}

}  // namespace

std::span<const Taking> takings_of_page(int page) {
    if (page < 1 || page > reading_pages()) return {};
    return pages()[static_cast<std::size_t>(page - 1)];
}

int reading_pages() {
    return static_cast<int>(pages().size());
}

const tl::expected<studies::Measured, std::string>& measured(MeasureSheet& measure) {
    if (measure.solved_revision != measure.revision) {
        measure.found = studies::measured_head(measure.file.measured);
        measure.solved_revision = measure.revision;
    }
    return measure.found;
}

void take_measured(MeasureSheet& measure, scene::MeasuredFile file, const std::string& path, bool saved) {
    const std::uint64_t revision = measure.revision + 1;
    const int page = measure.page;
    measure = {};
    measure.file = std::move(file);
    measure.revision = revision;
    measure.saved_revision = saved ? revision : 0;
    measure.page = page;
    measure.path = path;
}

void clear_measured(MeasureSheet& measure) {
    take_measured(measure, {}, "", /*saved=*/true);
    measure.page = 0;
}

bool readings_unsaved(const MeasureSheet& measure) {
    return measure.saved_revision != measure.revision && !measure.file.measured.taken.empty();
}

document::KeptReadings readings_to_keep(const MeasureSheet& measure) {
    return {measure.revision, readings_unsaved(measure), measure.path,
            [&measure] { return scene::write(measure.file); }};
}

}  // namespace swashwright::panels
