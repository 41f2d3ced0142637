#include "tests/peers/simbody_head.h"

#include <SimTKsimbody.h>

#include <cmath>

#include "tests/peers/loop_newton.h"

namespace swashwright::peers {
namespace {

using SimTK::MobilizedBody;
using SimTK::Rotation;
using SimTK::State;
using SimTK::Transform;
using SimTK::UnitVec3;
using SimTK::Vec3;

constexpr double tolerance_mm = 1e-11;  // as the plan asks of a linkage of this size
constexpr double deg = double(SimTK_RADIAN_TO_DEGREE);

Vec3 at(const Point& p) {
    return {p[0], p[1], p[2]};
}

UnitVec3 normal_of_plane_along(double azimuth) {
    return UnitVec3(-std::sin(azimuth), std::cos(azimuth), 0);
}

/// A joint angle that is whatever it was last set to.
class Driven final : public SimTK::Motion::Custom::Implementation {
public:
    explicit Driven(const double& angle) : angle_(angle) {}
    Implementation* clone() const override { return new Driven(*this); }
    SimTK::Motion::Level getLevel(const State&) const override { return SimTK::Motion::Position; }
    void calcPrescribedPosition(const State&, int, SimTK::Real* q) const override { *q = angle_; }
    void calcPrescribedPositionDot(const State&, int, SimTK::Real* rate) const override { *rate = 0; }
    void calcPrescribedPositionDotDot(const State&, int, SimTK::Real* rate) const override { *rate = 0; }

private:
    const double& angle_;
};

}  // namespace

struct SimbodyHead::Model {
    Model(const PlainHead& plain, Way chosen);

    void add_ring();
    void add_rotor();
    bool close_by_projection();
    bool close_by_assembly();
    bool close_by_newton();
    bool close_by_kinematics();

    PlainHead head;
    Way way;
    SimTK::MultibodySystem system;
    SimTK::SimbodyMatterSubsystem matter{system};
    SimTK::GeneralForceSubsystem forces{system};
    SimTK::Force::DiscreteForces moments{forces, matter};  // on grips
    const SimTK::Body::Rigid anything{SimTK::MassProperties(1, Vec3(0), SimTK::Inertia(1))};
    MobilizedBody inner, outer, hub;
    std::vector<MobilizedBody> grips;
    std::vector<SimTK::Constraint::Rod> lower_links, upper_links;
    double hub_angle = SimTK::Pi;  // read by the hub's motion

