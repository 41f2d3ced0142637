#include "tests/peers/mujoco_linkage.h"

#include <fmt/format.h>
#include <mujoco/mujoco.h>

#include <Eigen/Dense>
#include <algorithm>
#include <stdexcept>
#include <vector>

namespace swashwright::peers {
namespace {

using linkage::ClosureKind;
using linkage::Joint;
using Jacobian = Eigen::Matrix<double, 3, Eigen::Dynamic, Eigen::RowMajor>;

constexpr double tolerance_mm = 1e-11;  // as the plan asks of a linkage of this size
constexpr int most_steps = 15, parts_of_a_long_way = 8;

/// One body with all that it carries, in MuJoCo's own description language, lengths in mm. A joint frame is where the
/// body stands at zero motion.
std::string as_xml(const linkage::Description& d, int index) {
    const linkage::Body& body = d.bodies()[index];
    const Vec3& at = body.joint_frame.origin;
    const Quat turn(body.joint_frame.turn);
    std::string xml = fmt::format(
        "<body name='b{}' pos='{:.17g} {:.17g} {:.17g}' quat='{:.17g} {:.17g} {:.17g} {:.17g}'>"
        "<inertial pos='0 0 0' mass='1' diaginertia='1 1 1'/>",
        index, at.x(), at.y(), at.z(), turn.w(), turn.x(), turn.y(), turn.z());
    if (body.joint == Joint::prismatic || body.joint == Joint::slide_and_ball)
        xml += fmt::format("<joint name='s{}' type='slide' axis='0 0 1'/>", index);
    if (body.joint == Joint::revolute) xml += fmt::format("<joint name='r{}' type='hinge' axis='0 0 1'/>", index);
    if (body.joint == Joint::ball || body.joint == Joint::slide_and_ball)
        xml += fmt::format("<joint name='t{}' type='ball'/>", index);
    for (int child = 1; child < static_cast<int>(d.bodies().size()); ++child)
        if (d.bodies()[child].parent.index == index) xml += as_xml(d, child);
    return xml + "</body>";
}

mjModel* loaded(const linkage::Description& d) {
    std::string xml = "<mujoco><compiler angle='radian'/><worldbody>";
    for (int body = 1; body < static_cast<int>(d.bodies().size()); ++body)
        if (d.bodies()[body].parent.index == 0) xml += as_xml(d, body);
    xml += "</worldbody></mujoco>";
    mjVFS files;
    mj_defaultVFS(&files);
    mj_makeEmptyFileVFS(&files, "linkage.xml", static_cast<int>(xml.size()));
    std::ranges::copy(xml, static_cast<char*>(files.filedata[0]));
    char message[500] = "";
    mjModel* model = mj_loadXML("linkage.xml", &files, message, sizeof message);
    mj_deleteVFS(&files);
    if (!model) throw std::runtime_error(std::string("MuJoCo refuses the linkage: ") + message);
    return model;
}

}  // namespace

struct MujocoLinkage::Model {
    explicit Model(const linkage::Description& linkage);
    ~Model() {
        mj_deleteData(data);
        mj_deleteModel(model);
    }
    Model(const Model&) = delete;

    int named(char kind, int body) const {
        return mj_name2id(model, mjOBJ_JOINT, fmt::format("{}{}", kind, body).c_str());
    }
    double& place(int joint) const { return data->qpos[model->jnt_qposadr[joint]]; }
    Vec3 in_world(int body, const Vec3& direction) const {
        return Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>>(data->xmat + 9 * bodies[body]) *
               direction;
    }
    /// From where the joints stand; puts them back where they closed last if it fails.
    bool close(std::span<const double> inputs);
    void place_points();
    void measure();
    void differentiate();
    /// Adds to a row how a point that rides on a body moves it.
    void add_point(int row, int body, const Vec3& point, const Vec3& gradient);

