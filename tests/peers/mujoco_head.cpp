#include "tests/peers/mujoco_head.h"

#include <mujoco/mujoco.h>

#include <cmath>
#include <cstdio>
#include <numbers>
#include <sstream>
#include <stdexcept>

#include "tests/peers/loop_newton.h"

namespace swashwright::peers {
namespace {

constexpr double tolerance_mm = 1e-11;  // as the plan asks of a linkage of this size
constexpr double deg = 180 / std::numbers::pi;

/// The head in MuJoCo's own description language, lengths in mm. Horn balls and closures are not part of it.
std::string as_xml(const PlainHead& head) {
    std::ostringstream xml;
    xml.precision(17);
    const char* anything = "<inertial pos='0 0 0' mass='1' diaginertia='1 1 1'/>";
    xml << "<mujoco><compiler angle='radian'/><worldbody>"
        << "<body name='inner'>" << anything << "<joint name='height' type='slide' axis='0 0 1'/>"
        << "<joint name='x' axis='1 0 0'/><joint name='y' axis='0 1 0'/><joint name='z' axis='0 0 1'/>"
        << "<body name='outer'>" << anything << "<joint name='spin' axis='0 0 1'/></body></body>"
        << "<body name='hub' pos='0 0 " << head.hub_height << "'>" << anything << "<joint name='hub' axis='0 0 1'/>";
    for (std::size_t k = 0; k < head.grips.size(); ++k) {
        // Grip frame: x ahead, y up, z along the feathering axis so that a positive turn raises the leading edge.
        const double a = head.grips[k].azimuth, s = head.spin, cone = head.precone;
        xml << "<body name='grip" << k << "' xyaxes='" << -s * std::sin(a) << ' ' << s * std::cos(a) << " 0 "
            << -std::sin(cone) * std::cos(a) << ' ' << -std::sin(cone) * std::sin(a) << ' ' << std::cos(cone) << "'>"
            << anything << "<joint name='grip" << k << "' axis='0 0 1'/></body>";
    }
    xml << "</body></worldbody></mujoco>";
    return xml.str();
}

}  // namespace

struct MujocoHead::Model {
    Model(const PlainHead& plain, Way chosen);
    ~Model() {
        mj_deleteData(data);
        mj_deleteModel(model);
    }
    Model(const Model&) = delete;

    Eigen::Vector3d on_body(int body, const Point& p) const {
        const double* r = data->xmat + 9 * body;
        const double* o = data->xpos + 3 * body;
        return {o[0] + r[0] * p[0] + r[1] * p[1] + r[2] * p[2], o[1] + r[3] * p[0] + r[4] * p[1] + r[5] * p[2],
                o[2] + r[6] * p[0] + r[7] * p[1] + r[8] * p[2]};
    }
    Eigen::Vector3d axis(int joint) const { return Eigen::Map<const Eigen::Vector3d>(data->xaxis + 3 * joint); }
    int joint(const std::string& name) const { return mj_name2id(model, mjOBJ_JOINT, name.c_str()); }
    double& angle(int index) const { return data->qpos[model->jnt_qposadr[index]]; }

    const Eigen::VectorXd& newton_step();
    void add_point(int row, int body, const Eigen::Vector3d& point, const Eigen::Vector3d& gradient);

    PlainHead head;
    Way way;
    mjModel* model = nullptr;
    mjData* data = nullptr;
    int inner = 0, outer = 0, hub_joint = 0;
    std::vector<int> grips;     // bodies
    std::vector<int> unknowns;  // joints in the order of LoopNewton's unknowns
    LoopNewton newton;
    LoopPoints points;
    long steps = 0;
    double residual = 0;
    Eigen::MatrixXd jacobian;            // of the rows by the unknowns, for mj_jac
    std::vector<double> point_jacobian;  // 3 by degrees of freedom
};

MujocoHead::Model::Model(const PlainHead& plain, Way chosen) : head(plain), way(chosen), newton(plain), points(plain) {
    const std::string xml = as_xml(head);
    mjVFS files;
    mj_defaultVFS(&files);
    mj_makeEmptyFileVFS(&files, "head.xml", int(xml.size()));
    std::copy(xml.begin(), xml.end(), static_cast<char*>(files.filedata[0]));
    char message[500] = "";
    model = mj_loadXML("head.xml", &files, message, sizeof message);
    mj_deleteVFS(&files);
    if (!model) throw std::runtime_error(std::string("MuJoCo refuses the head: ") + message);
    data = mj_makeData(model);
    inner = mj_name2id(model, mjOBJ_BODY, "inner");
    outer = mj_name2id(model, mjOBJ_BODY, "outer");
    hub_joint = joint("hub");
    for (const char* name : {"height", "x", "y", "z", "spin"}) unknowns.push_back(joint(name));
    for (std::size_t k = 0; k < head.grips.size(); ++k) {
        const std::string name = "grip" + std::to_string(k);
        unknowns.push_back(joint(name));
        grips.push_back(mj_name2id(model, mjOBJ_BODY, name.c_str()));
    }
    jacobian.resize(int(unknowns.size()), int(unknowns.size()));
    point_jacobian.resize(3 * model->nv);
    angle(unknowns[0]) = head.ring_height;
    angle(unknowns[4]) = angle(hub_joint) = head.blade_angle(0);
}

/// A row's change with every unknown through one of its points; `gradient` is its change with the point.
void MujocoHead::Model::add_point(int row, int body, const Eigen::Vector3d& point, const Eigen::Vector3d& gradient) {
    mj_jac(model, data, point_jacobian.data(), nullptr, point.data(), body);
    const Eigen::Map<const Eigen::Matrix<double, 3, Eigen::Dynamic, Eigen::RowMajor>> by_all(point_jacobian.data(), 3,
                                                                                             model->nv);
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
        jacobian(row, int(i)) += gradient.dot(by_all.col(model->jnt_dofadr[unknowns[i]]));
    }
}

