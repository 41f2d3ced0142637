// Workers of the page: each is this program once more, without a window, in a thread of the browser's own. They share
// no memory with the page, so that it works from any server and whatever its headers.
#pragma once

#include <memory>
#include <optional>
#include <string>

namespace swashwright::browser {

enum class Task { study, sheet };  // what the bytes are

struct Post;

/// One task in a worker.
class Work {
public:
    Work() = default;
    ~Work() { stop(); }
    Work(const Work&) = delete;
    Work& operator=(const Work&) = delete;

    void start(Task task, const std::string& bytes);
    /// It is done then, with no result: the worker is ended where it stands.
    void stop();
    bool done() const;  // or never started
    int percent() const;
    /// The latest that it could tell before its end, one time.
    std::optional<std::string> take_so_far();
    /// None if it was stopped or came to a bad end.
    std::optional<std::string> take_result();

private:
    std::shared_ptr<Post> post_;
    int number_ = 0;
};

}  // namespace swashwright::browser
