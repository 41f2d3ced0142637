// Random heads on MuJoCo's kinematics (Debian libmujoco-dev): an independent account of where bodies stand.
#include "tests/peers/mujoco_head.h"

#include "tests/peers/compare.h"

namespace swashwright::peers {
namespace {

struct ByItsJacobian : MujocoHead {
    explicit ByItsJacobian(const PlainHead& head) : MujocoHead(head, Way::mujoco_jacobian) {}
};

TEST(MujocoHead, AgreesOnHundredsOfRandomHeads) {
    Agreement found;
    compare<ByItsJacobian>(400, 8, found);
    expect_agreement(found, 1e-7);  // mm and deg
}

TEST(MujocoHead, AgreesInTheFasterWayThatTheBenchmarkTimes) {
    Agreement found;
    compare<MujocoHead>(100, 8, found);
    expect_agreement(found, 1e-7);
}

}  // namespace
}  // namespace swashwright::peers
