// Shader texts, GLSL 3.30. Colours are sRGB throughout, as a draughtsman mixes them.
#pragma once

namespace swashwright::draw {

/// Solids: soft wash in three tones, lit from over the left shoulder; with MARKS also threaded or hatched. Two programs,
/// because software renderers work through a branch that is not taken.
inline constexpr const char* wash_vertex = R"(#version 330 core
layout(location = 0) in vec3 point;
layout(location = 1) in vec3 normal;
uniform mat4 frame, view, projection;
out vec3 lit_normal;   // eye frame
out float sky;         // how far the surface looks up
out float along;       // local z, mm
void main() {
    vec3 n = mat3(frame) * normal;
    lit_normal = mat3(view) * n;
    sky = n.z;
    along = point.z;
    gl_Position = projection * view * frame * vec4(point, 1.0);
})";

inline constexpr const char* plain = "#version 330 core\n";
inline constexpr const char* with_marks = "#version 330 core\n#define MARKS\n";

/// After one of the two lines above.
inline constexpr const char* wash_fragment = R"(in vec3 lit_normal;
in float sky;
in float along;
uniform vec3 light, shade;   // the part's colour in the light and in the shade
out vec4 colour;
#ifdef MARKS
uniform vec4 hatch;          // colour and strength of the hatching
uniform float thread;        // pitch of the thread's lines, mm; 0 for none
uniform float pixel;         // width of a hatch line, pixels
#endif
void main() {
    vec3 n = normalize(lit_normal);
    float key = dot(n, vec3(-0.42, 0.62, 0.66));
    float tone = 0.36 + 0.50 * key + 0.12 * sky;
    // Three washes with soft borders, and a little of the plain shading between them.
    vec3 steps = clamp((vec3(tone) - vec3(0.20, 0.44, 0.72)) * vec3(10.0, 10.0, 8.33), 0.0, 1.0);
    float wash = dot(steps, vec3(0.187, 0.182, 0.181)) + 0.45 * clamp(tone, 0.0, 1.0);
    vec3 mixed = mix(shade, light, wash);
#ifdef MARKS
    if (thread > 0.0) {
        float turn = along / thread, wide = fwidth(turn);
        float line = smoothstep(0.25, 0.45, abs(fract(turn) - 0.5));
        mixed *= mix(1.0, 0.55, line * clamp(1.2 - wide, 0.0, 1.0));
    }
    if (hatch.a > 0.0) {
        float d = abs(fract((gl_FragCoord.x + gl_FragCoord.y) / (6.0 * pixel)) - 0.5) * 6.0 * pixel;
        mixed = mix(mixed, hatch.rgb, hatch.a * clamp(1.1 * pixel - d + 0.5, 0.0, 1.0));
    }
#endif
    colour = vec4(mixed, 1.0);
})";

/// Shadows: the plan of the head on the sheet below it, in one flat tone.
inline constexpr const char* shadow_vertex = R"(#version 330 core
layout(location = 0) in vec3 point;
uniform mat4 frame, view, projection;
uniform float ground;
void main() {
    vec4 at = frame * vec4(point, 1.0);
    gl_Position = projection * view * vec4(at.xy, ground, 1.0);
})";

inline constexpr const char* shadow_fragment = R"(#version 330 core
uniform vec3 tone;
out vec4 colour;
void main() { colour = vec4(tone, 1.0); })";

/// Strokes: quads about a line, their edges smoothed by hand, so that no multisampling is needed.
inline constexpr const char* pen_vertex = R"(#version 330 core
layout(location = 0) in vec3 a;
layout(location = 1) in vec3 b;
layout(location = 2) in vec4 ink;
layout(location = 3) in float width;
layout(location = 4) in float lift;
uniform mat4 view, projection;
uniform vec2 size;       // of the viewport, pixels
uniform float pixel;     // scale of line widths
uniform float nearer;    // share of the way to the eye that one pixel's worth of depth is
out vec4 stroke_ink;
out float across;
out float half_width;
void main() {
    vec3 p = (view * vec4(a, 1.0)).xyz, q = (view * vec4(b, 1.0)).xyz;
    float front = -1.001 * projection[3][2] / (projection[2][2] - 1.0);  // just beyond the near plane
    if (p.z > front && q.z > front) { gl_Position = vec4(2.0, 2.0, 2.0, 1.0); return; }
    if (p.z > front) p = mix(p, q, (p.z - front) / (p.z - q.z));
    if (q.z > front) q = mix(q, p, (q.z - front) / (q.z - p.z));
    float near = 1.0 - lift * nearer;
    vec4 from = projection * vec4(p * near, 1.0), to = projection * vec4(q * near, 1.0);
    vec2 run = (to.xy / to.w - from.xy / from.w) * size;
    float length_px = length(run);
    run = length_px > 1e-4 ? run / length_px : vec2(1.0, 0.0);
    half_width = 0.5 * width * pixel;
    float reach = half_width + 1.0;
    across = (gl_VertexID & 1) == 0 ? -reach : reach;
    bool end = (gl_VertexID & 2) != 0;
    vec4 at = end ? to : from;
    vec2 shift = vec2(-run.y, run.x) * across + run * (end ? 0.35 : -0.35) * half_width;
    at.xy += 2.0 * shift / size * at.w;
    gl_Position = at;
    stroke_ink = ink;
})";

inline constexpr const char* pen_fragment = R"(#version 330 core
in vec4 stroke_ink;
in float across;
in float half_width;
out vec4 colour;
void main() {
    float cover = clamp(half_width + 0.5 - abs(across), 0.0, 1.0);
    colour = vec4(stroke_ink.rgb, stroke_ink.a * cover);
})";

}  // namespace swashwright::draw
