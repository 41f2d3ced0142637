#include "kinematics/linkage/plan.h"

#include <fmt/format.h>
#include <Eigen/SVD>

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/fit.h"
#include "kinematics/linkage/one_body.h"
#include "kinematics/linkage/place.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/linkage/small_lu.h"
#include "kinematics/linkage/structure.h"
#include "kinematics/linkage/tangent.h"

namespace swashwright::linkage {

namespace {

constexpr double rank_tolerance = 1e-7;  // of a scaled singular value, mm per mm

bool rotates(Joint joint, int component) {
    return !(component == 0 && (joint == Joint::prismatic || joint == Joint::slide_and_ball)) && joint != Joint::fixed;
}

JointState state_of(const JointPosition& position) {
    return {std::cos(position.angle), std::sin(position.angle), position.slide, position.turn.normalized()};
}

}  // namespace

class Planner {
public:
    explicit Planner(Description description) { plan_.description_ = std::move(description); }

    tl::expected<Plan, Refusal> run() {
        if (auto refusal = check(); !refusal.message.empty()) return tl::unexpected(refusal);
        compile_bodies();
        gather_rows();
        const Structure structure =
            arrange(columns_of_row_, static_cast<int>(body_of_column_.size()), priority_of_row_);
        for (const Part& part : structure.parts) plan_.blocks_.push_back(make_block(part));
        for (const int row : structure.spare_rows) plan_.spare_.push_back({rows_[row].closure});
        order_bodies();
        for (const Block& block : plan_.blocks_)
            if (block.unknowns + block.exact > max_block)
                return refuse("{} unknowns hang together in one loop; at most {} are solved", block.unknowns,
                              max_block / 2);
        if (!structure.free_columns.empty()) return tl::unexpected(name_free(structure));
        for (Block& block : plan_.blocks_) {
            block.one_body = one_body_rows(plan_, block);
            if (block.kind != BlockKind::single) continue;
            if (block.rows[0].kind == ClosureKind::link) block.link_circle = link_circle(plan_, block, 0);
            if (block.rows[0].kind == ClosureKind::slot) block.slot_circle = slot_circle(plan_, block, 0);
        }
        return close_at_neutral();
    }

private:
    template <class... Args>
    static tl::unexpected<Refusal> refuse(fmt::format_string<Args...> format, Args&&... args) {
        return tl::unexpected(Refusal{fmt::format(format, std::forward<Args>(args)...)});
    }

    const Body& body(int index) const { return plan_.description_.bodies()[index]; }

    Refusal check() const {
        const auto& d = plan_.description_;
        const int bodies = static_cast<int>(d.bodies().size()), anchors = static_cast<int>(d.anchors().size());
        int inputs = 0;
        for (int b = 1; b < bodies; ++b) {
            if (body(b).parent.index < 0 || body(b).parent.index >= b)
                return {fmt::format("{}: its parent must be added before it", body(b).name)};
            if (!body(b).input) continue;
            ++inputs;
            if (body(b).joint != Joint::revolute && body(b).joint != Joint::prismatic)
                return {fmt::format("{}: only a turning or a sliding joint can be driven", body(b).name)};
        }
        if (inputs > 64) return {fmt::format("{} driven joints; at most 64 are solved", inputs)};
        for (const Anchor& anchor : d.anchors())
            if (anchor.body.index < 0 || anchor.body.index >= bodies || !anchor.position.allFinite())
                return {"an anchor stands on no body or at no finite place"};
        for (const Closure& closure : d.closures()) {
            if (std::min(closure.a.index, closure.b.index) < 0 || std::max(closure.a.index, closure.b.index) >= anchors)
                return {fmt::format("{}: it must tie two anchors", closure.name)};
            if (closure.kind == ClosureKind::link && !(closure.length > 0 && std::isfinite(closure.length)))
                return {fmt::format("{}: its length must be above 0, found {}", closure.name, closure.length)};
        }
        return {};
    }

