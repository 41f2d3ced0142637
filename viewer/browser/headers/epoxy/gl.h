// OpenGL of a page: ES 3.0, by WebGL 2.
#pragma once

#include <GLES3/gl3.h>

#define GL_CLIP_DISTANCE0 0x3000  // of desktops only: draw::is_es tells before it is used
