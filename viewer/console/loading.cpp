#include "viewer/console/loading.h"

#include "kinematics/scene/files.h"
#include "viewer/console/out_file.h"
#include "viewer/console/streams.h"
#include "viewer/console/verbs.h"

namespace swashwright::console {

tl::expected<document::LoadedHead, int> load(const std::string& path, const Changes& changes, const std::string& out,
                                             bool must_close) {
    auto loaded = load_head(path, changes, must_close);
    if (!loaded) {
        put_error(loaded.error().text);
        return tl::unexpected(loaded.error().cannot_close ? ExitCode::cannot_be_assembled : ExitCode::bad_input);
    }
    if (out.empty()) return std::move(*loaded);
    if (const auto refusal = overwrites(out, scene::files_of(path, loaded->scene))) {
        complain("swashwright: --out: {}\n", *refusal);
        return tl::unexpected(static_cast<int>(ExitCode::bad_input));
    }
    return std::move(*loaded);
}

}  // namespace swashwright::console
