// Where over all sticks and azimuths is each load largest? Internal to studies/loads.
#pragma once

#include <vector>

#include "kinematics/studies/loads/loads.h"

namespace swashwright::studies {

/// By size; 0 where a link is never pulled or pushed. Of horns in servo order, links as the model lists them, levers
/// and grips by their number.
struct LoadPeaks {
    std::vector<Peak> horns, pulls, pushes, levers, grips;
    long places = 0, open = 0;  // of the grid: looked at, and those that do not close
};

/// On a grid of nine places of the main stick, twelve directions of full cyclic and 24 azimuths, then, for each load,
/// from its largest point of the grid uphill in halving steps.
/// Unfinished where it is stopped.
LoadPeaks load_peaks(Flying& flying, const Going& going = {});

}  // namespace swashwright::studies
