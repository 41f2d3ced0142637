// Emscripten's GLFW is one of version 3.2: what the window asks for beyond it, made in viewer/browser/glfw.cpp.
#pragma once

#include_next <GLFW/glfw3.h>

extern "C" {

using GLFWwindowcontentscalefun = void (*)(GLFWwindow*, float, float);

int glfwGetError(const char** words);
void glfwGetWindowContentScale(GLFWwindow* window, float* x, float* y);
GLFWwindowcontentscalefun glfwSetWindowContentScaleCallback(GLFWwindow* window, GLFWwindowcontentscalefun act);
void glfwGetMonitorWorkarea(GLFWmonitor* monitor, int* x, int* y, int* width, int* height);
}