    linkage::Description d;
    mjModel* model = nullptr;
    mjData* data = nullptr;
    std::vector<int> bodies;       // MuJoCo's, by ours
    std::vector<int> shown;        // joint that `joint` tells, by our body
    std::vector<bool> moved;       // by any unknown, by our body
    std::vector<int> driven;       // joints of the inputs
    std::vector<int> unknowns;     // degrees of freedom
    std::vector<Vec3> points;      // of the anchors
    Eigen::VectorXd errors;        // of closures' equations, mm
    std::vector<Vec3> gradients;   // of a link or slot
    Eigen::MatrixXd jacobian;      // equations by unknowns
    Jacobian by_all;               // of a point, by all degrees of freedom
    Eigen::VectorXd step, motion;  // of all degrees of freedom
    Eigen::PartialPivLU<Eigen::MatrixXd> lu;
    std::vector<double> good_places, good_inputs;  // of the last pose that closed
    long steps = 0;
};

MujocoLinkage::Model::Model(const linkage::Description& linkage) : d(linkage), model(loaded(linkage)) {
    data = mj_makeData(model);
    int equations = 0;
    for (const linkage::Closure& closure : d.closures()) equations += linkage::equations(closure.kind);
    std::vector<bool> known(static_cast<std::size_t>(model->nv), false);
    bodies.push_back(0);
    shown.push_back(-1);
    moved.push_back(false);
    for (int b = 1; b < static_cast<int>(d.bodies().size()); ++b) {
        const linkage::Body& body = d.bodies()[b];
        bodies.push_back(mj_name2id(model, mjOBJ_BODY, fmt::format("b{}", b).c_str()));
        const int slide = named('s', b), turn = named('r', b);
        if (slide >= 0) place(slide) = body.neutral.slide;
        if (turn >= 0) place(turn) = body.neutral.angle;
        shown.push_back(std::max(slide, turn));
        moved.push_back(moved[static_cast<std::size_t>(body.parent.index)] ||
                        (!body.input && body.joint != Joint::fixed));
        if (!body.input) continue;
        driven.push_back(shown.back());
        good_inputs.push_back(place(shown.back()));
        known[static_cast<std::size_t>(model->jnt_dofadr[driven.back()])] = true;
    }
    for (int i = 0; i < model->nv; ++i)
        if (!known[static_cast<std::size_t>(i)]) unknowns.push_back(i);
    points.resize(d.anchors().size());
    gradients.resize(d.closures().size());
    errors.resize(equations);
    jacobian.resize(equations, static_cast<Eigen::Index>(unknowns.size()));
    by_all.resize(3, model->nv);
    motion = Eigen::VectorXd::Zero(model->nv);
    good_places.assign(data->qpos, data->qpos + model->nq);
}

void MujocoLinkage::Model::place_points() {
    mj_kinematics(model, data);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const linkage::Anchor& anchor = d.anchors()[i];
        points[i] = Eigen::Map<const Vec3>(data->xpos + 3 * bodies[anchor.body.index]) +
                    in_world(anchor.body.index, anchor.position);
    }
}

void MujocoLinkage::Model::measure() {
    int row = 0;
    for (std::size_t i = 0; i < d.closures().size(); ++i) {
        const linkage::Closure& c = d.closures()[i];
        const Vec3 span = points[c.b.index] - points[c.a.index];
        if (c.kind == ClosureKind::coincidence) {
            errors.segment<3>(row) = span;
            row += 3;
            continue;
        }
        const bool slot = c.kind == ClosureKind::slot;
        gradients[i] = slot ? in_world(d.anchors()[c.b.index].body.index, c.normal) : Vec3(span.normalized());
        errors[row++] = slot ? -gradients[i].dot(span) : span.norm() - c.length;
    }
}

void MujocoLinkage::Model::add_point(int row, int body, const Vec3& point, const Vec3& gradient) {
    if (!moved[static_cast<std::size_t>(body)]) return;
    mj_jac(model, data, by_all.data(), nullptr, point.data(), bodies[body]);
    for (std::size_t k = 0; k < unknowns.size(); ++k)
        jacobian(row, static_cast<Eigen::Index>(k)) += gradient.dot(by_all.col(unknowns[k]));
}

