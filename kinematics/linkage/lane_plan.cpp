#include "kinematics/linkage/lane_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/solve.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::linkage {

namespace {

constexpr double least_rank = 1e-6;  // ten times what the planner asks of a scaled singular value

LaneJoint lane_joint(Joint joint) {
    switch (joint) {
        case Joint::fixed:
            return LaneJoint::fixed;
        case Joint::revolute:
            return LaneJoint::revolute;
        case Joint::prismatic:
            return LaneJoint::prismatic;
        case Joint::ball:
            return LaneJoint::ball;
        case Joint::slide_and_ball:
            break;
    }
    return LaneJoint::slide_and_ball;
}

int joint_slots(Joint joint) {
    switch (joint) {
        case Joint::fixed:
            return 0;
        case Joint::revolute:
            return 2;
        case Joint::prismatic:
            return 1;
        case Joint::ball:
            return 4;
        case Joint::slide_and_ball:
            break;
    }
    return 5;
}

class Compiler {
public:
    explicit Compiler(const Plan& plan) : plan_(plan), d_(plan.description()), ws_(plan) {}

    tl::expected<LaneTables, Refusal> run() {
        if (!plan_.neutral_shortfalls().empty()) return tl::unexpected(Refusal{"it does not close at neutral"});
        for (const Block& block : plan_.blocks())
            if (auto refusal = refuse(block); !refusal.message.empty()) return tl::unexpected(refusal);
        moving_ = std::ranges::any_of(plan_.blocks(), [](const Block& b) { return b.kind == BlockKind::shared; });
        place_numbers();
        place_bodies();
        add_inputs();
        for (const Block& block : plan_.blocks()) add_block(block);
        t_.code.residual = take(1);
        t_.slots = (next_ + 3) / 4 * 4;  // so that every group begins on 64 bytes
        return std::move(t_);
    }

private:
    int take(int count) {
        const int first = next_;
        next_ += count;
        return first;
    }

    Refusal refuse(const Block& block) const {
        const std::string& name = d_.bodies()[block.joints[0]].name;
        const int together = block.unknowns + (block.kind == BlockKind::shared ? block.exact : 0);
        if (together > most_lane_unknowns ||
            (block.kind == BlockKind::single_shared && block.rows.size() > most_lane_circles))
            return {fmt::format("too much hangs together with {}", name)};
        return {};
    }

    void place_numbers() {
        for (std::size_t a = 0; a < d_.anchors().size(); ++a) {
            t_.anchor_local.push_back(take(3));
            t_.anchor.push_back(take(moving_ ? 6 : 3));
        }
        for (const Closure& closure : d_.closures()) {
            const bool link = closure.kind == ClosureKind::link, slot = closure.kind == ClosureKind::slot;
            t_.length.push_back(link ? take(1) : -1);
            t_.inverse_length.push_back(link ? take(1) : -1);
            t_.normal_local.push_back(slot ? take(3) : -1);
            t_.normal.push_back(slot ? take(moving_ ? 6 : 3) : -1);
        }
        t_.code.neutral_side = take(2 * static_cast<int>(d_.bodies().size()));
    }

