// What decides the forces in flight, as fields of a form: how a servo is rated, blades, what the rotor carries.
#pragma once

#include <vector>

#include "viewer/panels/ledger/part_fields.h"

namespace swashwright::panels {

std::vector<Field> rating_fields(std::size_t servo);
/// Balance weights on a grip.
Field weights_field(std::size_t grip, bool inches);
std::vector<Field> blade_fields(const head::Description& description);
std::vector<Field> flight_fields();

}  // namespace swashwright::panels
