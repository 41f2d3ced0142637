// The open scene: what it says now, what it said before, and where it is kept.
#pragma once

#include <cstdint>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/scene/scene.h"

namespace swashwright::document {

class Document {
public:
    /// Reads a scene file. A head whose loop does not close opens like any other.
    static scene::Result<Document> open(const std::string& path);
    Document(scene::Scene scene, std::string path);
    /// A scene that is in no file yet: unsaved whatever is undone.
    static Document never_saved(scene::Scene scene, std::string path);

    const scene::Scene& scene() const { return states_[now_].scene; }
    const head::Description& head() const { return scene().head; }
    const scene::Scene& as_opened() const { return opened_; }  // or as last saved
    const std::string& path() const { return path_; }
    /// Tells contents apart: every edit, undo and redo, and every document that is made, takes the next number that no
    /// document of this program has had. Only a copy has its original's, until either changes.
    std::uint64_t revision() const { return revision_; }
    bool unsaved() const { return states_[now_].id != saved_id_; }
    /// It was read from its path, or saved there.
    bool in_a_file() const { return in_a_file_; }

    /// Replaces the scene. Edits that follow one another with the same label are one step of undo, until `seal`.
    void edit(scene::Scene next, const std::string& label);
    /// Ends a run of edits: the next one is a step of its own.
    void seal() { sealed_ = true; }

    bool can_undo() const { return now_ > 0; }
    bool can_redo() const { return now_ + 1 < states_.size(); }
    /// What `undo` would take back: the label of the edit that led here. Empty if there is none.
    std::string undo_label() const { return can_undo() ? states_[now_].label : std::string(); }
    std::string redo_label() const { return can_redo() ? states_[now_ + 1].label : std::string(); }
    void undo();
    void redo();

    /// Another program has changed the file that this came from since it was read or written here. Not where it is
    /// gone, or differs in comments alone, which a save leaves as they are.
    bool changed_on_disk() const;
    /// Saves under `path`, which becomes the document's own. The error is a sentence.
    tl::expected<void, std::string> save(const std::string& path);

private:
    struct State {
        scene::Scene scene;
        std::string label;  // of the edit that led here
        std::uint64_t id = 0;
    };

    std::vector<State> states_;  // oldest first, never empty
    std::size_t now_ = 0;
    scene::Scene opened_;
    std::string path_, on_disk_;  // the file as it was read or written last
    std::uint64_t revision_, saved_id_ = 0, next_id_ = 1;
    bool sealed_ = true, in_a_file_ = true;
};

}  // namespace swashwright::document
