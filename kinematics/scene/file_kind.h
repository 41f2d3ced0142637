// Which of the program's files one is, told by its keys. Internal to kinematics/scene but for `kind_of_file`.
#pragma once

#include <string>

namespace swashwright::scene {

class Keys;

/// `measured`: calliper readings that make a plain head; `calliper`: those of a head that a scene lends.
enum class FileKind { scene, readings, measured, calliper, lesson };

/// By what stands in the file. One that cannot be read, or that is none of them, passes for a scene: the scene's reader
/// says what is wrong with it.
FileKind kind_of_file(const std::string& path);

/// One mistake in place of an objection to every key, where the file is of another kind than `wanted`; false where it
/// is not.
bool is_of_another_kind(Keys& top, FileKind wanted);

}  // namespace swashwright::scene
