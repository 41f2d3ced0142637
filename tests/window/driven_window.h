// The real program on a screen of its own (Xvfb), driven by mouse and keys (xdotool), read through its report.
#pragma once

#include <stdexcept>
// Asking a report for what it does not hold throws; by itself the library ends the program, or reads beyond the end.
#define JSON_ASSERT(holds) ((holds) ? void() : throw std::out_of_range(#holds))

#include <fcntl.h>
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <thread>
#include <utility>
#include <vector>

namespace swashwright::testing {

#if defined(SWASHWRIGHT_SANITIZED)
inline constexpr double patience = 3;       // the window draws so many times more slowly
inline constexpr int tries_to_wait = 2000;  // studies take a hundred times as long
#else
inline constexpr double patience = 1;
inline constexpr int tries_to_wait = 600;  // half a minute: other work may keep the machine busy
#endif

inline void pause(double seconds) {
    std::this_thread::sleep_for(std::chrono::duration<double>(patience * seconds));
}

/// A child process with a few variables of its own.
class Process {
public:
    Process(std::vector<std::string> words, const std::vector<std::string>& variables, int keep_open = -1) {
        std::vector<std::string> environment = variables;
        for (char** variable = environ; *variable; ++variable) {
            const std::string_view name =
                std::string_view(*variable).substr(0, std::string_view(*variable).find('=') + 1);
            // Of two with one name a shell takes the other one.
            if (std::ranges::none_of(variables, [&](const std::string& own) { return own.starts_with(name); }))
                environment.emplace_back(*variable);
        }
        const auto pointers = [](std::vector<std::string>& strings) {
            std::vector<char*> out;
            for (std::string& s : strings) out.push_back(s.data());
            out.push_back(nullptr);
            return out;
        };
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        if (keep_open >= 0) posix_spawn_file_actions_adddup2(&actions, keep_open, keep_open);
        if (posix_spawnp(&pid_, words[0].c_str(), &actions, nullptr, pointers(words).data(),
                         pointers(environment).data()) != 0)
            pid_ = -1;
        posix_spawn_file_actions_destroy(&actions);
    }
    ~Process() { stop(); }
    Process(const Process&) = delete;
    Process& operator=(const Process&) = delete;

    pid_t id() const { return pid_; }
    bool started() const { return pid_ > 0; }
    bool running() const { return pid_ > 0 && ::waitpid(pid_, nullptr, WNOHANG) == 0; }
    /// Waits for the end; the exit code.
    int wait() {
        int status = -1;
        if (pid_ > 0) ::waitpid(pid_, &status, 0);
        pid_ = -1;
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }
    void stop() {
        if (pid_ > 0) ::kill(pid_, SIGTERM);
        wait();
    }

private:
    pid_t pid_ = -1;
};

/// A folder that goes away.
class Folder {
public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "swashwright-window-XXXXXX").string();
        path_ = ::mkdtemp(name.data());
    }
    ~Folder() { std::filesystem::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string at(const std::string& name) const { return (path_ / name).string(); }

private:
    std::filesystem::path path_;
};

/// An X server on a free display, its screen as large as the window.
class Screen {
public:
    explicit Screen(const std::vector<std::string>& options = {"-screen", "0", "1280x800x24"}) {
        int ends[2];
        if (::pipe(ends) != 0) return;
        std::vector<std::string> words{"Xvfb", "-displayfd", std::to_string(ends[1]), "-nolisten", "tcp"};
        words.insert(words.end(), options.begin(), options.end());
        server_ = std::make_unique<Process>(words, std::vector<std::string>{}, ends[1]);
        ::close(ends[1]);
        char digit = 0;
        while (::read(ends[0], &digit, 1) == 1 && digit != '\n') display_ += digit;
        ::close(ends[0]);
    }
    bool there() const { return !display_.empty(); }
    std::string variable() const { return "DISPLAY=:" + display_; }

private:
    std::unique_ptr<Process> server_;
    std::string display_;
};

/// The program with one scene open. Every wait gives up after some seconds and fails the test.
class DrivenWindow {
public:
    DrivenWindow(const Screen& screen, const Folder& folder, const std::string& scene, bool safety_read = true)
        : display_(screen.variable()), report_(folder.at("report.json")) {
        const std::string state = folder.at("state");
        if (safety_read) {
            std::filesystem::create_directories(state + "/swashwright");
            std::ofstream(state + "/swashwright/window.json") << R"({ "safety_read": true })";
        }
        std::filesystem::remove(report_);
        program_ = std::make_unique<Process>(
            std::vector<std::string>{SWASHWRIGHT_PROGRAM, scene, "--report", report_},
            std::vector<std::string>{display_, "XDG_STATE_HOME=" + state, "ASAN_OPTIONS=detect_leaks=0"});
        wait_until([](const nlohmann::json&) { return true; });
        let_it_draw(0, 0.3);
    }

    pid_t id() const { return program_->id(); }
    bool running() const { return program_->running(); }
    nlohmann::json report() const {
        nlohmann::json now;
        for (int tries = 0; tries < 50; ++tries, pause(0.01)) {  // it may be met while it is being written
            std::ifstream file(report_);
            now = nlohmann::json::parse(file, nullptr, false);
            if (now.is_object()) break;
        }
        return now;
    }
    nlohmann::json value(const char* name) const { return report()["values"][name]; }
    std::string sentence() const { return report()["sentence"]; }

