// The parts into which the envelope is cut to begin with, and how everything stands and moves in the middle of each.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "kinematics/studies/envelope/probe.h"

namespace swashwright::studies {

class Grid {
public:
    /// Moments tell of the parts of the head's model and of nothing else, or of all but those.
    enum class Tells { parts, all_else };
    Grid(const Chart& chart, const head::Model& model, Tells tells);

    const Chart& chart() const { return chart_; }
    std::size_t size() const { return moments_.size(); }
    const Ways& middle(std::size_t node) const { return middles_[node]; }
    const Ways& half(std::size_t node) const { return halves_[node]; }
    /// Where it stands along one way, from 0.
    std::size_t place_along(std::size_t node, std::size_t way) const { return node / strides_[way] % counts_[way]; }
    /// The next one along a way (`sense` 1 or -1), and how far apart their middles are; none at an end.
    struct Neighbour {
        std::size_t node;
        double apart;
    };
    std::optional<Neighbour> neighbour(std::size_t node, std::size_t way, int sense) const;

    /// Fills the nodes that share their place along the first way, each from neutral.
    std::size_t slices() const { return counts_[0]; }
    void fill(Probe& probe, std::size_t slice);
    /// Null where a loop does not close.
    const Moment* moment(std::size_t node) const { return closes_[node] ? &moments_[node] : nullptr; }

private:
    void keep_parts(const Moment& from, std::size_t node);

    Chart chart_;
    const head::Model& model_;
    Tells tells_;
    std::array<std::size_t, most_ways> counts_{}, strides_{};
    std::vector<Ways> middles_, halves_;
    std::vector<Moment> moments_;
    std::vector<char> closes_;  // of each node
    std::vector<std::unique_ptr<const linkage::Workspace>> stands_;
    // Of each part those of all nodes: a pair of parts is asked for at one node after another.
    std::vector<Placement> parts_;
    std::vector<RigidMotion> parts_by_;
};

}  // namespace swashwright::studies
