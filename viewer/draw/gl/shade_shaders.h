// Shader texts of the shade maps; as in shaders.h.
#pragma once

namespace swashwright::draw {

/// Three corners over the whole target, from no data, at the far end.
inline constexpr const char* whole_vertex = R"(out vec2 place;
void main() {
    place = vec2((gl_VertexID << 1) & 2, gl_VertexID & 2);
    gl_Position = vec4(place * 2.0 - 1.0, 1.0, 1.0);
})";

/// Pairs of opposite places around each point: where both are nearer to the eye than the point on the plane between
/// them would be, the point lies in a hollow. Flat and bulging surfaces stay bright, so nothing needs smoothing after.
inline constexpr const char* occlusion_fragment = R"(uniform sampler2D depth;  // twice as fine as the map
uniform vec2 inverse;     // one over the distance from the eye is .x - .y * depth
uniform float reach;      // radius, as a share of the picture's height at distance 1, times pixels of the depth
uniform float radius;     // mm
out float light;
float nearness(ivec2 at) { return inverse.x - inverse.y * texelFetch(depth, at, 0).r; }
void main() {
    ivec2 at = 2 * ivec2(gl_FragCoord.xy), top = textureSize(depth, 0) - 1;
    // Software renderers skip a loop that no pixel nearby takes, but nothing else.
    int pairs = texelFetch(depth, at, 0).r < 1.0 ? 2 : 0;
    float near = nearness(at), far = clamp(reach * near, 4.0, 48.0), dark = 0.0;
    // Every place of a square of 4 by 4 looks a little elsewhere; the average over the square is smooth.
    ivec2 cell = ivec2(gl_FragCoord.xy) & 3;
    float turn = float((cell.x * 5 + cell.y * 11) & 15) / 8.0 - 1.0,
          out_to = 0.45 + 0.55 * float((cell.x * 7 + cell.y * 2) & 15) / 15.0;
    vec2 way = far * out_to * (1.0 - 0.29 * abs(turn)) * vec2(1.0, turn);
    float to_radius = 1.0 / (near * near * radius);  // a difference of nearness as one of distance, in radii
    for (int k = 0; k < pairs; ++k) {
        ivec2 step = ivec2(round(way));
        way = vec2(-way.y, way.x);
        float one = (nearness(clamp(at + step, ivec2(0), top)) - near) * to_radius,
              two = (nearness(clamp(at - step, ivec2(0), top)) - near) * to_radius;
        // A pair that reaches past an edge, to things far in front or behind, tells nothing of the surface here.
        float heed = clamp(1.5 - 0.5 * max(abs(one), abs(two)), 0.0, 1.0);
        dark += heed * clamp(one + two - 0.03, 0.0, 1.0);
    }
    light = 1.0 - clamp(0.48 * dark, 0.0, 0.36);
})";

/// Dims what is there by the map. Drawn at the far end where something is nearer, so the paper stays as it is.
inline constexpr const char* dim_fragment = R"(in vec2 place;
uniform sampler2D occlusion;
out vec4 colour;
uniform vec2 texel;
void main() {
    float light = 0.0;
    for (int k = 0; k < 4; ++k)
        light += texture(occlusion, place + texel * vec2(float(k & 1) * 2.0 - 1.0, float(k >> 1) * 2.0 - 1.0)).r;
    colour = vec4(vec3(0.25 * light), 1.0);
})";

/// The head seen from straight below, darker the nearer it is to the sheet.
inline constexpr const char* plan_vertex = R"(layout(location = 0) in vec3 point;
uniform vec3 plan;       // ground, half side, reach
out float dark;
void main() {
    gl_Position = vec4(point.xy / plan.y, 0.0, 1.0);
    dark = mix(1.0, 0.42, clamp((point.z - plan.x) / plan.z, 0.0, 1.0));
})";
inline constexpr const char* plan_fragment = R"(in float dark;
out float shade;
void main() { shade = dark; })";

inline constexpr const char* blur_fragment = R"(in vec2 place;
uniform sampler2D shade_map;
uniform vec2 step;
out float shade;
void main() {
    shade = 0.24 * texture(shade_map, place).r;
    shade += 0.21 * (texture(shade_map, place + 1.4 * step).r + texture(shade_map, place - 1.4 * step).r);
    shade += 0.12 * (texture(shade_map, place + 3.3 * step).r + texture(shade_map, place - 3.3 * step).r);
    shade += 0.05 * (texture(shade_map, place + 5.2 * step).r + texture(shade_map, place - 5.2 * step).r);
})";

inline constexpr const char* shadow_vertex = R"(uniform mat4 view, projection;
uniform vec3 plan;
out vec2 place;
void main() {
    place = vec2(gl_VertexID & 1, gl_VertexID >> 1);
    gl_Position = projection * view * vec4((place * 2.0 - 1.0) * plan.y, plan.x, 1.0);
})";
inline constexpr const char* shadow_fragment = R"(in vec2 place;
uniform sampler2D shade_map;
uniform vec4 tone;
out vec4 colour;
void main() { colour = vec4(tone.rgb, tone.a * texture(shade_map, place).r); })";

}  // namespace swashwright::draw
