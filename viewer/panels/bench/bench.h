// What is on the bench: the open document, where its sticks and rotor stand, and the values that follow from both.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <utility>

#include "viewer/document/document.h"
#include "viewer/panels/base/screen.h"
#include "viewer/panels/bench/readout.h"

namespace swashwright::panels {

class Bench {
public:
    explicit Bench(document::Document document) : document_(std::move(document)) {}

    const document::Document& document() const { return document_; }
    const head::Description& head() const { return document_.head(); }
    const Readout& live() const { return follower_.readout(); }
    Controls controls;
    /// Left out of the sentence while a fault is to be found on this head.
    studies::Causes causes = studies::Causes::told;

    /// The one door for changes: puts another scene in place of the document's, as one step of undo; while `run`, edits
    /// of the same label are one step together. What the scene rules refuse changes nothing; the error is their
    /// sentence.
    tl::expected<void, std::string> edit(scene::Scene next, const std::string& label, bool run = false);
    /// The same while the head is put together part by part: parts may hang free, or hold each other rigid, meanwhile.
    tl::expected<void, std::string> build(scene::Scene next, const std::string& label);
    /// Ends a run of edits: the next one is a step of its own.
    void end_run() { document_.seal(); }
    void undo() { document_.undo(); }
    void redo() { document_.redo(); }
    tl::expected<void, std::string> save(const std::string& path) { return document_.save(path); }
    /// Another head, with all sticks in the middle.
    void show(document::Document document);

    /// Brings the live values in step with document and controls.
    void follow() { follower_.update(document_, controls, causes); }
    /// Forgets the last good pose: it is of another head, or of one with other parts.
    void forget_pose() { follower_.reset(); }

private:
    document::Document document_;
    Follower follower_;
};

/// Through the bench's door; what is refused is said at the field of this name, which is the label, too.
bool try_edit(Screen& screen, Bench& bench, scene::Scene next, const std::string& name, bool run = false);
/// The same through `Bench::build`.
bool try_build(Screen& screen, Bench& bench, scene::Scene next, const std::string& name);
/// What was typed into the field of this name changes nothing, and this is why.
void refuse(Screen& screen, const Bench& bench, const std::string& name, std::string why);

void centre_sticks(Bench& bench);  // and what hands have moved
/// The lever with this index goes there, as far as a hand may move it.
void move_hand(Bench& bench, int lever, double angle_deg);
void hold_back(Bench& bench);  // sticks that a hand has moved: to what the scene's transmitter lets through
void go_to(Bench& bench, const head::Sticks& sticks, double azimuth_deg);
/// Turns the rotor, if it turns by itself.
void advance(Controls& controls, double seconds);

}  // namespace swashwright::panels