void MujocoLinkage::Model::differentiate() {
    mj_comPos(model, data);  // mj_jac needs it
    jacobian.setZero();
    int row = 0;
    for (std::size_t i = 0; i < d.closures().size(); ++i) {
        const linkage::Closure& c = d.closures()[i];
        const int body_a = d.anchors()[c.a.index].body.index, body_b = d.anchors()[c.b.index].body.index;
        const Vec3 &a = points[c.a.index], &b = points[c.b.index];
        const int rows = linkage::equations(c.kind);
        for (int k = 0; k < rows; ++k) {
            const Vec3 gradient = c.kind == ClosureKind::coincidence ? Vec3(Vec3::Unit(k)) : gradients[i];
            if (c.kind == ClosureKind::slot) {  // a plane that moves is as if the point moved the other way
                add_point(row, body_a, a, gradient);
                add_point(row, body_b, a, -gradient);
            } else {
                add_point(row, body_a, a, -gradient);
                add_point(row, body_b, b, gradient);
            }
            ++row;
        }
    }
}

MujocoLinkage::MujocoLinkage(const linkage::Description& description) : model_(std::make_unique<Model>(description)) {}
MujocoLinkage::~MujocoLinkage() = default;
MujocoLinkage::MujocoLinkage(MujocoLinkage&&) noexcept = default;

bool MujocoLinkage::determinate() const {
    return model_->jacobian.rows() == model_->jacobian.cols();
}

bool MujocoLinkage::pose(std::span<const double> inputs) {
    Model& m = *model_;
    if (m.close(inputs)) return true;
    // Too far for Newton's method in one go.
    const std::vector<double> from = m.good_inputs;
    std::vector<double> here = from;
    for (int part = 1; part <= parts_of_a_long_way; ++part) {
        for (std::size_t i = 0; i < here.size(); ++i)
            here[i] = from[i] + (inputs[i] - from[i]) * part / parts_of_a_long_way;
        if (!m.close(here)) return false;
    }
    return true;
}

bool MujocoLinkage::Model::close(std::span<const double> inputs) {
    for (std::size_t i = 0; i < inputs.size(); ++i) place(driven[i]) = inputs[i];
    for (int round = 0; round < most_steps; ++round) {
        place_points();
        measure();
        if (round > 0 && errors.cwiseAbs().maxCoeff() <= tolerance_mm) {
            std::copy_n(data->qpos, model->nq, good_places.begin());
            good_inputs.assign(inputs.begin(), inputs.end());
            return true;
        }
        differentiate();
        lu.compute(jacobian);
        step = lu.solve(-errors);
        for (std::size_t k = 0; k < unknowns.size(); ++k) motion[unknowns[k]] = step[static_cast<Eigen::Index>(k)];
        mj_integratePos(model, data->qpos, motion.data(), 1);
        ++steps;
    }
    std::ranges::copy(good_places, data->qpos);
    return false;
}

double MujocoLinkage::joint(linkage::BodyId body) const {
    return model_->place(model_->shown[static_cast<std::size_t>(body.index)]);
}

Vec3 MujocoLinkage::z_axis(linkage::BodyId body) const {
    return model_->in_world(body.index, Vec3::UnitZ());
}

double MujocoLinkage::residual_mm() const {
    return model_->errors.cwiseAbs().maxCoeff();
}

long MujocoLinkage::steps() const {
    return model_->steps;
}

std::string MujocoLinkage::settings() const {
    return fmt::format(
        "MuJoCo {}, Newton steps of our own for all unknowns at once on mj_kinematics, mj_comPos and mj_jac, started "
        "from the last pose, one mjData reused, largest error at most 1e-11 mm",
        mj_versionString());
}

}  // namespace swashwright::peers
