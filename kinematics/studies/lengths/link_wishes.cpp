#include "kinematics/studies/lengths/link_wishes.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "kinematics/head/all_slopes.h"
#include "kinematics/head/ball_places.h"
#include "kinematics/linkage/rows.h"
#include "kinematics/studies/answer/main_stick.h"

namespace swashwright::studies {

namespace {

constexpr int azimuths = 6;

/// Residual rows at one pose, with their slopes by all numbers.
class Rows {
public:
    Rows(const Wishes& wishes, std::span<const WishRow> rows, WishValues& out)
        : wishes_(wishes), rows_(rows), out_(out) {}

    /// False at a dead point. `slopes`: of `numbers`, with `own_readings`.
    bool read(head::Solver& solver, head::AllSlopes& slopes, double stick, int azimuth,
              std::span<const head::Number> numbers);
    bool needed(double stick, int azimuth) const {
        for (const WishRow& row : rows_)
            if (at(row, stick, azimuth)) return true;
        return false;
    }

private:
    /// Is this row read at this pose? Range rows average over the azimuths, so they are read at each.
    static bool at(const WishRow& row, double stick, int azimuth) {
        if (row.kind == WishKind::range) return stick == (row.place == 0 ? -1.0 : 1.0);
        return stick == 0 && azimuth == (row.kind == WishKind::pitch ? row.place : 0);
    }
    double wanted(const head::Head& head, const WishRow& row) const {
        if (row.kind == WishKind::height)
            return wishes_.height_mm.value_or(head.description().swashplate.neutral_height_mm);
        if (row.kind == WishKind::range) return (*wishes_.range_deg)[static_cast<std::size_t>(row.place)];
        if (row.kind == WishKind::pitch) return wishes_.pitch_deg.value_or(0);
        return row.kind == WishKind::square ? 90.0 : 0.0;
    }

