#include "viewer/document/atomic_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <filesystem>

namespace swashwright::document {

namespace {

/// 0, or the errno of what failed.
int write_all(int file, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(file, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return errno;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return 0;
}

/// New files get what the umask leaves of 0666, as any other program's would.
mode_t permissions_for(const std::string& path) {
    struct stat old {};
    if (::stat(path.c_str(), &old) == 0) return old.st_mode & 07777;
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return 0666 & ~mask;
}

void sync_folder(const std::filesystem::path& folder) {
    const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (handle < 0) return;
    ::fsync(handle);
    ::close(handle);
}

int write_and_close(int file, std::string_view text, mode_t permissions, Durable durable) {
    int error = write_all(file, text);
    if (!error && ::fchmod(file, permissions) != 0) error = errno;
    if (!error && durable == Durable::yes && ::fsync(file) != 0) error = errno;
    if (::close(file) != 0 && !error) error = errno;
    return error;
}

/// A device or a pipe cannot be replaced; what is written goes into it.
int write_into(const std::string& path, std::string_view text) {
    const int file = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
    if (file < 0) return errno;
    const int error = write_all(file, text);
    return ::close(file) != 0 && !error ? errno : error;
}

/// 0, or the errno of what failed.
int replace_file(const std::filesystem::path& target, std::string_view text, Durable durable) {
    const std::filesystem::path folder = target.has_parent_path() ? target.parent_path() : ".";
    std::string temporary = (folder / (target.filename().string() + ".XXXXXX")).string();
    const int file = ::mkostemp(temporary.data(), O_CLOEXEC);
    if (file < 0) return errno;
    int error = write_and_close(file, text, permissions_for(target.string()), durable);
    if (!error && ::rename(temporary.c_str(), target.c_str()) != 0) error = errno;
    if (error)
        ::unlink(temporary.c_str());
    else if (durable == Durable::yes)
        sync_folder(folder);
    return error;
}

}  // namespace

tl::expected<void, std::string> write_atomically(const std::string& path, std::string_view text, Durable durable,
                                                 Named named) {
    std::error_code none;
    std::filesystem::path target = std::filesystem::canonical(path, none);
    if (none) target = path;
    const bool device = std::filesystem::exists(target, none) && !std::filesystem::is_regular_file(target, none) &&
                        !std::filesystem::is_directory(target, none);
    if (const int error = device ? write_into(path, text) : replace_file(target, text, durable))
        return tl::unexpected(fmt::format("{} was not saved: {}.{}", path, std::strerror(error),
                                          named == Named::by_user ? " Choose another folder or name." : ""));
    return {};
}

}  // namespace swashwright::document
