// Shader texts of the shade maps, GLSL 3.30.
#pragma once

namespace swashwright::draw {

inline constexpr const char* depth_vertex = R"(#version 330 core
layout(location = 0) in vec3 point;
uniform mat4 frame, view, projection;
uniform vec4 cut;
void main() {
    vec4 at = frame * vec4(point, 1.0);
    gl_ClipDistance[0] = -dot(cut, at);
    gl_Position = projection * view * at;
})";
inline constexpr const char* depth_fragment = R"(#version 330 core
void main() {})";

/// Three corners over the whole target, from no data.
inline constexpr const char* whole_vertex = R"(#version 330 core
out vec2 place;
void main() {
    place = vec2((gl_VertexID << 1) & 2, gl_VertexID & 2);
    gl_Position = vec4(place * 2.0 - 1.0, 0.0, 1.0);
})";

/// Pairs of opposite places around each point: where both are nearer to the eye than the point on the plane between
/// them would be, the point lies in a hollow. Flat and bulging surfaces stay bright, so nothing needs smoothing after.
inline constexpr const char* occlusion_fragment = R"(#version 330 core
uniform sampler2D depth;
uniform vec2 planes;     // near and far
uniform float reach;     // radius, as a share of the picture's height at distance 1, times pixels
uniform float radius;    // mm
out float light;
float step_down(float nearer) { return 1.0 - smoothstep(radius, 3.0 * radius, abs(nearer)); }
float eye(ivec2 at) {
    float d = texelFetch(depth, at, 0).r * 2.0 - 1.0;
    return 2.0 * planes.x * planes.y / (planes.y + planes.x - d * (planes.y - planes.x));
}
void main() {
    ivec2 at = ivec2(gl_FragCoord.xy), top = textureSize(depth, 0) - 1;
    if (texelFetch(depth, at, 0).r >= 1.0) discard;
    float here = eye(at), far = clamp(reach / here, 2.0, 24.0), dark = 0.0;
    vec2 ways[4] = vec2[4](vec2(1.0, 0.0), vec2(0.707, 0.707), vec2(0.0, 1.0), vec2(-0.707, 0.707));
    for (int k = 0; k < 4; ++k) {
        float out_to = k % 2 == 0 ? 1.0 : 0.55;
        ivec2 step = ivec2(round(ways[k] * far * out_to));
        float one = here - eye(clamp(at + step, ivec2(0), top)), two = here - eye(clamp(at - step, ivec2(0), top));
        // A pair that reaches past an edge, to things far in front or behind, tells nothing of the surface here.
        float heed = min(step_down(one), step_down(two));
        dark += heed * clamp((one + two) / radius - 0.03, 0.0, 1.0);
    }
    light = 1.0 - clamp(0.24 * dark, 0.0, 0.36);
})";

/// The head seen from straight below, darker the nearer it is to the sheet.
inline constexpr const char* plan_vertex = R"(#version 330 core
layout(location = 0) in vec3 point;
uniform mat4 frame;
uniform vec3 plan;       // ground, half side, reach
out float dark;
void main() {
    vec4 at = frame * vec4(point, 1.0);
    gl_Position = vec4(at.xy / plan.y, 0.0, 1.0);
    dark = mix(1.0, 0.42, clamp((at.z - plan.x) / plan.z, 0.0, 1.0));
})";
inline constexpr const char* plan_fragment = R"(#version 330 core
in float dark;
out float shade;
void main() { shade = dark; })";

inline constexpr const char* blur_fragment = R"(#version 330 core
in vec2 place;
uniform sampler2D shade_map;
uniform vec2 step;
out float shade;
void main() {
    shade = 0.24 * texture(shade_map, place).r;
    shade += 0.21 * (texture(shade_map, place + 1.4 * step).r + texture(shade_map, place - 1.4 * step).r);
    shade += 0.12 * (texture(shade_map, place + 3.3 * step).r + texture(shade_map, place - 3.3 * step).r);
    shade += 0.05 * (texture(shade_map, place + 5.2 * step).r + texture(shade_map, place - 5.2 * step).r);
})";

inline constexpr const char* shadow_vertex = R"(#version 330 core
uniform mat4 view, projection;
uniform vec3 plan;
out vec2 place;
void main() {
    place = vec2(gl_VertexID & 1, gl_VertexID >> 1);
    gl_Position = projection * view * vec4((place * 2.0 - 1.0) * plan.y, plan.x, 1.0);
})";
inline constexpr const char* shadow_fragment = R"(#version 330 core
in vec2 place;
uniform sampler2D shade_map;
uniform vec4 tone;
out vec4 colour;
void main() { colour = vec4(tone.rgb, tone.a * texture(shade_map, place).r); })";

}  // namespace swashwright::draw
