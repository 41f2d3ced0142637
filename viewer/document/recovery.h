// Work that was not saved, kept in the user's state folder while the program runs, so that a crash loses the last
// second only.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "viewer/document/document.h"

namespace swashwright::document {

/// What a program that no longer runs left behind.
struct LeftWork {
    std::string file;                // where it is kept
    std::string path;                // of the scene that was being changed
    std::string scene;               // its text when it was kept last
    std::string when;                // "2026-11-25 22:40", local time
    std::string readings = {};       // calliper readings that were in no file yet, as text; empty: none
    std::string readings_path = {};  // of their file, if they came from one
    std::string gauge = {};          // gauge readings, likewise
    std::string gauge_path = {};
    std::string places = {};  // calliper readings on the scene's head, likewise
    std::string places_path = {};
    std::string practice = {};       // a round of practice that was on, which stands on a head of its own
    std::string practice_path = {};  // of that head's scene

    bool has_scene() const { return !scene.empty(); }
    bool has_readings() const { return !readings.empty() || !gauge.empty() || !places.empty(); }
    bool any() const { return has_scene() || has_readings() || !practice.empty(); }
};

/// Readings of one kind, or a round of practice, to be kept beside the scene.
struct KeptReadings {
    std::uint64_t revision = 0;  // changes with every number typed
    bool unsaved = false;
    std::string path;                   // of their file; empty: none yet
    std::function<std::string()> text;  // asked for only when it is to be written
};

class Recovery {
public:
    /// `folder` is made if it is missing; empty: keeps nothing.
    explicit Recovery(std::string folder);
    /// The program leaves as it should: nothing stays but what is left behind.
    ~Recovery();
    Recovery(const Recovery&) = delete;
    Recovery& operator=(const Recovery&) = delete;

    /// Call once a frame; writes at most once a second (`now`, seconds), and only what is new. Nothing is kept of a
    /// document, or of readings, without unsaved changes. The error is a sentence, told once.
    tl::expected<void, std::string> keep(const Document& document, double now, const KeptReadings& calliper = {},
                                         const KeptReadings& gauge = {}, const KeptReadings& places = {},
                                         const KeptReadings& practice = {});
    /// The next call of `keep` tells of other work, whatever its revisions are, and waits for nothing.
    void start_anew();
    /// Something is waiting for its second.
    bool waiting() const { return waiting_; }
    /// Where it keeps; empty: nowhere.
    const std::string& file() const { return file_; }
    /// The last call of `keep` left work in the folder.
    bool holds() const;
    void forget();
    /// What is kept by now stays when the program leaves, for the next one to take up.
    void leave_behind() { stays_ = true; }

private:
    std::string file_;  // empty: keeps nothing
    int lock_ = -1;     // held while the program runs, released by the system however it ends
    bool kept_ = false, waiting_ = false, told_ = false, stays_ = false;
    /// What the file tells of the scene or of readings; revisions count from 1.
    struct Told {
        std::uint64_t revision = 0;
        bool kept = false;
    };
    Told scene_;
    std::array<Told, 4> others_;  // calliper, gauge, places, practice
    std::string path_;
    std::optional<double> written_;  // on the program's clock
};

/// $XDG_STATE_HOME/swashwright/unsaved, or as `settings_path` has it; empty if there is no home.
std::string recovery_folder();
/// Newest first. What a running program keeps is not among it.
std::vector<LeftWork> left_work(const std::string& folder);
/// The user has thrown it away or taken it up.
void remove_left_work(const LeftWork& work);
/// The scene as it is on the disk, with the work as one change that is not saved; the work alone if that scene cannot
/// be read. Fails if the work cannot be read. Only for work that has a scene.
scene::Result<Document> take_up(const LeftWork& work);

}  // namespace swashwright::document
