// Shader texts, for GLSL 3.30 and GLSL ES 3.00: `new_program` puts the version before them. Colours are sRGB
// throughout, as a draughtsman mixes them.
#pragma once

namespace swashwright::draw {

/// Solids: soft wash in three tones, lit as in a studio (key light over the left shoulder, sky, a weak light from the
/// right). What a part is made of is told by pattern and contrast, not by hue. A program for each
/// material, because software renderers work through a branch that is not taken.
inline constexpr const char* wash_vertex = R"(layout(location = 0) in vec3 point;
layout(location = 1) in vec3 normal;
uniform mat4 frame, view, projection;
uniform vec4 cut;      // what lies beyond this plane is taken away
out vec3 lit_normal;   // eye frame
out float sky;         // how far the surface looks up
out vec3 local;        // mm
#ifdef GL_ES
out float beyond;      // of the cut, where the driver cannot clip by it
#endif
void main() {
    vec3 n = mat3(frame) * normal;
    vec4 at = frame * vec4(point, 1.0);
    lit_normal = mat3(view) * n;
    sky = n.z;
    local = point;
#ifdef GL_ES
    beyond = dot(cut, at);
#else
    gl_ClipDistance[0] = -dot(cut, at);
#endif
    gl_Position = projection * view * at;
})";

/// One of these before the text below: what it is made of, or hatched because it is in trouble.
inline constexpr const char *of_metal = "#define METAL\n", *of_plastic = "#define PLASTIC\n",
                            *of_carbon = "#define CARBON\n", *of_thread = "#define THREAD\n",
                            *in_trouble = "#define HATCH\n";

inline constexpr const char* wash_fragment = R"(in vec3 lit_normal;
in float sky;
in vec3 local;
uniform vec3 light, shade;   // the part's colour in the light and in the shade
uniform float pixel;         // width of a line, pixels
uniform vec4 hatch;          // colour and strength of the hatching
uniform float pitch;         // of a thread or a weave, mm
out vec4 colour;
#ifdef GL_ES
in float beyond;
#endif
void main() {
#ifdef GL_ES
    if (beyond > 0.0) discard;
#endif
    vec3 n = normalize(lit_normal);
    float key = dot(n, vec3(-0.42, 0.62, 0.66));
    float fill = max(dot(n, vec3(0.86, 0.10, 0.50)), 0.0);
    float tone = 0.36 + 0.50 * key + 0.12 * sky + 0.06 * fill;
#ifdef PLASTIC
    // Matt: soft borders, little contrast.
    float wash = clamp(0.12 + 0.80 * tone, 0.0, 1.0);
    wash = mix(wash, smoothstep(0.1, 0.9, wash), 0.5);
#else
    // Three washes with soft borders, and a little of the plain shading between them.
    vec3 steps = clamp((vec3(tone) - vec3(0.20, 0.44, 0.72)) * vec3(10.0, 10.0, 8.33), 0.0, 1.0);
    float wash = dot(steps, vec3(0.187, 0.182, 0.181)) + 0.45 * clamp(tone, 0.0, 1.0);
#endif
    vec3 mixed = mix(shade, light, wash);
#ifdef METAL
    // Polished: a bright band beside a dark one, as metal is drawn.
    float band = dot(n, vec3(-0.62, 0.35, 0.70)), core = dot(n, vec3(0.66, -0.10, 0.74));
    mixed = mix(mixed, light * 1.06, 0.75 * smoothstep(0.95, 0.995, band));
    mixed *= 1.0 - 0.17 * smoothstep(0.93, 0.99, core);
#endif
#ifdef PLASTIC
    // Stippled in the shade.
    vec2 dots = fract(vec2(gl_FragCoord.x + gl_FragCoord.y, gl_FragCoord.x - gl_FragCoord.y) / (7.0 * pixel)) - 0.5;
    float size = 0.085 * (1.0 - smoothstep(0.25, 0.75, wash));
    mixed *= 1.0 - 0.30 * (1.0 - smoothstep(size, size + 0.05, dot(dots, dots)));
#endif
#ifdef CARBON
    // Twill: every thread passes over two and under two.
    vec2 cloth = local.xz / pitch;
    float wide = max(fwidth(cloth.x), fwidth(cloth.y));
    float over = mod(floor(cloth.x) + floor(cloth.y), 4.0) < 2.0 ? 1.0 : 0.0;
    mixed *= 1.0 - 0.11 * over * clamp(1.7 - 3.4 * wide, 0.0, 1.0);
#endif
#ifdef THREAD
    float turn = local.z / pitch, wide = fwidth(turn);
    float line = smoothstep(0.25, 0.45, abs(fract(turn) - 0.5));
    mixed *= mix(1.0, 0.55, line * clamp(1.2 - wide, 0.0, 1.0));
#endif
#ifdef HATCH
    float d = abs(fract((gl_FragCoord.x + gl_FragCoord.y) / (6.0 * pixel)) - 0.5) * 6.0 * pixel;
    mixed = mix(mixed, hatch.rgb, hatch.a * clamp(1.1 * pixel - d + 0.5, 0.0, 1.0));
#endif
    colour = vec4(mixed, 1.0);
})";

