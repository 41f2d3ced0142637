// `swashwright compare`: what differs between two heads?
#include "kinematics/studies/pitch/compare.h"

#include "viewer/console/pose_options.h"
#include "viewer/console/study.h"
#include "viewer/document/load_head.h"

namespace swashwright::console {

void add_compare(CLI::App& program, ExitCode& exit_code) {
    struct Request {
        std::string other;
        head::Sticks sticks;
    };
    const auto request = std::make_shared<Request>();
    CLI::App* verb = add_study(
        program, exit_code, "compare", "Print which numbers of two heads differ, and what that does to the pitch",
        [request](const scene::Scene& scene, const head::Head&) -> Answered {
            const auto other = document::load_head(request->other, /*must_close=*/false);
            if (!other) return bad_input(other.error().text);
            const auto found = studies::compare(scene.head, other->scene.head, request->sticks);
            studies::Answer answer = studies::answer(found, "first", "second");
            if (const std::string& open = found.sticks.front().why_not; !open.empty())
                return tl::unexpected(Refusal(open, ExitCode::cannot_be_assembled, std::move(answer)));
            return answer;
        },
        /*must_close=*/false);
    verb->add_option("OTHER", request->other, "The scene to compare it with")->required()->type_name("FILE");
    add_stick_options(*verb, request->sticks);
}

}  // namespace swashwright::console
