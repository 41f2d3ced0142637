#include "kinematics/linkage/linearised.h"

#include <algorithm>

#include "kinematics/linkage/conditions.h"
#include "kinematics/linkage/motion.h"

namespace swashwright::linkage {

namespace {

constexpr int most_width = 64;  // as many directions as a plan has inputs

bool shares(const Block& block) {
    return block.kind == BlockKind::shared || block.kind == BlockKind::single_shared;
}

int body_of(const Plan& plan, int anchor) {
    return plan.description().anchors()[static_cast<std::size_t>(anchor)].body.index;
}

bool stands_as(Joint joint, const JointState& a, const JointState& b) {
    switch (joint) {
        case Joint::fixed:
            return true;
        case Joint::revolute:
            return a.c == b.c && a.s == b.s;
        case Joint::prismatic:
            return a.slide == b.slide;
        case Joint::ball:
            return a.turn.coeffs() == b.turn.coeffs();
        case Joint::slide_and_ball:
            break;
    }
    return a.slide == b.slide && a.turn.coeffs() == b.turn.coeffs();
}

/// Every joint that moves one end of the row only and is not in `own`.
void add_outer(const Plan& plan, const Row& row, int index, const std::vector<int>& own, Linearised::Part& out) {
    for (const bool end_b : {false, true}) {
        const int anchor = end_b ? row.b : row.a;
        for (const int body : chain_of(plan, body_of(plan, anchor))) {
            const Joint joint = plan.body(body).joint;
            if (joint == Joint::fixed || !moves_one_end(plan, row, body) || std::ranges::count(own, body)) continue;
            const bool slot = row.kind == ClosureKind::slot;
            const Term term{index, slot ? row.a : anchor, body, 0, joint, slot != end_b ? 1.0 : -1.0};
            out.outer.push_back({term, out.entries.size(), freedoms(joint)});
            for (int k = 0; k < freedoms(joint); ++k) out.entries.push_back({index, 4 * body + k, 0});
        }
    }
}

void move_along_freedom(const Plan& plan, Workspace& ws, int freedom, const std::vector<int>& followers) {
    ws.rates[static_cast<std::size_t>(freedom)] = 1;
    for (const int body : followers) move_body(plan, ws, body, nullptr);
    ws.rates[static_cast<std::size_t>(freedom)] = 0;
}

}  // namespace

std::vector<int> chain_of(const Plan& plan, int body) {
    std::vector<int> out;
    for (; body > 0; body = plan.body(body).parent) out.push_back(body);
    return out;
}

bool rides_on(const Plan& plan, int body, int on) {
    while (body > on) body = plan.body(body).parent;  // parents come first
    return body == on;
}

bool moves_one_end(const Plan& plan, const Row& row, int body) {
    return rides_on(plan, body_of(plan, row.a), body) != rides_on(plan, body_of(plan, row.b), body);
}

void hold_all_still(Workspace& ws) {
    for (auto* field : {&ws.spin, &ws.drift, &ws.frame_spin, &ws.frame_drift, &ws.anchor_drift, &ws.normal_drift})
        std::fill(field->begin(), field->end(), Vec3::Zero());
    std::fill(ws.rates.begin(), ws.rates.end(), 0.0);
}

Linearised::Linearised(const Plan& plan)
    : stood_(plan.description().bodies().size()), moved_(plan.description().bodies().size(), 1) {
    parts_.reserve(plan.blocks().size());
    for (const Block& block : plan.blocks()) {
        const bool shared = shares(block);
        Part& part = parts_.emplace_back(block.unknowns + (shared ? block.exact : 0));
        part.first = rows_;
        rows_ += part.size();
        for (const int joint : block.joints)
            for (int k = 0; k < freedoms(plan.body(joint).joint); ++k) part.freedoms.push_back(4 * joint + k);
        shared ? describe_shared(plan, block, part) : describe(plan, block, part);
        for (const Entry& entry : part.entries)
            for (std::size_t i = 0; i + 1 < parts_.size(); ++i)
                if (std::ranges::count(parts_[i].freedoms, entry.freedom) &&
                    !std::ranges::count(part.feeders, static_cast<int>(i)))
                    part.feeders.push_back(static_cast<int>(i));
    }
    gradients_.resize(static_cast<std::size_t>(rows_), Vec3::Zero());
}

void Linearised::describe(const Plan& plan, const Block& block, Part& part) {
    for (std::size_t r = 0; r < block.rows.size(); ++r) {
        add_outer(plan, block.rows[r], static_cast<int>(r), block.joints, part);
        for (const int anchor : {block.rows[r].a, block.rows[r].b})
            if (const int body = body_of(plan, anchor); body > 0) part.watched.push_back(body);
    }
}

/// Conditions are differentiated along whole motions: a joint that moves both ends of a row turns its part in them too.
void Linearised::describe_shared(const Plan& plan, const Block& block, Part& part) {
    part.shared = static_cast<int>(shared_.size());
    shared_.emplace_back(block);
    for (const Row& row : block.rows)
        for (const int anchor : {row.a, row.b})
            for (const int body : chain_of(plan, body_of(plan, anchor))) part.watched.push_back(body);
    std::ranges::sort(part.watched);
    part.watched.erase(std::unique(part.watched.begin(), part.watched.end()), part.watched.end());
    for (const int body : part.watched) {
        std::vector<int>& followers = part.followers.emplace_back();
        for (const int other : part.watched)
            if (rides_on(plan, other, body)) followers.push_back(other);
        if (std::ranges::count(block.joints, body)) continue;
        for (int k = 0; k < freedoms(plan.body(body).joint); ++k)
            for (int r = 0; r < part.size(); ++r) part.entries.push_back({r, 4 * body + k, 0});
    }
}

void Linearised::note_moved(const Plan& plan, const Workspace& ws) {
    for (std::size_t b = 1; b < stood_.size(); ++b) {
        const Plan::BodyPlan& body = plan.body(static_cast<int>(b));
        const bool same = any_ && stands_as(body.joint, stood_[b], ws.joints[b]);
        if (!same) stood_[b] = ws.joints[b];
        moved_[b] = !same || (body.parent > 0 && moved_[static_cast<std::size_t>(body.parent)]);
    }
}

bool Linearised::at(const Plan& plan, Workspace& ws) {
    note_moved(plan, ws);
    any_ = false;  // until all went well
    for (std::size_t i = 0; i < parts_.size(); ++i) {
        Part& part = parts_[i];
        const auto moved = [&](int body) { return moved_[static_cast<std::size_t>(body)] != 0; };
        if (part.taken > 0 && std::ranges::none_of(part.watched, moved)) continue;
        const bool taken = part.shared < 0 ? take(plan, ws, i) : take_shared(plan, ws, plan.blocks()[i], part);
        if (!taken) return false;
        ++part.taken;
    }
    any_ = true;
    return true;
}

bool Linearised::take(const Plan& plan, Workspace& ws, std::size_t index) {
    const Block& block = plan.blocks()[index];
    Part& part = parts_[index];
    Vec3* const gradients = &gradients_[static_cast<std::size_t>(part.first)];
    for (std::size_t r = 0; r < block.rows.size(); ++r) gradients[r] = row_value(ws, block.rows[r]).gradient;
    part.lu.clear();
    for (const Term& term : block.terms) add_term(ws, term, gradients[term.row], part.lu.row(term.row));
    for (const Outer& outer : part.outer) {
        double slopes[4] = {};
        add_term(ws, outer.term, gradients[outer.term.row], slopes);
        for (int k = 0; k < outer.count; ++k) part.entries[outer.first + static_cast<std::size_t>(k)].value = slopes[k];
    }
    return part.lu.factor();
}

bool Linearised::take_shared(const Plan& plan, Workspace& ws, const Block& block, Part& part) {
    SharedSystem& system = shared_[static_cast<std::size_t>(part.shared)];
    if (!find_multipliers(plan, ws, block, system)) return false;
    hold_all_still(ws);
    const int n = block.unknowns;
    part.lu.clear();
    double along[max_block];
    std::size_t entry = 0;
    for (std::size_t i = 0; i < part.watched.size(); ++i) {
        const int body = part.watched[i];
        const std::vector<int>& followers = part.followers[i];
        const auto own = std::ranges::find(block.joints, body);
        for (int k = 0; k < freedoms(plan.body(body).joint); ++k) {
            move_along_freedom(plan, ws, 4 * body + k, followers);
            conditions_along(plan, ws, block, system, nullptr, along);
            if (own == block.joints.end()) {
                for (int r = 0; r < part.size(); ++r) part.entries[entry++].value = along[r];
                continue;
            }
            const int column = block.columns[static_cast<std::size_t>(own - block.joints.begin())] + k;
            for (int r = 0; r < part.size(); ++r) part.lu(r, column) = along[r];
            for (int e = n; e < part.size(); ++e) part.lu(column, e) = along[e];
        }
        for (const int other : followers) move_body(plan, ws, other, nullptr);  // still again
    }
    return part.lu.factor();
}

template <int W>
void Linearised::forward_part(const Part& part, double* rates, int given) {
    const int width = W ? W : given;
    double* const b = scratch_.data();
    for (int i = 0; i < part.size() * width; ++i) b[i] = 0;
    for (std::size_t e = 0; e < part.entries.size();) {
        const int row = part.entries[e].row;
        double sum[W ? W : most_width] = {};  // a row's entries follow each other
        for (; e < part.entries.size() && part.entries[e].row == row; ++e)
            add_times<W>(sum, -part.entries[e].value, rates + part.entries[e].freedom * width, width);
        add_times<W>(b + row * width, 1, sum, width);
    }
    part.lu.solve<W>(b, width);
    for (std::size_t j = 0; j < part.freedoms.size(); ++j)
        for (int s = 0; s < width; ++s) rates[part.freedoms[j] * width + s] = b[static_cast<int>(j) * width + s];
}

void Linearised::forward(double* rates, int width, Known& known) {
    scratch_.resize(static_cast<std::size_t>(max_block * width));
    known.taken.resize(parts_.size(), 0);
    known.anew.resize(parts_.size(), 1);
    with_width(width, [&](auto w) {
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            const Part& part = parts_[i];
            bool anew = known.taken[i] != part.taken;
            for (const int feeder : part.feeders) anew = anew || known.anew[static_cast<std::size_t>(feeder)];
            known.anew[i] = anew;
            known.taken[i] = part.taken;
            if (anew) forward_part<decltype(w)::value>(part, rates, width);
        }
    });
}

template <int W>
void Linearised::backward_part(const Part& part, double* weights, double* multipliers, int given) const {
    const int width = W ? W : given, unknowns = static_cast<int>(part.freedoms.size());
    double* const m = multipliers + part.first * width;
    for (int j = 0; j < unknowns; ++j)
        for (int s = 0; s < width; ++s)
            m[j * width + s] = weights[part.freedoms[static_cast<std::size_t>(j)] * width + s];
    for (int i = unknowns * width; i < part.size() * width; ++i) m[i] = 0;
    part.lu.solve_transposed<W>(m, width);
    for (const Entry& entry : part.entries)
        add_times<W>(weights + entry.freedom * width, -entry.value, m + entry.row * width, width);
}

void Linearised::backward(double* weights, double* multipliers, int width) const {
    with_width(width, [&](auto w) {
        for (std::size_t i = parts_.size(); i-- > 0;)
            backward_part<decltype(w)::value>(parts_[i], weights, multipliers, width);
    });
}

}  // namespace swashwright::linkage
