#include "viewer/console/streams.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>

#include "viewer/console/verbs.h"

namespace swashwright::console {
namespace {

int first_failure = 0;  // errno of the first write to standard output that failed

}  // namespace

void open_streams() {
    // A file that is opened gets the lowest free number. What is opened the wrong way round fails where it is used;
    // standard error is not, because what it does not take is not missed.
    for (int stream = 0; stream <= 2; ++stream)
        if (::fcntl(stream, F_GETFD) < 0 && ::open("/dev/null", stream == 1 ? O_RDONLY : O_WRONLY) != stream) break;
    std::signal(SIGPIPE, SIG_IGN);
}

void put(std::string_view text) {
    if (std::fwrite(text.data(), 1, text.size(), stdout) < text.size() && !first_failure) first_failure = errno;
}

void put_error(std::string_view text) {
    [[maybe_unused]] const auto told = std::fwrite(text.data(), 1, text.size(), stderr);
}

int finish_output(int exit_code) {
    if (std::fflush(stdout) != 0 && !first_failure) first_failure = errno;
    if (!first_failure) return exit_code;
    complain("swashwright: standard output did not take the answer: {}; let it go to a file or a pipe that can\n",
             first_failure == EBADF ? "it is closed" : std::strerror(first_failure));
    return exit_code == ExitCode::closes ? ExitCode::not_written : exit_code;
}

}  // namespace swashwright::console
