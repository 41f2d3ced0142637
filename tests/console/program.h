// Runs the real program as a shell would.
#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>

namespace swashwright::testing {

struct Outcome {
    int exit_code = -1;
    std::string out, err;
};

inline std::string file_text(const std::string& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

/// A file name of this process's own in the folder for temporary files.
inline std::string temporary(const std::string& name) {
    return ::testing::TempDir() + "swashwright_" + std::to_string(getpid()) + "_" + name;
}

inline std::string temporary_file(const std::string& name, const std::string& text) {
    std::string path = temporary(name);
    std::ofstream(path, std::ios::binary) << text;
    return path;
}

/// `command` as a shell runs it; what it sends nowhere else is in the outcome. A signal is exit code -1, or over 128.
inline Outcome run_shell(const std::string& command) {
    const std::string out = temporary("out"), err = temporary("err");
    const int status = std::system(("{ " + command + "; } >'" + out + "' 2>'" + err + "'").c_str());
    Outcome outcome{WIFEXITED(status) ? WEXITSTATUS(status) : -1, file_text(out), file_text(err)};
    std::remove(out.c_str());
    std::remove(err.c_str());
    return outcome;
}

/// `arguments` as they would be typed.
inline Outcome run_program(const std::string& arguments) {
    return run_shell("'" SWASHWRIGHT_PROGRAM "' " + arguments);
}

}  // namespace swashwright::testing