    const Wishes& wishes_;
    std::span<const WishRow> rows_;
    WishValues& out_;
};

struct HornAngle {
    Vec3 horn, link;  // pivot to ball, ball to the link's other ball, mm
};

/// The other end of a horn's link.
linkage::AnchorId link_end(const head::Head& head, std::size_t servo) {
    return head.parts().ball(*head::other_end(head.description(), head::horn_ball(servo)));
}

HornAngle horn_and_link(const head::Head& head, const linkage::Workspace& ws, int servo) {
    const auto j = static_cast<std::size_t>(servo);
    const Vec3& ball = ws.point(head.parts().ball(head::horn_ball(j)));
    return {ball - ws.placement(head.model().body(head::Role::horn, j)).origin, ws.point(link_end(head, j)) - ball};
}

/// Angle between horn and link, deg. 180 would be a horn in line with its link, folded out.
double angle_deg(const HornAngle& at) {
    return std::atan2(at.horn.cross(at.link).norm(), -at.horn.dot(at.link)) / degree;
}

/// Its rate as a linear reading of the motion. What a longer horn does to its own ball lies along the horn, which turns
/// no angle.
linkage::Reading angle_terms(const head::Head& head, const linkage::Workspace& ws, int servo) {
    using What = linkage::ReadingTerm::What;
    const auto j = static_cast<std::size_t>(servo);
    const auto [horn, link] = horn_and_link(head, ws, servo);
    const Vec3 u = horn.normalized(), v = link.normalized();
    const double c = u.dot(v), s = u.cross(v).norm(), by = s > 0 ? 1 / (s * degree) : 0;  // angle = acos(-c)
    const Vec3 by_horn = by / horn.norm() * (v - c * u), by_link = by / link.norm() * (u - c * v);
    return {{What::spin, head.model().body(head::Role::horn, j).index, 0, horn.cross(by_horn)},
            {What::point, link_end(head, j).index, 0, by_link},
            {What::point, head.parts().ball(head::horn_ball(j)).index, 0, -by_link}};
}

const linkage::Row& closure_of(const head::Head& head, const WishRow& row) {
    return head.plan().blocks()[static_cast<std::size_t>(row.index)].rows[static_cast<std::size_t>(row.place)];
}

/// How much too short a link is for its balls, or how far a pin's ends are apart along one axis, mm.
double gap_mm(const head::Head& head, const linkage::Workspace& ws, const WishRow& row) {
    const linkage::Row& closure = closure_of(head, row);
    if (closure.kind == linkage::ClosureKind::link) return linkage::closure_error(ws, closure);
    return (ws.anchors[closure.b] - ws.anchors[closure.a])[closure.component];
}

/// Its rate as a linear reading of the motion, the link's own length aside.
linkage::Reading gap_terms(const head::Head& head, const linkage::Workspace& ws, const WishRow& row) {
    using What = linkage::ReadingTerm::What;
    const linkage::Row& closure = closure_of(head, row);
    const Vec3 along = closure.kind == linkage::ClosureKind::link
                           ? Vec3((ws.anchors[closure.b] - ws.anchors[closure.a]).normalized())
                           : Vec3(Vec3::Unit(closure.component));
    return {{What::point, closure.b, 0, along}, {What::point, closure.a, 0, -along}};
}

/// How much the link of a gap is made longer by a number.
double own_length(const head::Head& head, const WishRow& row, const head::Number& number) {
    const linkage::Row& closure = closure_of(head, row);
    if (closure.kind != linkage::ClosureKind::link) return 0;
    double out = 0;
    std::vector<linkage::Change> changes;
    number.rates(head, {}, changes);
    for (const linkage::Change& change : changes)
        if (change.what == linkage::Quantity::length && change.index == closure.closure) out += change.amount.x();
    return out;
}

/// What a row's slopes are read from: a reading that every head has, by its place in `AllSlopes`, or one of its own.
std::optional<int> common_reading(const WishRow& row) {
    using head::AllSlopes;
    switch (row.kind) {
        case WishKind::height:
            return AllSlopes::height;
        case WishKind::level:
            return row.place == 0 ? AllSlopes::tilt_forward : AllSlopes::tilt_right;
        case WishKind::square:
        case WishKind::misfit:
            return std::nullopt;
        case WishKind::pitch:
        case WishKind::range:
            break;
    }
    return AllSlopes::first_pitch + row.index;
}

linkage::Reading own_terms(const head::Head& head, const linkage::Workspace& ws, const WishRow& row) {
    return row.kind == WishKind::square ? angle_terms(head, ws, row.index) : gap_terms(head, ws, row);
}

/// Of all rows that have one, in their order.
std::vector<linkage::Reading> own_readings(const head::Head& head, const linkage::Workspace& ws,
                                           std::span<const WishRow> rows) {
    std::vector<linkage::Reading> out;
    for (const WishRow& row : rows)
        if (!common_reading(row)) out.push_back(own_terms(head, ws, row));
    return out;
}

/// One for each closure that shares a misfit; slots, which turn nothing that is wished, aside.
std::vector<WishRow> misfit_rows(const head::Description& d) {
    constexpr double weight = 10;  // a link sprung in by a tenth of a millimetre is as bad as a degree: our own choice
    std::vector<WishRow> out;
    const auto head = head::Head::build(d);
    if (!head) return out;
    const auto& blocks = head->plan().blocks();
    for (std::size_t b = 0; b < blocks.size(); ++b)
        for (std::size_t r = 0; r < blocks[b].rows.size(); ++r)
            if (blocks[b].rows[r].least_squares && blocks[b].rows[r].kind != linkage::ClosureKind::slot)
                out.push_back({WishKind::misfit, static_cast<int>(b), static_cast<int>(r), weight});
    return out;
}

double reading(const head::Head& head, head::Solver& solver, const WishRow& row) {
    switch (row.kind) {
        case WishKind::height:
            return solver.height_mm();
        case WishKind::level:
            return row.place == 0 ? solver.tilt_forward_deg() : solver.tilt_right_deg();
        case WishKind::square:
            return angle_deg(horn_and_link(head, solver.workspace(), row.index));
        case WishKind::misfit:
            return gap_mm(head, solver.workspace(), row);
        case WishKind::pitch:
        case WishKind::range:
            break;
    }
    return solver.pitch_deg(row.index);
}

bool Rows::read(head::Solver& solver, head::AllSlopes& slopes, double stick, int azimuth,
                std::span<const head::Number> numbers) {
    const auto each = [&](auto&& what) {
        for (std::size_t r = 0; r < rows_.size(); ++r)
            if (at(rows_[r], stick, azimuth))
                what(static_cast<Eigen::Index>(r), rows_[r], rows_[r].kind == WishKind::range ? 1.0 / azimuths : 1.0);
    };
    each([&](Eigen::Index r, const WishRow& row, double share) {
        out_.off[r] += share * (reading(solver.head(), solver, row) - wanted(solver.head(), row));
    });
    const head::Head& head = solver.head();
    std::vector<int> reading_of;
    for (int own = 0; const WishRow& row : rows_) {
        const auto common = common_reading(row);
        reading_of.push_back(common ? *common : slopes.own() + own);
        if (!common) slopes.own_reading(own++) = own_terms(head, solver.workspace(), row);
    }
    if (!slopes.at(solver)) return false;
    const auto table = slopes.by_numbers(solver, main_stick_at(head.description(), stick));
    each([&](Eigen::Index r, const WishRow& row, double share) {
        out_.slopes.row(r) += share * table.row(reading_of[static_cast<std::size_t>(r)]);
        if (row.kind != WishKind::misfit) return;
        for (std::size_t p = 0; p < numbers.size(); ++p)
            out_.slopes(r, static_cast<Eigen::Index>(p)) -= share * own_length(head, row, numbers[p]);
    });
    return true;
}

}  // namespace

std::vector<WishRow> wish_rows(const head::Description& d, const Wishes& wishes) {
    // A degree of ring tilt moves the blades by about a degree, and a millimetre of height by two or three, which only
    // the upper links can take up again. A horn some degrees off square changes little. Our own choice.
    constexpr double height_weight = 1.0, square_weight = 0.1;
    std::vector<WishRow> out;
    if (wishes.level_ring) {
        out.push_back({WishKind::height, 0, 0, height_weight});
        for (const int side : {0, 1})
            if (d.swashplate.tilts) out.push_back({WishKind::level, 0, side, 1.0});
    }
    if (wishes.zero_pitch)
        for (int k = 0; k < d.rotor.blades; ++k)
            for (int a = 0; a < azimuths; ++a) out.push_back({WishKind::pitch, k, a, 1.0 / std::sqrt(azimuths)});
    if (wishes.square_horns)
        for (int j = 0; j < static_cast<int>(d.servos.size()); ++j)
            if (head::other_end(d, head::horn_ball(static_cast<std::size_t>(j))))
                out.push_back({WishKind::square, j, 0, square_weight});
    if (wishes.range_deg)
        for (int k = 0; k < d.rotor.blades; ++k)
            for (const int end : {0, 1}) out.push_back({WishKind::range, k, end, 1.0});
    if (!out.empty()) std::ranges::copy(misfit_rows(d), std::back_inserter(out));
    return out;
}

std::optional<WishValues> wish_values(const head::Head& head, const Wishes& wishes, std::span<const WishRow> rows,
                                      std::span<const head::Number> numbers) {
    if (head.neutral_failure()) return std::nullopt;
    WishValues out;
    out.off = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(rows.size()));
    out.slopes = Eigen::MatrixXd::Zero(out.off.size(), static_cast<Eigen::Index>(numbers.size()));
    Rows all(wishes, rows, out);
    head::Solver solver(head);
    head::AllSlopes slopes(head, numbers, own_readings(head, solver.workspace(), rows));
    for (const double stick : {0.0, -1.0, 1.0}) {
        solver.reset();
        const head::Sticks sticks = main_stick_at(head.description(), stick);
        for (int a = 0; a < azimuths; ++a) {
            if (!all.needed(stick, a)) continue;
            if (!solver.pose(sticks, 360.0 * a / azimuths) || !all.read(solver, slopes, stick, a, numbers))
                return std::nullopt;
        }
    }
    return out;
}

}  // namespace swashwright::studies