    void place_bodies() {
        for (int b = 0; b < static_cast<int>(d_.bodies().size()); ++b) {
            const Plan::BodyPlan& of = plan_.body(b);
            LaneBody& out = t_.bodies.emplace_back();
            out.joint = lane_joint(of.joint);
            out.level_frame = of.level_frame;
            out.rides_in_block = of.rides_in_block;
            out.inputs = of.inputs;
            out.joint_frame = take(12);
            out.place = take(12);
            out.motion = moving_ ? take(12) : 0;
            out.parent_motion = t_.bodies[of.parent].motion;
            out.at = take(joint_slots(of.joint));
            out.parent = t_.bodies[of.parent].place;
            out.own_frame = !of.constant_frame && !of.plain_frame;
            out.frame = of.constant_frame ? out.joint_frame : of.plain_frame ? out.parent : take(12);
            out.first_rider = static_cast<int>(t_.riders.size());
            for (const auto& rider : plan_.riders(of))
                t_.riders.push_back({t_.anchor[rider.index], t_.anchor_local[rider.index]});
            out.last_rider = out.first_plane = static_cast<int>(t_.riders.size());
            for (const auto& plane : plan_.planes(of))
                t_.riders.push_back({t_.normal[plane.index], t_.normal_local[plane.index]});
            out.last_plane = static_cast<int>(t_.riders.size());
            if (b > 0) t_.all_bodies.push_back(b);
        }
        t_.driven_bodies = plan_.driven_bodies();
        for (const int b : plan_.followed_joints()) {
            const int count = joint_slots(plan_.body(b).joint);
            t_.kept.push_back({t_.bodies[b].at, take(count), count});
        }
    }

    void add_inputs() {
        for (const BodyId body : plan_.inputs())
            t_.inputs.push_back(
                {take(1), take(1), t_.bodies[body.index].at, plan_.body(body.index).joint == Joint::revolute});
        for (const Plan::Crank& crank : plan_.cranks()) {
            t_.crank_bodies.push_back(crank.body);
            for (const auto& point : crank.points) {
                const int slot = take(9);
                t_.crank_points.push_back(
                    {plan_.body(crank.body).inputs, t_.anchor[point.anchor], t_.bodies[crank.body].at, slot});
                t_.crank_constants.push_back({slot, crank.body, point.anchor});
            }
        }
    }

    void add_block(const Block& block) {
        LaneBlock out;
        out.inputs = block.inputs;
        out.unknowns = block.unknowns;
        out.exact = block.exact;
        out.branch = block.branch;
        out.least_slope = least_determinant(block);
        std::copy(block.as_angle.begin(), block.as_angle.end(), out.as_angle);
        const auto add = [](auto& list, int& first, int& last, auto&& fill) {
            first = static_cast<int>(list.size());
            fill();
            last = static_cast<int>(list.size());
        };
        add(t_.joints, out.first_joint, out.last_joint, [&] {
            for (std::size_t j = 0; j < block.joints.size(); ++j)
                t_.joints.push_back({block.joints[j], block.columns[j], freedoms(plan_.body(block.joints[j]).joint)});
        });
        add(t_.block_bodies, out.first_body, out.last_body,
            [&] { t_.block_bodies.insert(t_.block_bodies.end(), block.bodies.begin(), block.bodies.end()); });
        add(t_.block_bodies, out.first_root, out.last_root,
            [&] { t_.block_bodies.insert(t_.block_bodies.end(), block.roots.begin(), block.roots.end()); });
        add(t_.rows, out.first_row, out.last_row, [&] {
            for (const Row& row : block.rows) add_row(row);
        });
        add(t_.terms, out.first_term, out.last_term, [&] {
            for (const Term& term : block.terms)
                t_.terms.push_back({term.row, term.column, t_.anchor[term.anchor], term.body, term.sign});
        });
        if (block.kind == BlockKind::single || block.kind == BlockKind::single_shared)
            add(t_.circles, out.first_circle, out.last_circle, [&] {
                for (std::size_t r = 0; r < block.rows.size(); ++r) add_circle(block, static_cast<int>(r));
            });
        out.kind = kind_of(block, out);
        t_.blocks.push_back(out);
    }

    LaneBlockKind kind_of(const Block& block, LaneBlock& out) const {
        if (block.leaf && block.link_circle) return LaneBlockKind::leaf;
        if (block.kind == BlockKind::single) return LaneBlockKind::single;
        if (block.kind == BlockKind::single_shared) return LaneBlockKind::single_shared;
        if (block.kind == BlockKind::shared) return LaneBlockKind::shared;
        if (!block.one_body) return LaneBlockKind::square;
        for (const Term& term : block.terms) {
            const auto i = static_cast<std::size_t>(term.row);
            out.still[i] = t_.anchor[block.one_body->still[i]];
            out.riding[i] = t_.anchor_local[term.anchor];
        }
        return LaneBlockKind::one_body;
    }