/// Cut faces: a flat tone, hatched as ISO 128 has it, neighbours the other way.
inline constexpr const char* face_vertex = R"(layout(location = 0) in vec3 point;
uniform mat4 view, projection;
uniform float nearer;    // as for strokes: a cut face wins over what it is the face of
void main() { gl_Position = projection * vec4((view * vec4(point, 1.0)).xyz * (1.0 - nearer), 1.0); })";

inline constexpr const char* face_fragment = R"(uniform vec3 tone, ink;
uniform float pixel, way;
out vec4 colour;
void main() {
    float gap = 9.0 * pixel, d = abs(fract((gl_FragCoord.x + way * gl_FragCoord.y) / gap) - 0.5) * gap;
    colour = vec4(mix(tone, ink, 0.8 * clamp(0.75 * pixel - d + 0.4, 0.0, 1.0)), 1.0);
})";

/// Strokes: quads about a line, their edges smoothed by hand, so that no multisampling is needed.
inline constexpr const char* pen_vertex = R"(layout(location = 0) in vec3 a;
layout(location = 1) in vec3 b;
layout(location = 2) in vec4 ink;
layout(location = 3) in float width;   // below zero: dashed
layout(location = 4) in float lift;
uniform mat4 view, projection;
uniform vec2 size;       // of the viewport, pixels
uniform float pixel;     // scale of line widths
uniform float nearer;    // share of the way to the eye that one pixel's worth of depth is
out vec4 stroke_ink;
out float across;
out float half_width;
flat out float dash;     // length of a dash, pixels; 0 for a full line
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
    half_width = 0.5 * abs(width) * pixel;
    dash = width < 0.0 ? 9.0 * max(pixel, 0.7) : 0.0;
    float reach = half_width + 1.0;
    across = (gl_VertexID & 1) == 0 ? -reach : reach;
    bool end = (gl_VertexID & 2) != 0;
    vec4 at = end ? to : from;
    vec2 shift = vec2(-run.y, run.x) * across + run * (end ? 0.35 : -0.35) * half_width;
    at.xy += 2.0 * shift / size * at.w;
    gl_Position = at;
    stroke_ink = ink;
})";

inline constexpr const char* pen_fragment = R"(in vec4 stroke_ink;
in float across;
in float half_width;
flat in float dash;
out vec4 colour;
void main() {
    // Dashes by place on the sheet, because a curve is many short strokes.
    if (dash > 0.0 && fract(dot(gl_FragCoord.xy, vec2(0.82, 0.57)) / dash) > 0.6) discard;
    float cover = clamp(half_width + 0.5 - abs(across), 0.0, 1.0);
    colour = vec4(stroke_ink.rgb, stroke_ink.a * cover);
})";

}  // namespace swashwright::draw
