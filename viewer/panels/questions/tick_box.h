// A choice of yes or no: a box before its words, ticked for yes. What does something when pressed is a button instead.
#pragma once

#include <string>

#include "viewer/panels/base/screen.h"

namespace swashwright::panels {

/// True when it is pressed. `beside`: beside the item drawn last where there is room, else below it. `tip_words` may be
/// null.
bool tick_box(Screen& screen, const std::string& id, const std::string& words, const char* tip_words, bool on,
              bool beside);

}  // namespace swashwright::panels
