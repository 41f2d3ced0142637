#include "viewer/browser/workers.h"

#include <emscripten.h>

#include <map>
#include <utility>

namespace swashwright::browser {

// page.js has the workers.
EM_JS(int, page_send, (int task, const char* bytes, int size),
      { return Module.page.send(task, HEAPU8.slice(bytes, bytes + size)); });
EM_JS(void, page_stop, (int number), { Module.page.stop(number); });

/// What has come from a worker.
struct Post {
    bool done = false;
    int percent = 0;
    std::optional<std::string> so_far, result;
};

namespace {

std::map<int, std::weak_ptr<Post>>& posts() {
    static std::map<int, std::weak_ptr<Post>> all;
    return all;
}

}  // namespace

void Work::start(Task task, const std::string& bytes) {
    stop();
    post_ = std::make_shared<Post>();
    number_ = page_send(static_cast<int>(task), bytes.data(), static_cast<int>(bytes.size()));
    posts()[number_] = post_;
}

void Work::stop() {
    if (!post_ || std::exchange(post_->done, true)) return;
    page_stop(number_);
    posts().erase(number_);
}

bool Work::done() const {
    return !post_ || post_->done;
}

int Work::percent() const {
    return post_ ? post_->percent : 0;
}

std::optional<std::string> Work::take_so_far() {
    return post_ ? std::exchange(post_->so_far, std::nullopt) : std::nullopt;
}

std::optional<std::string> Work::take_result() {
    return post_ ? std::exchange(post_->result, std::nullopt) : std::nullopt;
}

/// Called by page.js. `what`: 0 how far it is, in `size`; 1 what it can tell so far; 2 the result; 3 a bad end.
extern "C" EMSCRIPTEN_KEEPALIVE void swashwright_heard(int number, int what, const char* bytes, int size) {
    const auto found = posts().find(number);
    if (found == posts().end()) return;
    if (const auto post = found->second.lock()) {
        if (what == 0) post->percent = size;
        if (what == 1) post->so_far.emplace(bytes, size);
        if (what == 2) post->result.emplace(bytes, size);
        post->done = what >= 2;
    }
    if (what >= 2) posts().erase(found);
}

}  // namespace swashwright::browser