    /// True once the report says so.
    bool wait_until(const std::function<bool(const nlohmann::json&)>& wanted) const {
        for (int tries = 0; tries < tries_to_wait; ++tries, pause(0.05)) {
            const nlohmann::json now = report();
            try {
                if (now.is_object() && wanted(now)) return true;
            } catch (const std::out_of_range&) {  // it asks for what is not in the report yet
            }
            if (!program_->running()) break;
        }
        ADD_FAILURE() << "gave up waiting; the report is " << report().dump();
        return false;
    }

    void move_to(const std::string& widget, double across = 0.5, double down = 0.5) {
        nlohmann::json box = report()["widgets"][widget];
        for (int tries = 0; !box.is_array() && tries < 40; ++tries, pause(0.05))  // a dialog is drawn a frame later
            box = report()["widgets"][widget];
        ASSERT_TRUE(box.is_array()) << "no widget " << widget;
        const double x = box[0].get<double>() + across * (box[2].get<double>() - box[0].get<double>());
        const double y = box[1].get<double>() + down * (box[3].get<double>() - box[1].get<double>());
        const std::vector<std::string> to{"mousemove", fmt::format("{:.0f}", x), fmt::format("{:.0f}", y)};
        const long since = frame();
        xdotool(to);
        if (to == std::exchange(pointer_, to))
            pause(0.15);  // it was there
        else
            let_it_draw(since, 0.15, 1);
    }
    void click(const std::string& widget, double across = 0.5, double down = 0.5) {
        move_to(widget, across, down);
        move_to(widget, across, down);  // it may have scrolled meanwhile
        act({"click", "1"});
    }
    /// The button goes down there and stays down.
    void press(const std::string& widget, double across, double down) {
        move_to(widget, across, down);
        xdotool({"mousedown", "1"});
    }
    void release() { xdotool({"mouseup", "1"}); }
    void drag(const std::string& widget, double to_across, double to_down) {
        move_to(widget);
        xdotool({"mousedown", "1"});
        pause(0.2);
        move_to(widget, to_across, to_down);
        act({"mouseup", "1"});
    }
    /// The button goes down in the middle and the hand goes from one share of the width to the other and back; it is
    /// not let go.
    void drag_to_and_fro(const std::string& widget, double from, double to, double seconds) {
        constexpr int steps = 25;  // of a stroke, which takes about half a second
        press(widget, 0.5, 0.5);
        const nlohmann::json box = report()["widgets"][widget];
        ASSERT_TRUE(box.is_array()) << "no widget " << widget;
        const double left = box[0], width = box[2].get<double>() - left;
        const double y = (box[1].get<double>() + box[3].get<double>()) / 2;
        const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds);
        for (int stroke = 0; std::chrono::steady_clock::now() < end; ++stroke) {
            std::vector<std::string> words;
            for (int i = 1; i <= steps; ++i) {
                const double part = static_cast<double>(stroke % 2 == 0 ? i : steps - i) / steps;
                const double x = left + (from + (to - from) * part) * width;
                words.insert(words.end(),
                             {"mousemove", fmt::format("{:.0f}", x), fmt::format("{:.0f}", y), "sleep", "0.02"});
            }
            xdotool(std::move(words));
        }
    }
    /// One click of the wheel over a widget: "4" is up, "5" down.
    void wheel(const std::string& widget, const std::string& button) {
        move_to(widget);
        act({"click", button});
    }
    void wheel_up(const std::string& widget) { wheel(widget, "4"); }
    void type(const std::string& text) {
        xdotool({"key", "ctrl+a"});
        xdotool({"type", "--delay", "50", "--", text});
        key("Return");
    }
    void type_into(const std::string& widget, const std::string& text) {
        click(widget);
        type(text);
    }
    void key(const std::string& name) { act({"key", name}); }
    /// One close behind the other: many come within a frame. GLFW takes two presses of a key within a millisecond for
    /// one.
    void keys(std::vector<std::string> names) {
        names.insert(names.begin(), {"key", "--delay", "4"});
        xdotool(std::move(names));
    }
    /// Something else that xdotool can do, by its own words, and what it changes is drawn.
    void act(std::vector<std::string> words) {
        const long since = frame();
        xdotool(std::move(words));
        let_it_draw(since, 0.3);
    }
    /// At once.
    void xdotool(std::vector<std::string> words) {
        words.insert(words.begin(), "xdotool");
        EXPECT_EQ(Process(words, {display_}).wait(), 0) << words[1];
    }

private:
    long frame() const {
        const nlohmann::json now = report();
        return now.is_object() ? now["frame"].get<long>() : 0;
    }
    /// On a machine at other work that takes longer than on one at rest.
    void let_it_draw(long since, double at_least, int frames = 3) const {  // it draws three after each event
        pause(at_least);
        for (int tries = 0; tries < 1000 && program_->running() && frame() < since + frames; ++tries) pause(0.02);
    }

    std::string display_, report_;
    std::vector<std::string> pointer_;  // where it was last told to go
    std::unique_ptr<Process> program_;
};

}  // namespace swashwright::testing
