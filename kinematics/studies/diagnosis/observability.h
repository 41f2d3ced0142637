// How well do readings fix a set of unknowns? The usual numbers for one matrix of effects, each row over its reading's
// uncertainty and each column times its unknown's usual size.
#pragma once

#include <Eigen/Core>

namespace swashwright::studies {

struct Observability {
    double product = 0;              // geometric mean of the singular values over sqrt(rows); Borm and Menq
    double inverse_condition = 0;    // smallest over largest; Driels and Pathre
    double smallest = 0;             // smallest singular value; Nahvi, Hollerbach and Hayward
    double noise_amplification = 0;  // smallest squared over largest; Nahvi and Hollerbach, ICRA 1996
    double harmonic = 0;             // one over the sum of the inverse singular values; Sun and Hollerbach
};

/// All zero where there are fewer rows than columns, or a column that is nothing or made of others.
Observability observability(const Eigen::MatrixXd& effects);

}  // namespace swashwright::studies