    void add_row(const Row& row) {
        const LaneRowKind kind = row.kind == ClosureKind::link   ? LaneRowKind::link
                                 : row.kind == ClosureKind::slot ? LaneRowKind::slot
                                                                 : LaneRowKind::coincidence;
        t_.rows.push_back({kind, row.component, t_.anchor[row.a], t_.anchor[row.b], t_.normal[row.closure],
                           t_.length[row.closure], t_.inverse_length[row.closure]});
    }

    void add_circle(const Block& block, int r) {
        const Row& row = block.rows[r];
        const auto found = std::ranges::find(block.terms, r, &Term::row);
        LaneCircle out;
        if (row.kind == ClosureKind::link) {
            const int riding = found->anchor;
            out.kind = LaneCircle::Kind::link;
            out.arm = t_.anchor_local[riding];
            out.other = t_.anchor[riding == row.a ? row.b : row.a];
            out.constant = take(1);
            out.inverse_length = t_.inverse_length[row.closure];
            t_.link_constants.push_back({out.constant, riding, row.closure});
        } else if (found->sign > 0) {
            out.kind = LaneCircle::Kind::point_turns;
            out.arm = t_.anchor_local[row.a];
            out.other = t_.anchor[row.b];
            out.normal = t_.normal[row.closure];
        } else {
            out.kind = LaneCircle::Kind::plane_turns;
            out.arm = t_.anchor_local[row.b];
            out.other = t_.anchor[row.a];
            out.normal = t_.normal_local[row.closure];
        }
        t_.circles.push_back(out);
    }

    /// A determinant (mm and rad) above which the least scaled singular value is sure to be above `least_rank`, of
    /// linkages whose Jacobian is at most twice this one: the others are at most its norm.
    double least_determinant(const Block& block) const {
        double least = least_rank;
        if (block.kind == BlockKind::square) {
            const double norm = 2 * scaled_jacobian(ws_, block).norm();
            for (int k = 1; k < block.unknowns; ++k) least *= norm;
        }
        for (int k = 0; k < block.unknowns; ++k) least *= block.slides(k) ? 1.0 : block.lever;
        return least;
    }

    const Plan& plan_;
    const Description& d_;
    const Workspace ws_;
    LaneTables t_;
    int next_ = 0;
    bool moving_ = false;  // some block needs to know how points move
};

void point_at(LaneTables& t) {
    LaneCode& code = t.code;
    const auto list = [](const auto& from, auto& to, int& count) {
        to = from.data();
        count = static_cast<int>(from.size());
    };
    list(t.inputs, code.inputs, code.input_count);
    list(t.crank_points, code.crank_points, code.crank_point_count);
    list(t.driven_bodies, code.driven_bodies, code.driven_body_count);
    list(t.crank_bodies, code.crank_bodies, code.crank_body_count);
    list(t.all_bodies, code.all_bodies, code.all_body_count);
    list(t.blocks, code.blocks, code.block_count);
    list(t.kept, code.kept, code.kept_count);
    code.bodies = t.bodies.data();
    code.riders = t.riders.data();
    code.rows = t.rows.data();
    code.terms = t.terms.data();
    code.circles = t.circles.data();
    code.joints = t.joints.data();
    code.block_bodies = t.block_bodies.data();
}

}  // namespace

tl::expected<LanePlan, Refusal> LanePlan::make(const Plan& plan) {
    auto tables = Compiler(plan).run();
    if (!tables) return tl::unexpected(tables.error());
    const auto kept = std::make_shared<LaneTables>(std::move(*tables));
    kept->code.tolerance = plan.tolerance();
    point_at(*kept);
    LanePlan out;
    out.tables_ = kept;
    return out;
}

}  // namespace swashwright::linkage