    void compile_bodies() {
        const auto& d = plan_.description_;
        double size = 0;
        plan_.body_plans_.resize(d.bodies().size());
        for (std::size_t b = 0; b < d.bodies().size(); ++b) {
            auto& out = plan_.body_plans_[b];
            const Body& in = d.bodies()[b];
            out.joint = in.joint;
            out.parent = std::max(0, in.parent.index);
            out.constant_frame = in.parent.index == 0;
            out.joint_frame = in.joint_frame;
            out.plain_frame = in.joint_frame.turn == Mat3::Identity() && in.joint_frame.origin == Vec3::Zero();
            out.level_frame = out.constant_frame && in.joint_frame.turn == Mat3::Identity();
            plan_.neutral_.push_back(state_of(in.neutral));
            size = std::max(size, in.joint_frame.origin.norm());
            if (b == 0 || !in.input) continue;
            plan_.inputs_.push_back({static_cast<int>(b)});
            plan_.neutral_inputs_.push_back(in.joint == Joint::revolute ? in.neutral.angle : in.neutral.slide);
        }
        for (const Anchor& anchor : d.anchors()) size = std::max(size, anchor.position.norm());
        for (const Closure& closure : d.closures()) size = std::max(size, closure.length);
        for (std::size_t b = 0; b < d.bodies().size(); ++b) gather_riders(static_cast<int>(b));
        plan_.tolerance_ = 1e-11 * std::max(1.0, size / 200.0);
    }

    void gather_riders(int b) {
        const auto& d = plan_.description_;
        auto& out = plan_.body_plans_[b];
        out.first_rider = static_cast<int>(plan_.riders_.size());
        for (std::size_t a = 0; a < d.anchors().size(); ++a)
            if (d.anchors()[a].body.index == b) plan_.riders_.push_back({static_cast<int>(a), d.anchors()[a].position});
        out.last_rider = static_cast<int>(plan_.riders_.size());
        out.first_plane = static_cast<int>(plan_.planes_.size());
        for (std::size_t c = 0; c < d.closures().size(); ++c)
            if (d.closures()[c].kind == ClosureKind::slot && body_of(d.closures()[c].b) == b)
                plan_.planes_.push_back({static_cast<int>(c), d.closures()[c].normal});
        out.last_plane = static_cast<int>(plan_.planes_.size());
    }

    std::vector<int> chain(int body_index) const {  // from the body to the ground, the ground left out
        std::vector<int> out;
        for (int b = body_index; b > 0; b = body(b).parent.index) out.push_back(b);
        return out;
    }
    int body_of(AnchorId anchor) const { return plan_.description_.anchors()[anchor.index].body.index; }

    /// Joints that move one end of a closure and not the other.
    std::vector<int> movers(const Closure& closure, bool end_b) const {
        const auto mine = chain(body_of(end_b ? closure.b : closure.a));
        const auto others = chain(body_of(end_b ? closure.a : closure.b));
        std::vector<int> out;
        for (const int b : mine)
            if (std::find(others.begin(), others.end(), b) == others.end()) out.push_back(b);
        return out;
    }

    bool is_unknown(int b) const { return b > 0 && !body(b).input && body(b).joint != Joint::fixed; }

    void gather_rows() {
        first_column_.assign(plan_.description_.bodies().size(), -1);
        for (std::size_t b = 1; b < first_column_.size(); ++b) {
            if (!is_unknown(static_cast<int>(b))) continue;
            first_column_[b] = static_cast<int>(body_of_column_.size());
            body_of_column_.insert(body_of_column_.end(),
                                   static_cast<std::size_t>(freedoms(body(static_cast<int>(b)).joint)),
                                   static_cast<int>(b));
        }
        const auto& closures = plan_.description_.closures();
        for (std::size_t c = 0; c < closures.size(); ++c) {
            std::vector<int> columns;
            for (const bool end_b : {false, true})
                for (const int b : movers(closures[c], end_b))
                    for (int k = 0; is_unknown(b) && k < freedoms(body(b).joint); ++k)
                        columns.push_back(first_column_[b] + k);
            for (int i = 0; i < equations(closures[c].kind); ++i) {
                rows_.push_back({.closure = static_cast<int>(c),
                                 .component = i,
                                 .kind = closures[c].kind,
                                 .a = closures[c].a.index,
                                 .b = closures[c].b.index,
                                 .length = closures[c].length,
                                 .inverse_length = closures[c].length > 0 ? 1.0 / closures[c].length : 0.0});
                columns_of_row_.push_back(columns);
                priority_of_row_.push_back(closures[c].priority);
            }
        }
    }

