#include "kinematics/linkage/touches.h"

#include <algorithm>

#include "kinematics/linkage/conditions.h"

namespace swashwright::linkage {

namespace {

int body_of(const Plan& plan, int anchor) {
    return plan.description().anchors()[static_cast<std::size_t>(anchor)].body.index;
}

bool moves_frame(const Change& change) {
    return change.what == Quantity::frame_origin || change.what == Quantity::frame_turn;
}

void enter(const Change& change, double times, Changes& out) {
    const auto i = static_cast<std::size_t>(change.index);
    const Vec3 amount = times * change.amount;
    switch (change.what) {
        case Quantity::input:
            break;
        case Quantity::length:
            out.length[i] += amount.x();
            break;
        case Quantity::anchor_position:
            out.anchor_shift[i] += amount;
            break;
        case Quantity::frame_origin:
            out.frame_shift[i] += amount;
            break;
        case Quantity::frame_turn:
            out.frame_turn[i] += amount;
            break;
        case Quantity::slot_normal:
            out.normal_turn[i] += amount;
            break;
    }
}

/// Does the change touch this row of a block that shares a misfit?
bool touches(const Plan& plan, const Row& row, const Change& change) {
    switch (change.what) {
        case Quantity::input:
            return false;
        case Quantity::length:
        case Quantity::slot_normal:
            return row.closure == change.index;
        case Quantity::anchor_position:
            return row.a == change.index || row.b == change.index;
        case Quantity::frame_origin:
        case Quantity::frame_turn:
            break;
    }
    return rides_on(plan, body_of(plan, row.a), change.index) || rides_on(plan, body_of(plan, row.b), change.index);
}

}  // namespace

Touches::Touches(const Plan& plan, const Linearised& linearised, std::span<const Reading> readings,
                 std::span<const std::vector<Change>> columns)
    : rows_(linearised.rows()), groups_(plan.blocks().size() + 1), inputs_(columns.size()), changes_(plan) {
    for (const Reading& reading : readings)
        for (const ReadingTerm& term : reading) weights_.push_back(term.weight);
    for (std::size_t p = 0; p < columns.size(); ++p) {
        first_.push_back(row_of_value_.size());
        inputs_[p].reserve(plan.inputs().size());
        set_inputs(plan, p, columns[p]);
        for (std::size_t i = 0; i < plan.blocks().size(); ++i) {
            const Block& block = plan.blocks()[i];
            const Linearised::Part& part = linearised.parts()[i];
            if (part.shared >= 0) {
                touch_shared(plan, block, part, groups_[i], columns[p]);
                continue;
            }
            for (std::size_t r = 0; r < block.rows.size(); ++r)
                for (const Change& change : columns[p])
                    touch_row(plan, groups_[i], block.rows[r], part.first + static_cast<int>(r), change);
        }
        int index = rows_;
        for (const Reading& reading : readings)
            for (const ReadingTerm& term : reading) {
                for (const Change& change : columns[p]) touch_term(plan, groups_.back(), term, index, change);
                ++index;
            }
    }
    first_.push_back(row_of_value_.size());
    values_.resize(row_of_value_.size(), 0.0);
}

void Touches::set_inputs(const Plan& plan, std::size_t column, std::span<const Change> changes) {
    auto& out = inputs_[column];
    out.clear();
    for (const Change& change : changes)
        if (change.what == Quantity::input)
            out.emplace_back(4 * plan.inputs()[static_cast<std::size_t>(change.index)].index, change.amount.x());
}

void Touches::pull(Group& group, Pull wanted, const Vec3& amount) {
    auto found = std::ranges::find_if(group.pulls, [&](const Pull& pull) { return pull.same(wanted); });
    if (found == group.pulls.end()) found = group.pulls.insert(found, wanted);
    group.touches.push_back({row_of_value_.size(), static_cast<int>(found - group.pulls.begin()), amount});
    row_of_value_.push_back(wanted.row);
}

void Touches::touch_row(const Plan& plan, Group& group, const Row& row, int index, const Change& change) {
    const bool slot = row.kind == ClosureKind::slot;
    const double of_a = slot ? 1 : -1;
    switch (change.what) {
        case Quantity::input:
            return;
        case Quantity::length:
            if (row.closure != change.index) return;
            group.touches.push_back({row_of_value_.size(), -1, -change.amount});
            row_of_value_.push_back(index);
            return;
        case Quantity::anchor_position:
            for (const bool end_b : {false, true})
                if (const int anchor = end_b ? row.b : row.a; anchor == change.index)
                    pull(group,
                         {.in = Pull::In::body,
                          .row = index,
                          .axes = body_of(plan, anchor),
                          .anchor = anchor,
                          .sign = end_b ? -of_a : of_a},
                         change.amount);
            return;
        case Quantity::slot_normal:
            if (row.closure == change.index)
                pull(group,
                     {.in = Pull::In::plane,
                      .row = index,
                      .axes = body_of(plan, row.b),
                      .anchor = row.a,
                      .other = row.b},
                     change.amount);
            return;
        case Quantity::frame_origin:
        case Quantity::frame_turn:
            break;
    }
    if (!moves_one_end(plan, row, change.index)) return;
    const bool end_b = rides_on(plan, body_of(plan, row.b), change.index);
    pull(group,
         {.in = change.what == Quantity::frame_turn ? Pull::In::frame_turn : Pull::In::frame_shift,
          .row = index,
          .axes = plan.body(change.index).parent,
          .body = change.index,
          .anchor = slot || !end_b ? row.a : row.b,  // a turned plane meets the slot's point
          .sign = end_b ? -of_a : of_a},
         change.amount);
}

void Touches::touch_term(const Plan& plan, Group& group, const ReadingTerm& term, int index, const Change& change) {
    if (term.what == ReadingTerm::What::rate) return;
    const bool spins = term.what == ReadingTerm::What::spin;
    const int body = spins ? term.index : body_of(plan, term.index);
    if (change.what == Quantity::anchor_position && !spins && term.index == change.index)
        pull(group, {.in = Pull::In::body, .row = index, .axes = body, .anchor = term.index}, change.amount);
    if (!moves_frame(change) || !rides_on(plan, body, change.index)) return;
    if (spins && change.what == Quantity::frame_origin) return;
    pull(group,
         {.in = change.what == Quantity::frame_turn ? Pull::In::frame_turn : Pull::In::frame_shift,
          .row = index,
          .axes = plan.body(change.index).parent,
          .body = change.index,
          .anchor = spins ? -1 : term.index,
          .spins = spins},
         change.amount);
}

void Touches::touch_shared(const Plan& plan, const Block& block, const Linearised::Part& part, Group& group,
                           const std::vector<Change>& changes) {
    SharedTouch touch;
    touch.at = row_of_value_.size();
    for (const Change& change : changes) {
        bool any = false;
        for (std::size_t r = 0; r < block.rows.size(); ++r) {
            if (!touches(plan, block.rows[r], change)) continue;
            any = true;
            if (!std::ranges::count(touch.rows, static_cast<int>(r))) touch.rows.push_back(static_cast<int>(r));
        }
        if (!any) continue;
        touch.changes.push_back(change);
        for (const int body : part.watched) {
            const bool moved = moves_frame(change) ? rides_on(plan, body, change.index)
                               : change.what == Quantity::anchor_position
                                   ? body == body_of(plan, change.index)
                                   : change.what == Quantity::slot_normal &&
                                         body == body_of(plan, plan.description().closures()[change.index].b.index);
            if (moved) touch.bodies.push_back(body);
        }
    }
    if (touch.changes.empty()) return;
    std::ranges::sort(touch.bodies);  // parents first
    touch.bodies.erase(std::unique(touch.bodies.begin(), touch.bodies.end()), touch.bodies.end());
    for (int r = 0; r < part.size(); ++r) row_of_value_.push_back(part.first + r);
    group.shared.push_back(std::move(touch));
}

void Touches::at(const Plan& plan, Workspace& ws, const Linearised& linearised, std::span<const Reading> readings) {
    bool still = false;
    for (std::size_t i = 0; i < linearised.parts().size(); ++i) {
        const Linearised::Part& part = linearised.parts()[i];
        Group& group = groups_[i];
        if (group.taken == part.taken) continue;
        group.taken = part.taken;
        take(ws, group, linearised.gradients(), 0);
        if (group.shared.empty()) continue;
        if (!still) hold_all_still(ws);
        still = true;
        take_shared(plan, ws, plan.blocks()[i], linearised.shared(part), group, part.size());
    }
    std::size_t index = 0;
    for (const Reading& reading : readings)
        for (const ReadingTerm& term : reading) weights_[index++] = term.weight;
    take(ws, groups_.back(), weights_, rows_);
}

void Touches::take(const Workspace& ws, Group& group, std::span<const Vec3> gradients, int first) {
    for (Pull& pull : group.pulls) {
        const Vec3& gradient = gradients[static_cast<std::size_t>(pull.row - first)];
        Vec3 seen = gradient;
        if (pull.in == Pull::In::plane)
            seen = ws.anchors[pull.anchor] - ws.anchors[pull.other];
        else if (pull.in == Pull::In::frame_turn && !pull.spins)
            seen = (ws.anchors[pull.anchor] - ws.frames[pull.body].origin).cross(gradient);
        if (pull.axes == 0)
            pull.value = pull.sign * seen;
        else
            pull.value.noalias() = pull.sign * (ws.bodies[pull.axes].turn.transpose() * seen);
    }
    for (const Touch& touch : group.touches)
        values_[touch.at] = touch.pull < 0 ? touch.amount.x()
                                           : group.pulls[static_cast<std::size_t>(touch.pull)].value.dot(touch.amount);
}

void Touches::take_shared(const Plan& plan, Workspace& ws, const Block& block, const SharedSystem& system, Group& group,
                          int size) {
    for (const SharedTouch& touch : group.shared) {
        for (const Change& change : touch.changes) enter(change, 1, changes_);
        move_ground(plan, ws, &changes_);
        for (const int body : touch.bodies) move_body(plan, ws, body, &changes_);
        double* const out = &values_[touch.at];
        std::fill_n(out, size, 0.0);
        for (const int row : touch.rows) add_row_along(plan, ws, block, system, row, &changes_, out);
        for (const Change& change : touch.changes) enter(change, -1, changes_);
        move_ground(plan, ws, nullptr);
        for (const int body : touch.bodies) move_body(plan, ws, body, nullptr);  // still again
    }
}

template <int W>
void Touches::times_of(const double* multipliers, const double* weights, int given, double* table) const {
    const int width = W ? W : given;
    for (std::size_t p = 0; p < inputs_.size(); ++p) {
        double* const out = table + p * static_cast<std::size_t>(width);
        for (int s = 0; s < width; ++s) out[s] = 0;
        for (std::size_t v = first_[p]; v < first_[p + 1]; ++v)
            add_times<W>(out, -values_[v], multipliers + row_of_value_[v] * width, width);
        for (const auto& [freedom, amount] : inputs_[p]) add_times<W>(out, amount, weights + freedom * width, width);
    }
}

void Touches::times(const double* multipliers, const double* weights, int width, double* table) const {
    with_width(width, [&](auto w) { times_of<decltype(w)::value>(multipliers, weights, width, table); });
}

}  // namespace swashwright::linkage