    State state;
    std::unique_ptr<SimTK::Assembler> assembler;
    SimTK::ProjectOptions options{tolerance_mm};
    SimTK::Vector no_error_estimate;
    long steps = 0;
    double residual = 0;            // of close_by_kinematics
    std::vector<int> free_columns;  // for Newton: every coordinate but the hub's
    SimTK::Matrix jacobian, square;
    SimTK::Vector change;
    LoopNewton newton;
    LoopPoints points;
};

SimbodyHead::Model::Model(const PlainHead& plain, Way chosen) : head(plain), way(chosen), newton(plain), points(plain) {
    matter.setShowDefaultGeometry(false);
    add_ring();
    add_rotor();
    system.realizeTopology();
    state = system.getDefaultState();
    matter.setUseEulerAngles(state, true);
    system.realizeModel(state);
    inner.getParentMobilizedBody().setOneQ(state, 0, head.ring_height);
    hub.setOneQ(state, 0, SimTK::Pi);
    outer.setOneQ(state, 0, SimTK::Pi);
    system.realize(state, SimTK::Stage::Instance);
    for (int i = 0; i < state.getNQ(); ++i) {
        if (i != int(hub.getFirstQIndex(state))) free_columns.push_back(i);
    }
    options.setOption(SimTK::ProjectOptions::UseInfinityNorm);
    options.setOption(SimTK::ProjectOptions::DontThrow);
    options.setOvershootFactor(1);
    if (way == Way::assemble) {
        assembler = std::make_unique<SimTK::Assembler>(system);
        assembler->setErrorTolerance(tolerance_mm);
        assembler->setAccuracy(tolerance_mm);
        assembler->lockMobilizer(hub.getMobilizedBodyIndex());
        assembler->initialize(state);
    }
}

void SimbodyHead::Model::add_ring() {
    const Transform upright(Rotation(-SimTK::Pi / 2, SimTK::YAxis));  // a slider's x axis up the shaft
    MobilizedBody::Slider carriage(matter.Ground(), upright, anything, upright);
    inner = MobilizedBody::Gimbal(carriage, Vec3(0), anything, Vec3(0));
    if (way == Way::kinematics) return;
    for (std::size_t j = 0; j < head.horns.size(); ++j) {
        lower_links.emplace_back(matter.updGround(), Vec3(0), inner, at(head.inner_balls[j]), head.lower_lengths[j]);
    }
    SimTK::Constraint::PointInPlane(matter.updGround(), normal_of_plane_along(head.guide_plane), 0, inner,
                                    at(head.guide_pin));
}

void SimbodyHead::Model::add_rotor() {
    hub = MobilizedBody::Pin(matter.Ground(), Vec3(0), anything, Vec3(0));
    if (way == Way::project) SimTK::Motion::Custom(hub, new Driven(hub_angle));
    outer = MobilizedBody::Pin(inner, Vec3(0), anything, Vec3(0));
    const bool constrained = way != Way::kinematics;
    if (constrained)
        SimTK::Constraint::PointInPlane(hub, normal_of_plane_along(head.driver_plane), 0, outer, at(head.driver_pin));
    for (std::size_t k = 0; k < head.grips.size(); ++k) {
        // Grip frame: x ahead, y up, z along the feathering axis so that a positive turn raises the leading edge.
        const PlainHead::Grip& grip = head.grips[k];
        const double a = grip.azimuth, cone = head.precone;
        const Vec3 out(std::cos(cone) * std::cos(a), std::cos(cone) * std::sin(a), std::sin(cone));
        const Vec3 ahead = head.spin * Vec3(-std::sin(a), std::cos(a), 0);
        const Transform axis(Rotation(UnitVec3(head.spin * out), SimTK::ZAxis, ahead, SimTK::XAxis),
                             Vec3(0, 0, head.hub_height));
        grips.push_back(MobilizedBody::Pin(hub, axis, anything, Vec3(0)));
        if (constrained)
            upper_links.emplace_back(outer, at(head.outer_balls[k]), grips.back(),
                                     Vec3(grip.lead, grip.up, head.spin * grip.along), head.upper_lengths[k]);
    }
}

bool SimbodyHead::Model::close_by_projection() {
    SimTK::ProjectResults results;
    system.realize(state, SimTK::Stage::Time);
    system.prescribeQ(state);
    system.realize(state, SimTK::Stage::Position);
    system.projectQ(state, no_error_estimate, options, results);
    steps += results.getNumIterations();
    return results.getExitStatus() == SimTK::ProjectResults::Succeeded;
}

bool SimbodyHead::Model::close_by_assembly() {
    hub.setOneQ(state, 0, hub_angle);
    assembler->setInternalState(state);
    try {
        assembler->track();
    } catch (const std::exception&) {
        return false;
    }
    assembler->updateFromInternalState(state);
    system.realize(state, SimTK::Stage::Position);
    return true;
}

bool SimbodyHead::Model::close_by_newton() {
    hub.setOneQ(state, 0, hub_angle);
    const int n = int(free_columns.size());
    square.resize(n, n);
    change.resize(n);
    for (int step = 0; step < 15; ++step) {
        system.realize(state, SimTK::Stage::Position);
        const SimTK::Vector& error = state.getQErr();
        if (step > 0 && SimTK::max(SimTK::abs(error)) <= tolerance_mm) return true;
        matter.calcPq(state, jacobian);
        for (int column = 0; column < n; ++column) square(column) = jacobian(free_columns[column]);
        SimTK::FactorLU(square).solve(error, change);
        SimTK::Vector& q = state.updQ();
        for (int i = 0; i < n; ++i) q[free_columns[i]] -= change[i];
        ++steps;
    }
    return false;
}

bool SimbodyHead::Model::close_by_kinematics() {
    hub.setOneQ(state, 0, hub_angle);
    const auto copy = [](const Vec3& v) { return Eigen::Vector3d(v[0], v[1], v[2]); };
    const double driver_plane = hub_angle + head.driver_plane;
    points.driver_normal = {-std::sin(driver_plane), std::cos(driver_plane), 0};
    const MobilizedBody& carriage = inner.getParentMobilizedBody();
    const SimTK::QIndex height = carriage.getFirstQIndex(state), turn = inner.getFirstQIndex(state);
    const SimTK::QIndex spin = outer.getFirstQIndex(state);
    for (int round = 0; round < 15; ++round) {
        matter.realizePositionKinematics(state);
        const Transform& ring = inner.getBodyTransform(state);
        const Transform& rotating = outer.getBodyTransform(state);
        for (std::size_t j = 0; j < head.horns.size(); ++j) {
            points.inner_balls[j] = copy(ring * at(head.inner_balls[j]));
        }
        points.guide_pin = copy(ring * at(head.guide_pin));
        points.driver_pin = copy(rotating * at(head.driver_pin));
        for (std::size_t k = 0; k < grips.size(); ++k) {
            const Transform& grip = grips[k].getBodyTransform(state);
            const PlainHead::Grip& arm = head.grips[k];
            points.outer_balls[k] = copy(rotating * at(head.outer_balls[k]));
            points.grip_balls[k] = copy(grip * Vec3(arm.lead, arm.up, head.spin * arm.along));
            points.grip_axes[k] = copy(Vec3(grip.R().z()));
        }
        const double worst = newton.measure(points);
        if (round > 0 && worst <= tolerance_mm) {
            residual = worst;
            return true;
        }
        const double q0 = state.getQ()[turn];
        points.ring_origin = copy(ring.p());
        points.ring_axes[0] = {1, 0, 0};  // a gimbal turns about x, then the new y, then the new z
        points.ring_axes[1] = {0, std::cos(q0), std::sin(q0)};
        points.ring_axes[2] = points.spin_axis = copy(Vec3(ring.R().z()));
        const Eigen::VectorXd& step = newton.step(points);
        SimTK::Vector& q = state.updQ();
        q[height] += step[0];
        for (int i = 0; i < 3; ++i) q[turn + i] += step[1 + i];
        q[spin] += step[4];
        for (std::size_t k = 0; k < grips.size(); ++k) q[grips[k].getFirstQIndex(state)] += step[5 + int(k)];
        ++steps;
    }
    return false;
}

SimbodyHead::SimbodyHead(const PlainHead& head, Way way) : model_(std::make_unique<Model>(head, way)) {
    // To neutral, so that later poses start from there.
    std::vector<double> neutral;
    for (const PlainHead::Horn& horn : head.horns) neutral.push_back(horn.neutral_deg);
    PeerPose ignored;
    pose(neutral, 0, ignored);
    model_->steps = 0;
}

SimbodyHead::~SimbodyHead() = default;
SimbodyHead::SimbodyHead(SimbodyHead&&) noexcept = default;

bool SimbodyHead::pose(const std::vector<double>& horn_deg, double azimuth_deg, PeerPose& out) {
    Model& m = *model_;
    for (std::size_t j = 0; j < horn_deg.size(); ++j) {
        const Point ball = m.head.horn_ball(int(j), horn_deg[j]);
        m.points.horn_balls[j] = {ball[0], ball[1], ball[2]};
        if (m.way != Way::kinematics) m.lower_links[j].setPointOnBody1(m.state, at(ball));
    }
    // The outer ring's angle is carried along with the hub's, so that a large turn starts on the right side.
    const double hub_angle = m.head.blade_angle(azimuth_deg);
    m.outer.setOneQ(m.state, 0, m.outer.getOneQ(m.state, 0) + hub_angle - m.hub_angle);
    m.hub_angle = hub_angle;
    if (m.way == Way::project) m.state.setTime(azimuth_deg);  // the hub's motion is prescribed anew
    const bool closed = m.way == Way::project    ? m.close_by_projection()
                        : m.way == Way::assemble ? m.close_by_assembly()
                        : m.way == Way::newton   ? m.close_by_newton()
                                                 : m.close_by_kinematics();
    if (!closed) return false;

    const Vec3 n(m.inner.getBodyRotation(m.state).z());
    out.height_mm = m.inner.getBodyOriginLocation(m.state)[2];
    out.tilt_forward_deg = std::atan2(n[0], n[2]) * deg;
    out.tilt_right_deg = std::atan2(-n[1], n[2]) * deg;
    out.pitch_deg.resize(m.grips.size());
    for (std::size_t k = 0; k < m.grips.size(); ++k) {
        out.pitch_deg[k] = m.grips[k].getOneQ(m.state, 0) * deg + m.head.grips[k].offset_deg;
    }
    return true;
}

PeerLoads SimbodyHead::hold(const std::vector<double>& grip_nmm) {
    Model& m = *model_;
    for (std::size_t k = 0; k < m.grips.size(); ++k)
        m.moments.setOneMobilityForce(m.state, m.grips[k], SimTK::MobilizerUIndex(0), grip_nmm[k]);
    m.system.realize(m.state, SimTK::Stage::Acceleration);
    PeerLoads out;
    for (const SimTK::Constraint::Rod& link : m.upper_links) out.upper_n.push_back(link.getRodTension(m.state));
    for (std::size_t j = 0; j < m.lower_links.size(); ++j) {
        const SimTK::Constraint::Rod& link = m.lower_links[j];
        out.lower_n.push_back(link.getRodTension(m.state));
        // On the ground, about its origin and with the opposite sign, as Simbody has constraints' forces: so the
        // servo's own.
        const SimTK::SpatialVec servo = link.getConstrainedBodyForcesAsVector(m.state)[0];
        const PlainHead::Horn& horn = m.head.horns[j];
        const UnitVec3 axis(at(horn.zero) % at(horn.quarter));
        out.horn_nmm.push_back(SimTK::dot(Vec3(axis), servo[0] - at(horn.pivot) % servo[1]));
    }
    return out;
}

double SimbodyHead::residual_mm() const {
    if (model_->way == Way::kinematics) return model_->residual;
    return SimTK::max(SimTK::abs(model_->state.getQErr()));
}

long SimbodyHead::steps() const {
    return model_->steps;
}

std::string SimbodyHead::settings() const {
    int major = 0, minor = 0, build = 0;
    SimTK_version_simbody(&major, &minor, &build);
    const char* way = model_->way == Way::project    ? "System::projectQ at position stage"
                      : model_->way == Way::assemble ? "Assembler::track"
                      : model_->way == Way::newton   ? "Newton steps on Simbody's errors and calcPq"
                                                     : "Newton steps of our own on realizePositionKinematics";
    return "Simbody " + std::to_string(major) + "." + std::to_string(minor) + "." + std::to_string(build) + ", " + way +
           ", started from the last pose, one State reused, largest error at most 1e-11 mm, Euler angles";
}

}  // namespace swashwright::peers
