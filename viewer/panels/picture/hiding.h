// Parts that are out of the picture for a while.
#pragma once

#include <string>

#include "viewer/panels/bench/view.h"
#include "viewer/panels/picture/sights.h"

namespace swashwright::panels {

bool is_hidden(const View& view, const draw::Part& part);
void hide(View& view, const draw::Part& part);
void show(View& view, const draw::Part& part);
void show_alone(View& view, const head::Description& description, const draw::Part& part);
void show_all(View& view);
/// "1 part hidden", "12 parts hidden".
std::string hidden_words(const View& view);
/// Parts and distances of what the head does not have any more are forgotten.
void follow_parts(View& view, const head::Description& description);
/// All of them: another head comes.
void forget_parts(View& view, Sights& sights);

}  // namespace swashwright::panels