    Block make_block(const Part& part) const {
        Block block;
        for (const int column : part.columns) {
            const int b = body_of_column_[column];
            if (!block.joints.empty() && block.joints.back() == b) continue;
            block.joints.push_back(b);
            block.columns.push_back(block.unknowns);
            block.unknowns += freedoms(body(b).joint);
        }
        const auto& closures = plan_.description_.closures();
        const bool square = static_cast<int>(part.rows.size()) == block.unknowns;
        const bool any_below_exact = std::ranges::any_of(part.rows, [&](int r) { return priority_of_row_[r] > 0; });
        for (const bool shared : {false, true})
            for (const int r : part.rows) {
                const bool least_squares = !square && (priority_of_row_[r] > 0 || !any_below_exact);
                if (least_squares != shared) continue;
                block.rows.push_back(rows_[r]);
                block.rows.back().least_squares = least_squares;
                block.exact += least_squares ? 0 : 1;
            }
        for (std::size_t r = 0; r < block.rows.size(); ++r)
            for (const bool end_b : {false, true})
                add_terms(block, static_cast<int>(r), closures[block.rows[r].closure], end_b);
        block.kind = kind_of(block, square);
        return block;
    }

    void add_terms(Block& block, int row, const Closure& closure, bool end_b) const {
        for (const int b : movers(closure, end_b)) {
            const auto found = std::find(block.joints.begin(), block.joints.end(), b);
            if (found == block.joints.end()) continue;
            const bool slot = closure.kind == ClosureKind::slot;
            const AnchorId point = slot || !end_b ? closure.a : closure.b;
            block.terms.push_back({row, point.index, b, block.columns[found - block.joints.begin()], body(b).joint,
                                   slot != end_b ? 1.0 : -1.0});
        }
    }

    BlockKind kind_of(const Block& block, bool square) const {
        bool circles = block.unknowns == 1, slots = true;
        for (std::size_t r = 0; r < block.rows.size(); ++r) {
            circles = circles && has_circle(plan_, block, static_cast<int>(r));
            slots = slots && plan_.description_.closures()[block.rows[r].closure].kind == ClosureKind::slot;
        }
        if (square) return circles ? BlockKind::single : BlockKind::square;
        return circles && slots && block.exact == 0 ? BlockKind::single_shared : BlockKind::shared;
    }

    /// Which block settles each body, and which inputs its placement depends on.
    void order_bodies() {
        const std::size_t count = plan_.description_.bodies().size();
        std::vector<int> stage(count, -1);  // block index; -1: inputs alone
        for (std::size_t i = 0; i < plan_.blocks_.size(); ++i)
            for (const int b : plan_.blocks_[i].joints) stage[b] = static_cast<int>(i);
        for (std::size_t b = 1; b < count; ++b)
            stage[b] = std::max(stage[b], stage[plan_.body_plans_[b].parent]);  // parents come first
        const auto settle = [&](int wanted) {
            std::vector<int> out;
            for (std::size_t b = 1; b < count; ++b) {
                if (stage[b] != wanted) continue;
                out.push_back(static_cast<int>(b));
                std::uint64_t inputs = plan_.body_plans_[plan_.body_plans_[b].parent].inputs;
                for (std::size_t i = 0; i < plan_.inputs_.size(); ++i)
                    if (plan_.inputs_[i].index == static_cast<int>(b)) inputs |= std::uint64_t{1} << i;
                plan_.body_plans_[b].inputs |= inputs;
            }
            return out;
        };
        plan_.driven_bodies_ = settle(-1);
        plan_.cranks_ = find_cranks(plan_);
        for (const Plan::Crank& crank : plan_.cranks_) std::erase(plan_.driven_bodies_, crank.body);
        for (std::size_t i = 0; i < plan_.blocks_.size(); ++i) {
            Block& block = plan_.blocks_[i];
            block.bodies = settle(static_cast<int>(i));
            for (const int b : block.bodies) {
                plan_.body_plans_[b].rides_in_block = stage[plan_.body_plans_[b].parent] == static_cast<int>(i);
                if (!plan_.body_plans_[b].rides_in_block) block.roots.push_back(b);
            }
            for (const Row& row : block.rows) {
                const Closure& closure = plan_.description_.closures()[row.closure];
                block.inputs |=
                    plan_.body_plans_[body_of(closure.a)].inputs | plan_.body_plans_[body_of(closure.b)].inputs;
            }
            for (const int b : block.bodies) block.inputs |= plan_.body_plans_[b].inputs;
            for (const int b : block.bodies) plan_.body_plans_[b].inputs |= block.inputs;
            if (block.kind == BlockKind::square || block.kind == BlockKind::shared)
                for (const int joint : block.joints) plan_.followed_joints_.push_back(joint);
        }
    }

