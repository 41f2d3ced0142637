// `swashwright reach`: does the head stay free over the whole stick envelope?
#include "kinematics/studies/envelope/reach.h"

#include "viewer/console/numbers.h"
#include "viewer/console/study.h"

namespace swashwright::console {

void add_reach(CLI::App& program, ExitCode& exit_code) {
    struct Wanted {
        bool without_clearance = false;
        std::size_t rows = 12;
    };
    const auto wanted = std::make_shared<Wanted>();
    CLI::App* verb =
        add_study(program, exit_code, "reach", "Tell what binds or touches anywhere in the stick envelope, and where",
                  [wanted](const scene::Scene&, const head::Head& head) -> tl::expected<studies::Answer, std::string> {
                      studies::ReachRequest request;
                      request.clearance = !wanted->without_clearance;
                      const auto reach = studies::reach(head, request);
                      if (!reach) return tl::unexpected(reach.error().message);
                      return studies::answer(*reach, wanted->rows);
                  });
    verb->add_flag("--without-clearance", wanted->without_clearance, "Leave out what may touch: much faster");
    add_count(*verb, "--rows", wanted->rows, 0, most_rows, "Checks to list, nearest to their bounds first; 0 for all");
}

}  // namespace swashwright::console
