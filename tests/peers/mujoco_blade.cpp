#include "tests/peers/mujoco_blade.h"

#include <mujoco/mujoco.h>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>
#include <string>

namespace swashwright::peers {

double holding_moment_nm(const SpinningBlade& b) {
    // The hub turns anticlockwise about z; the hinge's frame has x out along the blade, y ahead, z up.
    std::ostringstream xml;
    xml.precision(17);
    const double m = b.mass / 12;
    xml << "<mujoco><compiler angle='radian'/><option gravity='0 0 0'/><worldbody><body name='hub'>"
        << "<inertial pos='0 0 0' mass='1' diaginertia='1 1 1'/><joint name='shaft' axis='0 0 1'/>"
        << "<body name='blade' euler='0 " << -b.cone << " 0'><joint name='hinge' axis='1 0 0'/>"
        << "<inertial pos='" << b.along << ' ' << b.ahead << ' ' << b.up << "' mass='" << b.mass << "' diaginertia='"
        << m * (b.chord * b.chord + b.thickness * b.thickness) << ' '
        << m * (b.span * b.span + b.thickness * b.thickness) << ' ' << m * (b.span * b.span + b.chord * b.chord)
        << "'/></body></body></worldbody></mujoco>";
    const std::string text = xml.str();
    mjVFS files;
    mj_defaultVFS(&files);
    mj_makeEmptyFileVFS(&files, "blade.xml", int(text.size()));
    std::copy(text.begin(), text.end(), static_cast<char*>(files.filedata[0]));
    char message[500] = "";
    mjModel* model = mj_loadXML("blade.xml", &files, message, sizeof message);
    mj_deleteVFS(&files);
    if (!model) throw std::runtime_error(std::string("MuJoCo refuses the blade: ") + message);
    mjData* data = mj_makeData(model);
    const int shaft = model->jnt_dofadr[mj_name2id(model, mjOBJ_JOINT, "shaft")];
    const int hinge = model->jnt_dofadr[mj_name2id(model, mjOBJ_JOINT, "hinge")];
    data->qpos[hinge] = b.pitch;
    data->qvel[shaft] = b.speed;
    mj_inverse(model, data);
    const double moment = data->qfrc_inverse[hinge];
    mj_deleteData(data);
    mj_deleteModel(model);
    return moment;
}

}  // namespace swashwright::peers
