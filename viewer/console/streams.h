// Standard output and standard error as a shell may hand them over: a file, a full disk, closed, or a pipe that nobody
// reads any more.
#pragma once

#include <fmt/format.h>

#include <string_view>
#include <utility>

namespace swashwright::console {

/// Before anything else is opened: takes up a standard stream that is closed, so that no other file gets its number and
/// with it what is printed; a pipe that nobody reads becomes an error in place of a signal.
void open_streams();

/// To standard output. What fails is kept for `finish_output`.
void put(std::string_view text);
/// To standard error. Where that fails there is nobody left to be told.
void put_error(std::string_view text);

template <class... Args>
void say(fmt::format_string<Args...> form, Args&&... args) {
    put(fmt::format(form, std::forward<Args>(args)...));
}
template <class... Args>
void complain(fmt::format_string<Args...> form, Args&&... args) {
    put_error(fmt::format(form, std::forward<Args>(args)...));
}

/// The last of a run: the exit code, which is never `closes` where standard output did not take all that was printed.
/// The reason is then told on standard error.
int finish_output(int exit_code);

}  // namespace swashwright::console
