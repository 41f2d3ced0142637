#include "kinematics/linkage/one_body.h"

#include <algorithm>
#include <cmath>

#include "kinematics/linkage/place.h"

namespace swashwright::linkage {

namespace {

using Rows = Eigen::Array4d;  // one number a row of the block

constexpr int most_steps = 2 * max_newton_steps;  // every second one is cheap

/// Inverse of a Jacobian given by its columns, from the minors of its first and last two columns.
struct Inverse {
    double m[4][4];  // [unknown][row]
    double determinant;

    explicit Inverse(const Rows (&a)[4]) {
        const double s0 = a[0][0] * a[1][1] - a[0][1] * a[1][0], s1 = a[0][0] * a[1][2] - a[0][2] * a[1][0];
        const double s2 = a[0][0] * a[1][3] - a[0][3] * a[1][0], s3 = a[0][1] * a[1][2] - a[0][2] * a[1][1];
        const double s4 = a[0][1] * a[1][3] - a[0][3] * a[1][1], s5 = a[0][2] * a[1][3] - a[0][3] * a[1][2];
        const double c5 = a[2][2] * a[3][3] - a[2][3] * a[3][2], c4 = a[2][1] * a[3][3] - a[2][3] * a[3][1];
        const double c3 = a[2][1] * a[3][2] - a[2][2] * a[3][1], c2 = a[2][0] * a[3][3] - a[2][3] * a[3][0];
        const double c1 = a[2][0] * a[3][2] - a[2][2] * a[3][0], c0 = a[2][0] * a[3][1] - a[2][1] * a[3][0];
        determinant = s0 * c5 - s1 * c4 + s2 * c3 + s3 * c2 - s4 * c1 + s5 * c0;
        const double d = 1.0 / determinant;
        fill(0, a[1], c0, c1, c2, c3, c4, c5, d);
        fill(1, a[0], c0, c1, c2, c3, c4, c5, -d);
        fill(2, a[3], s0, s1, s2, s3, s4, s5, d);
        fill(3, a[2], s0, s1, s2, s3, s4, s5, -d);
    }
    /// Minus a row of the inverse times the residual: a Newton correction.
    double step(int unknown, const Rows& r) const {
        return -(m[unknown][0] * r[0] + m[unknown][1] * r[1] + m[unknown][2] * r[2] + m[unknown][3] * r[3]);
    }

private:
    /// One row of the inverse: expansion along the column `v` by the minors of the other pair, by rows 01 02 12 03
    /// 13 23.
    void fill(int row, const Rows& v, double m01, double m02, double m03, double m12, double m13, double m23,
              double d) {
        m[row][0] = (v[1] * m23 - v[2] * m13 + v[3] * m12) * d;
        m[row][1] = (-v[0] * m23 + v[2] * m03 - v[3] * m02) * d;
        m[row][2] = (v[0] * m13 - v[1] * m03 + v[3] * m01) * d;
        m[row][3] = (-v[0] * m12 + v[1] * m02 - v[2] * m01) * d;
    }
};

struct Points {
    Rows x, y, z;
};

/// Where the body stands and what that makes of its rows; lengths from the joint frame's origin.
struct Stand {
    double slide;
    Quat turn;
    Mat3 matrix;  // of turn
    Points arm;   // riding points, from the body's origin
    Points gradient;
    Rows residual;

