// A head, what is wished of it and what may change, as least squares.
#pragma once

#include <optional>
#include <stop_token>
#include <vector>

#include "kinematics/studies/lengths/bounded_fit.h"
#include "kinematics/studies/lengths/lengths.h"

namespace swashwright::studies {

/// A link of which the scene says that it is too long or too short.
inline bool known_off(const head::Description& d, const FreeNumber& free) {
    const head::Link* link = link_of(d, free.number);
    return link && link->error_mm != 0;
}

struct Bounds {
    Eigen::VectorXd least, most;
};

Bounds bounds_of(const LengthsRequest& request);

/// The head and the wishes as a model of the free numbers.
class Problem {
public:
    Problem(const head::Description& description, const LengthsRequest& request, std::stop_token stop)
        : base_(description),
          request_(request),
          stop_(std::move(stop)),
          rows_(wish_rows(description, request.wishes)),
          weights_(static_cast<Eigen::Index>(rows_.size())),
          scales_(Eigen::VectorXd::Ones(static_cast<Eigen::Index>(request.free.size()))) {
        for (std::size_t r = 0; r < rows_.size(); ++r) weights_[static_cast<Eigen::Index>(r)] = rows_[r].weight;
        // Where several links can take up the same, the least change is made, and by those that are known to be off.
        constexpr double known = 8;  // a power of two: bounds stay what they are
        for (const FreeNumber& free : request.free) {
            if (known_off(description, free)) scales_[static_cast<Eigen::Index>(numbers_.size())] = known;
            numbers_.push_back(free.number);
        }
    }

    head::Description with(const Eigen::VectorXd& x) const {
        head::Description d = base_;
        for (std::size_t i = 0; i < numbers_.size(); ++i) head::value(d, numbers_[i]) = x[static_cast<Eigen::Index>(i)];
        return d;
    }
    Eigen::VectorXd present() const {
        Eigen::VectorXd x(static_cast<Eigen::Index>(numbers_.size()));
        for (std::size_t i = 0; i < numbers_.size(); ++i)
            x[static_cast<Eigen::Index>(i)] = head::value(base_, numbers_[i]);
        return x;
    }
    std::optional<WishValues> values(const Eigen::VectorXd& x) const {
        const auto head = head::Head::build(with(x));
        return head ? wish_values(*head, request_.wishes, rows_, numbers_) : std::nullopt;
    }
    /// Least squares over the numbers of `least` below `most`; the others stay.
    BoundedFit fit(const Eigen::VectorXd& start, const Eigen::VectorXd& least, const Eigen::VectorXd& most) const {
        BoundedFit out = bounded_fit(
            [this](const Eigen::VectorXd& scaled, Eigen::VectorXd& residual, Eigen::MatrixXd& jacobian) {
                if (stop_.stop_requested()) return false;
                const auto at = values(scales_.cwiseProduct(scaled));
                if (!at) return false;
                residual = weights_.cwiseProduct(at->off);
                jacobian = weights_.asDiagonal() * at->slopes * scales_.asDiagonal();
                return true;
            },
            start.cwiseQuotient(scales_), least.cwiseQuotient(scales_), most.cwiseQuotient(scales_));
        out.x = out.x.cwiseProduct(scales_);
        if (out.started) out.jacobian = out.jacobian * scales_.cwiseInverse().asDiagonal();
        return out;
    }

    head::Description& base() { return base_; }
    const head::Description& base() const { return base_; }
    const std::vector<WishRow>& rows() const { return rows_; }
    const Eigen::VectorXd& weights() const { return weights_; }

private:
    head::Description base_;
    const LengthsRequest& request_;
    std::stop_token stop_;
    std::vector<WishRow> rows_;
    Eigen::VectorXd weights_, scales_;
    std::vector<head::Number> numbers_;
};

}  // namespace swashwright::studies
