// Poses a head with the installed library: stranger SCENE HEIGHT_MM.
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "kinematics/head/head.h"
#include "kinematics/scene/scene.h"

int main(int argc, char** argv) {
    using namespace swashwright;
    if (argc != 3) return 2;
    const auto scene = scene::load(argv[1]);
    if (!scene) {
        std::puts(scene.error().text().c_str());
        return 2;
    }
    const auto head = head::Head::build(scene->head);
    if (!head) return 2;
    const auto pose = head->pose(head::Sticks{}, 0);
    if (!pose) return 1;
    std::printf("ring at %.9f mm\n", pose->height_mm);
    return std::abs(pose->height_mm - std::atof(argv[2])) < 1e-7 ? 0 : 1;
}