    void evaluate(const OneBody& rows, const Points& still, const Points& normal) {
        const Mat3& r = matrix = turn.toRotationMatrix();
        const Rows px = Rows::Map(rows.x.data()), py = Rows::Map(rows.y.data()), pz = Rows::Map(rows.z.data());
        const Rows inverse = Rows::Map(rows.inverse_length.data()), length = Rows::Map(rows.length.data());
        arm.x = r(0, 0) * px + r(0, 1) * py + r(0, 2) * pz;
        arm.y = r(1, 0) * px + r(1, 1) * py + r(1, 2) * pz;
        arm.z = r(2, 0) * px + r(2, 1) * py + r(2, 2) * pz;
        const Rows dx = arm.x - still.x, dy = arm.y - still.y, dz = arm.z - still.z + slide;
        // A link's part vanishes for a slot (its lengths are 0), a slot's for a link (its normal is 0).
        gradient.x = dx * inverse + normal.x;
        gradient.y = dy * inverse + normal.y;
        gradient.z = dz * inverse + normal.z;
        residual =
            0.5 * ((dx * dx + dy * dy + dz * dz) * inverse - length) + (normal.x * dx + normal.y * dy + normal.z * dz);
    }
    /// The quaternion is brought back to unit length by one step of Newton's method for the inverse root, without a
    /// root or a division: what is left of a turn by r rad is under 0.03 r^4, and the next step squares that.
    void move(double lift, const Vec3& rotation) {
        slide += lift;
        turn = Quat(1.0, 0.5 * rotation.x(), 0.5 * rotation.y(), 0.5 * rotation.z()) * turn;
        turn.coeffs() *= 1.5 - 0.5 * turn.squaredNorm();
    }
    Inverse inverse_jacobian() const {
        const Rows columns[4] = {gradient.z, arm.y * gradient.z - arm.z * gradient.y,
                                 arm.z * gradient.x - arm.x * gradient.z, arm.x * gradient.y - arm.y * gradient.x};
        return Inverse(columns);
    }
};

}  // namespace

std::optional<OneBody> one_body_rows(const Plan& plan, const Block& block) {
    if (block.kind != BlockKind::square || block.unknowns != 4 || block.joints.size() != 1 || block.bodies.size() != 1)
        return {};
    const auto& body = plan.body(block.joints[0]);
    if (body.joint != Joint::slide_and_ball || !body.level_frame || block.terms.size() != 4) return {};
    OneBody out;
    for (const Term& term : block.terms) {
        const auto i = static_cast<std::size_t>(term.row);
        const Row& row = block.rows[i];
        const Anchor& anchor = plan.description().anchors()[static_cast<std::size_t>(term.anchor)];
        const bool slot = row.kind == ClosureKind::slot;
        if (row.kind == ClosureKind::coincidence || (slot && term.sign < 0) || anchor.body.index != term.body)
            return {};
        out.x[i] = anchor.position.x(), out.y[i] = anchor.position.y(), out.z[i] = anchor.position.z();
        out.inverse_length[i] = slot ? 0.0 : row.inverse_length;
        out.length[i] = slot ? 0.0 : row.length;
        out.slot[i] = slot ? 1.0 : 0.0;
        out.still[i] = term.anchor == row.a ? row.b : row.a;
    }
    return out;
}

Outcome solve_one_body(const Plan& plan, Workspace& ws, const Block& block, Report& report) {
    const OneBody& rows = *block.one_body;
    const int body = block.joints[0];
    JointState& joint = ws.joints[body];
    const Vec3& origin = ws.frames[body].origin;
    Points still, normal;
    for (int i = 0; i < 4; ++i) {
        const auto k = static_cast<std::size_t>(i);
        const Vec3 point = ws.anchors[rows.still[k]] - origin;
        const Vec3& n = ws.normals[block.rows[k].closure];
        still.x[i] = point.x(), still.y[i] = point.y(), still.z[i] = point.z();
        normal.x[i] = rows.slot[k] * n.x(), normal.y[i] = rows.slot[k] * n.y(), normal.z[i] = rows.slot[k] * n.z();
    }
    Stand at{joint.slide, joint.turn, {}, {}, {}, {}};
    at.evaluate(rows, still, normal);
    double limit = first_step_limit * first_step_limit;  // of a step's square
    for (int round = 0; round < most_steps; round += 2) {
        const Inverse inverse = at.inverse_jacobian();
        if (!(inverse.determinant * block.branch > 0)) return Outcome::astray;
        for (int use = 0; use < 2; ++use) {
            const double lift = inverse.step(0, at.residual);
            const Vec3 turn(inverse.step(1, at.residual), inverse.step(2, at.residual), inverse.step(3, at.residual));
            ++report.newton_steps;
            const double lift_angle = lift * block.as_angle[0], square = turn.squaredNorm() + lift_angle * lift_angle;
            if (!(square <= limit)) return Outcome::astray;
            limit = std::max(contraction * contraction * square, least_step * least_step);
            at.move(lift, turn);
            at.evaluate(rows, still, normal);
            const double worst = at.residual.abs().maxCoeff();
            if (worst > plan.tolerance()) continue;
            joint.slide = at.slide;
            joint.turn = at.turn;
            ws.bodies[body] = {at.matrix, origin + at.slide * Vec3::UnitZ()};
            place_riders(plan, ws, body);
            report.residual_mm = std::max(report.residual_mm, worst);
            return Outcome::closed;
        }
    }
    return Outcome::astray;
}

}  // namespace swashwright::linkage
