#include "kinematics/head/all_slopes.h"

#include <iterator>

#include "kinematics/head/input_slopes.h"

namespace swashwright::head {

namespace {

using linkage::Reading;
using linkage::ReadingTerm;

bool follows_sticks(const Number& number) {
    return number.kind == NumberKind::travel || number.kind == NumberKind::phase;
}

/// How the linkage changes with one number, at `speed`, behind what `out` holds.
void add_changes(const Head& head, const Sticks& sticks, const Number& number, double speed,
                 std::vector<linkage::Change>& out) {
    const std::size_t first = out.size();
    number.rates(head, sticks, out);
    for (std::size_t i = first; i < out.size(); ++i) out[i].amount *= speed;
}

std::vector<Reading> readings_of(const Head& head, std::vector<Reading> own) {
    const Parts& parts = head.parts();
    const int ring = parts.inner_ring.index;
    const ReadingTerm tilt{ReadingTerm::What::spin, ring, 0, Vec3::Zero()};
    std::vector<Reading> out{{{ReadingTerm::What::rate, ring, 0, Vec3::UnitX()}}, {tilt}, {tilt}};
    for (const linkage::BodyId grip : parts.grips)
        out.push_back({{ReadingTerm::What::rate, grip.index, 0, Vec3(1 / degree, 0, 0)}});
    std::move(own.begin(), own.end(), std::back_inserter(out));
    return out;
}

}  // namespace

template <class Each>
AllSlopes::Columns AllSlopes::columns_of(const Head& head, std::size_t count, Each each) {
    Columns out;
    out.changes.resize(count);
    for (std::size_t c = 0; c < count; ++c) {
        bool follows = false;
        each(c, [&](const Number& number, double speed) {
            follows = follows || follows_sticks(number);
            add_changes(head, {}, number, speed, out.changes[c]);
            if (number.kind == NumberKind::pitch_offset) out.offsets.push_back({first_pitch + number.index, c, speed});
        });
        if (!follows) continue;
        auto& mixed = out.mixed.emplace_back(c, Together{}).second;
        each(c, [&](const Number& number, double speed) { mixed.emplace_back(number, speed); });
    }
    return out;
}

AllSlopes::AllSlopes(const Head& head, std::span<const Number> numbers, std::vector<Reading> own)
    : AllSlopes(head, columns_of(head, numbers.size(), [&](std::size_t c, auto&& add) { add(numbers[c], 1.0); }),
                std::move(own)) {}

AllSlopes::AllSlopes(const Head& head, std::span<const Together> columns, std::vector<Reading> own)
    : AllSlopes(head,
                columns_of(head, columns.size(),
                           [&](std::size_t c, auto&& add) {
                               for (const auto& [number, speed] : columns[c]) add(number, speed);
                           }),
                std::move(own)) {}

AllSlopes::AllSlopes(const Head& head, Columns columns, std::vector<Reading> own)
    : head_(head),
      mixed_(std::move(columns.mixed)),
      offsets_(std::move(columns.offsets)),
      adjoint_(head.plan(), readings_of(head, std::move(own)), columns.changes) {
    changes_.reserve(64);
}

bool AllSlopes::at(Solver& solver) {
    const SpinWeights tilts = tilt_weights(solver.ring_normal());
    adjoint_.reading(tilt_forward)[0].weight = tilts.forward;
    adjoint_.reading(tilt_right)[0].weight = tilts.right;
    return adjoint_.at(head_.plan(), solver.workspace());
}

AllSlopes::Table AllSlopes::by_numbers(Solver& solver, const Sticks& sticks) {
    if (sticks != sticks_)
        for (const auto& [column, together] : mixed_) {
            changes_.clear();
            for (const auto& [number, speed] : together) add_changes(head_, sticks, number, speed, changes_);
            adjoint_.set_inputs(head_.plan(), column, changes_);
        }
    sticks_ = sticks;
    Table table = adjoint_.by_columns(head_.plan(), solver.workspace());
    for (const Columns::Offset& offset : offsets_)
        table(offset.reading, static_cast<Eigen::Index>(offset.column)) += offset.by;
    return table;
}

}  // namespace swashwright::head