const Eigen::VectorXd& MujocoHead::Model::newton_step() {
    if (way == Way::own_jacobian) {
        points.ring_origin = Eigen::Map<const Eigen::Vector3d>(data->xpos + 3 * inner);
        for (int i = 0; i < 3; ++i) points.ring_axes[i] = axis(unknowns[1 + i]);
        points.spin_axis = axis(unknowns[4]);
        for (std::size_t k = 0; k < grips.size(); ++k) points.grip_axes[k] = axis(unknowns[5 + k]);
        return newton.step(points);
    }
    mj_comPos(model, data);
    jacobian.setZero();
    const int servos = int(head.horns.size());
    for (int j = 0; j < servos; ++j) add_point(j, inner, points.inner_balls[j], newton.directions()[j]);
    add_point(servos, inner, points.guide_pin, newton.guide_normal());
    add_point(servos + 1, outer, points.driver_pin, points.driver_normal);
    for (int k = 0; k < int(grips.size()); ++k) {
        const Eigen::Vector3d& direction = newton.directions()[servos + k];
        add_point(servos + 2 + k, outer, points.outer_balls[k], -direction);
        add_point(servos + 2 + k, grips[k], points.grip_balls[k], direction);
    }
    return newton.step(jacobian);
}

MujocoHead::MujocoHead(const PlainHead& head, Way way) : model_(std::make_unique<Model>(head, way)) {
    // To neutral, so that later poses start from there.
    std::vector<double> neutral;
    for (const PlainHead::Horn& horn : head.horns) neutral.push_back(horn.neutral_deg);
    PeerPose ignored;
    pose(neutral, 0, ignored);
    model_->steps = 0;
}

MujocoHead::~MujocoHead() = default;
MujocoHead::MujocoHead(MujocoHead&&) noexcept = default;

bool MujocoHead::pose(const std::vector<double>& horn_deg, double azimuth_deg, PeerPose& out) {
    Model& m = *model_;
    const PlainHead& head = m.head;
    for (std::size_t j = 0; j < horn_deg.size(); ++j) {
        const Point ball = head.horn_ball(int(j), horn_deg[j]);
        m.points.horn_balls[j] = {ball[0], ball[1], ball[2]};
    }
    // The outer ring's angle is carried along with the hub's, so that a large turn starts on the right side.
    const double hub_angle = head.blade_angle(azimuth_deg);
    m.angle(m.unknowns[4]) += hub_angle - m.angle(m.hub_joint);
    m.angle(m.hub_joint) = hub_angle;
    m.points.driver_normal = {-std::sin(hub_angle + head.driver_plane), std::cos(hub_angle + head.driver_plane), 0};
    bool closed = false;
    for (int round = 0; round < 15 && !closed; ++round) {
        mj_kinematics(m.model, m.data);
        for (std::size_t j = 0; j < head.horns.size(); ++j) {
            m.points.inner_balls[j] = m.on_body(m.inner, head.inner_balls[j]);
        }
        m.points.guide_pin = m.on_body(m.inner, head.guide_pin);
        m.points.driver_pin = m.on_body(m.outer, head.driver_pin);
        for (std::size_t k = 0; k < head.grips.size(); ++k) {
            const PlainHead::Grip& arm = head.grips[k];
            m.points.outer_balls[k] = m.on_body(m.outer, head.outer_balls[k]);
            m.points.grip_balls[k] = m.on_body(m.grips[k], {arm.lead, arm.up, head.spin * arm.along});
        }
        m.residual = m.newton.measure(m.points);
        closed = round > 0 && m.residual <= tolerance_mm;
        if (closed) break;
        const Eigen::VectorXd& step = m.newton_step();
        for (std::size_t i = 0; i < m.unknowns.size(); ++i) m.angle(m.unknowns[i]) += step[i];
        ++m.steps;
    }
    if (!closed) return false;

    const double* r = m.data->xmat + 9 * m.inner;  // row by row; its third column is the ring's normal
    out.height_mm = m.data->xpos[3 * m.inner + 2];
    out.tilt_forward_deg = std::atan2(r[2], r[8]) * deg;
    out.tilt_right_deg = std::atan2(-r[5], r[8]) * deg;
    out.pitch_deg.resize(head.grips.size());
    for (std::size_t k = 0; k < head.grips.size(); ++k) {
        out.pitch_deg[k] = m.angle(m.unknowns[5 + k]) * deg + head.grips[k].offset_deg;
    }
    return true;
}

double MujocoHead::residual_mm() const {
    return model_->residual;
}

long MujocoHead::steps() const {
    return model_->steps;
}

std::string MujocoHead::settings() const {
    return std::string("MuJoCo ") + mj_versionString() +
           (model_->way == Way::own_jacobian ? ", Newton steps of our own on mj_kinematics"
                                             : ", Newton steps of our own on mj_kinematics, mj_comPos and mj_jac") +
           " (its equality constraints are soft), started from the last pose, one mjData reused, largest error at "
           "most 1e-11 mm";
}

}  // namespace swashwright::peers
