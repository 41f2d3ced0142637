// `swashwright compare`: what differs between two heads?
#include "kinematics/studies/comparison.h"

#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_compare(CLI::App& program, ExitCode& exit_code) {
    struct Request {
        std::string other;
        head::Sticks sticks;
    };
    const auto request = std::make_shared<Request>();
    CLI::App* verb = add_study(
        program, exit_code, "compare", "Print which numbers of two heads differ, and what that does to the pitch",
        [request](const scene::Scene& scene, const head::Head&) -> tl::expected<studies::Answer, std::string> {
            const auto other = scene::load(request->other);
            if (!other) return tl::unexpected(other.error().text());
            return studies::answer(studies::compare(scene.head, other->head, request->sticks), "first", "second");
        },
        /*must_close=*/false);
    verb->add_option("OTHER", request->other, "The scene to compare it with")->required()->type_name("FILE");
    add_stick_options(*verb, request->sticks);
}

}  // namespace swashwright::console
