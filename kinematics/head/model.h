// What a head is made of, for whoever must go over its parts: one list of parts, of links with their ball ends, of what
// is moved from outside and what is read. Studies, drawings and sheets ask it and need not know which kinds of linkage
// there are.
#pragma once

#include <array>
#include <compare>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/part.h"
#include "kinematics/linkage/plan.h"
#include "kinematics/linkage/workspace.h"

namespace swashwright::head {

struct Parts;

struct PartId {
    int index = -1;
    auto operator<=>(const PartId&) const = default;
};
struct RodId {
    int index = -1;
    auto operator<=>(const RodId&) const = default;
};

struct Part {
    Role role = Role::frame;
    int index = 0;         // among those of its role, from 0
    std::string path;      // as in the scene: "lever[2]", "servo[1]", "swashplate.inner_balls"
    std::string words;     // in a sentence: "the horn of servo left", "bellcrank 2"
    std::string label;     // in a table: "horn left", "bellcrank 2"
    linkage::BodyId body;  // on which it rides; of a link none
    PartId on;             // the part on which it stands; of the frame and of links none
    RodId rod;             // of a link
};

/// One end of a link, in the part that carries its ball.
struct BallEnd {
    PartId part;
    linkage::BodyId body;
    linkage::AnchorId ball;
    Vec3 stud = Vec3::UnitZ();  // unit, from its foot to the ball, in the body's frame
    std::string words;          // "horn", "inner ring", "pitch arm"
};

/// A link: a rod between two ball ends, the lower one first.
struct LinkRod {
    PartId part;
    linkage::ClosureId closure;
    std::array<BallEnd, 2> ends;
    Link made;
};

/// A ball joint without a link.
struct PinJoint {
    std::string words;
    std::array<BallEnd, 2> ends;
};

/// Something that is read at a pose, in deg: the pitch of a blade, or the angle of a lever that the scene names.
struct Output {
    enum class What { blade_pitch, lever_angle };
    What what = What::blade_pitch;
    int index = 0;      // of the blade or lever
    std::string words;  // "blade 1", "paddle pitch"
    std::string path;   // of its part: "grip[1]"
};

class Model {
public:
    Model() = default;
    Model(const Description& description, const Parts& bodies);

    const std::vector<Part>& parts() const { return parts_; }
    const std::vector<LinkRod>& rods() const { return rods_; }
    const std::vector<PinJoint>& pins() const { return pins_; }
    const std::vector<Output>& outputs() const { return outputs_; }  // the blades first

    const Part& part(PartId id) const { return parts_[static_cast<std::size_t>(id.index)]; }
    const LinkRod& rod(RodId id) const { return rods_[static_cast<std::size_t>(id.index)]; }
    /// The part of a role, by its number among its like; none where there is none.
    std::optional<PartId> find(Role role, int index = 0) const;
    std::optional<PartId> find(const std::string& path) const;
    /// The body on which it rides; it must be there.
    linkage::BodyId body(Role role, std::size_t index = 0) const {
        return part(*find(role, static_cast<int>(index))).body;
    }

    /// True if two parts touch by their making: one body, one standing on the other, joined by a pin, a link and a part
    /// at its ends, or both round the shaft.
    bool joined(PartId a, PartId b) const;

    /// Can the ring lean? A tail's pitch slider cannot.
    bool ring_tilts() const { return ring_tilts_; }

    /// Where a part stands, head frame: its body's frame; of a link origin at the lower ball, z towards the upper one.
    Placement placement(PartId id, const linkage::Workspace& ws) const;

private:
    PartId add(Role role, std::size_t index, std::string path, std::string words, linkage::BodyId body, PartId on);
    PartId carrier(const Carrier& carrier) const;
    BallEnd end(const Description& d, const Parts& bodies, const BallName& ball) const;
    void add_rods(const Description& d, const Parts& bodies);
    void join(PartId a, PartId b) { joined_.push_back({std::min(a, b), std::max(a, b)}); }

    std::vector<Part> parts_;
    std::vector<LinkRod> rods_;
    std::vector<PinJoint> pins_;
    std::vector<Output> outputs_;
    std::vector<std::array<PartId, 2>> joined_;
    bool ring_tilts_ = true;
};

}  // namespace swashwright::head
