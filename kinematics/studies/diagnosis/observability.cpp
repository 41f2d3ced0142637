#include "kinematics/studies/diagnosis/observability.h"

#include <Eigen/SVD>
#include <cmath>

namespace swashwright::studies {

Observability observability(const Eigen::MatrixXd& effects) {
    constexpr double nothing = 1e-12;  // of the largest singular value: rounding
    if (effects.cols() == 0 || effects.rows() < effects.cols()) return {};
    const Eigen::VectorXd s = effects.jacobiSvd().singularValues();
    const double largest = s[0], smallest = s[s.size() - 1];
    if (!(smallest > nothing * largest)) return {};
    const double mean_log = s.array().log().mean();
    return {std::exp(mean_log) / std::sqrt(static_cast<double>(effects.rows())), smallest / largest, smallest,
            smallest * smallest / largest, 1 / s.cwiseInverse().sum()};
}

}  // namespace swashwright::studies