    /// "the inner ring from turning about its own axis" from a null vector over the block's unknowns.
    std::string name_motion(const Workspace& ws, const Block& block, const Eigen::VectorXd& motion) const {
        const double most = motion.cwiseAbs().maxCoeff();
        for (std::size_t j = 0; j < block.joints.size(); ++j) {  // the first in the tree that takes a real share
            const int b = block.joints[j];
            const Joint joint = body(b).joint;
            const auto part = motion.segment(block.columns[j], freedoms(joint));
            if (part.cwiseAbs().maxCoeff() < 0.2 * most) continue;
            const std::string& name = body(b).name;
            const bool numbered = name.find_last_of("0123456789") + 1 == name.size();  // "lever 7"
            const std::string owner = (numbered ? "" : "the ") + name + " from ";
            if (freedoms(joint) == 1) return owner + (joint == Joint::revolute ? "turning" : "sliding");
            const Vec3 turn = ws.frames[b].turn.transpose() * Vec3(part.tail<3>());
            if (joint == Joint::slide_and_ball && std::abs(part[0]) > turn.norm())
                return owner + "sliding along its axis";
            return owner + (std::abs(turn.z()) > 0.7 * turn.norm() ? "turning about its own axis" : "tilting");
        }
        return "a joint from moving";
    }

    Refusal name_free(const Structure& structure) {
        Block block = make_block({structure.free_rows, structure.free_columns});
        const Workspace ws(plan_);
        set_lever(ws, block);
        Eigen::MatrixXd jacobian = Eigen::MatrixXd::Zero(
            std::max<Eigen::Index>(1, static_cast<Eigen::Index>(block.rows.size())), block.unknowns);
        if (!block.rows.empty()) jacobian = scaled_jacobian(ws, block);
        const Eigen::JacobiSVD<Eigen::MatrixXd> svd(jacobian, Eigen::ComputeFullV);
        return {"nothing stops " + name_motion(ws, block, svd.matrixV().col(block.unknowns - 1))};
    }

    void set_lever(const Workspace& ws, Block& block) const {
        double sum = 0;
        int count = 0;
        for (const Term& term : block.terms) {
            if (!rotates(term.joint, freedoms(term.joint) - 1)) continue;
            const bool ball = term.joint != Joint::revolute;
            const Vec3 arm = ws.anchors[term.anchor] - (ball ? ws.bodies : ws.frames)[term.body].origin;
            const Vec3 axis = ws.frames[term.body].turn.col(2);
            sum += ball ? arm.norm() : axis.cross(arm).norm();
            ++count;
        }
        block.lever = count > 0 && sum > 0 ? sum / count : 1.0;
        block.as_angle.clear();
        for (const int b : block.joints)
            for (int k = 0; k < freedoms(body(b).joint); ++k)
                block.as_angle.push_back(rotates(body(b).joint, k) ? 1.0 : std::nextafter(1.0 / block.lever, 2.0));
    }

    tl::expected<Plan, Refusal> close_at_neutral() {
        Workspace ws(plan_);
        for (Block& block : plan_.blocks_) {
            enter_block(plan_, ws, block);
            place_block(plan_, ws, block);
            set_lever(ws, block);
            const auto shortfalls = close_block(ws, block);
            plan_.neutral_shortfalls_.insert(plan_.neutral_shortfalls_.end(), shortfalls.begin(), shortfalls.end());
        }
        if (plan_.neutral_shortfalls_.empty())
            for (const Block& block : plan_.blocks_)
                if (auto refusal = check_rank(ws, block); !refusal.message.empty()) return tl::unexpected(refusal);
        plan_.neutral_ = ws.joints;
        find_leaves();
        return std::move(plan_);
    }

    /// Blocks of one unknown whose bodies no other block, child or spare closure looks at.
    void find_leaves() {
        const auto& d = plan_.description_;
        std::vector<int> looks(d.bodies().size(), 0);  // at each body, from anywhere
        for (const Closure& closure : d.closures()) {
            ++looks[body_of(closure.a)];
            ++looks[body_of(closure.b)];
        }
        for (std::size_t b = 1; b < d.bodies().size(); ++b) ++looks[d.bodies()[b].parent.index];
        for (Block& block : plan_.blocks_)
            block.leaf = block.kind == BlockKind::single && block.bodies.size() == 1 && looks[block.bodies[0]] == 1;
    }

    std::vector<Shortfall> close_block(Workspace& ws, Block& block) {
        Report report;
        if (block.kind == BlockKind::single || block.kind == BlockKind::single_shared) {
            const JointState start = ws.joints[block.joints[0]];
            double nearest = -2, branch = 1;
            for (const double side : {1.0, -1.0}) {
                ws.joints[block.joints[0]] = start;
                block.branch = side;
                if (solve_block(plan_, ws, block, report) != Outcome::closed) continue;
                const JointState& end = ws.joints[block.joints[0]];
                const double cosine = end.c * start.c + end.s * start.s;
                if (cosine > nearest) nearest = cosine, branch = side;
            }
            block.branch = branch;
            ws.joints[block.joints[0]] = start;
            if (nearest < -1.5) return explain_block(plan_, ws, block);
            solve_block(plan_, ws, block, report);
            return {};
        }
        const double error = fit_block(plan_, ws, block, std::vector<double>(block.rows.size(), 1.0));
        if (block.kind == BlockKind::shared) {
            if (solve_shared(plan_, ws, block, report) == Outcome::closed) return {};
            return explain_block(plan_, ws, block);
        }
        block.branch = scaled_jacobian(ws, block).determinant() < 0 ? -1 : 1;
        if (error < 1e-6 && solve_block(plan_, ws, block, report) == Outcome::closed) return {};
        if (error < 1e-6) return {};  // closed, but singular: the rank test has the words
        return explain_block(plan_, ws, block);
    }

    Refusal check_rank(const Workspace& ws, const Block& block) const {
        const Eigen::JacobiSVD<Eigen::MatrixXd> svd(scaled_jacobian(ws, block), Eigen::ComputeFullV);
        if (svd.singularValues()[block.unknowns - 1] > rank_tolerance) return {};
        const std::string motion = name_motion(ws, block, svd.matrixV().col(block.unknowns - 1));
        if (block.unknowns > 1) return {"nothing stops " + motion + " at neutral"};
        return {fmt::format("{} stands at a dead point at neutral: it cannot stop {}",
                            plan_.description_.closures()[block.rows[0].closure].name, motion)};
    }

    Plan plan_;
    std::vector<int> body_of_column_;
    std::vector<int> first_column_;
    std::vector<Row> rows_;
    std::vector<std::vector<int>> columns_of_row_;
    std::vector<int> priority_of_row_;
};

tl::expected<Plan, Refusal> Plan::make(Description description) {
    return Planner(std::move(description)).run();
}

}  // namespace swashwright::linkage
