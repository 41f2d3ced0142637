// The pen of the drawings of what to measure: parts in ink, calliper jaws and dimensions in the accent.
#pragma once

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "viewer/panels/measure/measure_sketch.h"

namespace swashwright::panels {

struct Point {
    float x = 0, y = 0;
};
inline Point operator+(Point a, Point b) {
    return {a.x + b.x, a.y + b.y};
}
inline Point operator-(Point a, Point b) {
    return {a.x - b.x, a.y - b.y};
}
inline Point operator*(float k, Point a) {
    return {k * a.x, k * a.y};
}
inline Point unit(Point a) {
    return (1 / std::max(1e-6F, std::hypot(a.x, a.y))) * a;
}

/// Draws in a field 100 wide and 56 high, y downwards. Words may stand beside the field where there is room.
class Sketch {
public:
    Sketch(ImDrawList& list, ImVec2 low, ImVec2 high, const SketchLook& look)
        : list_(list), look_(look), low_(low), high_(high) {
        size_ = std::min((high.x - low.x) / 100, (high.y - low.y) / 56);
        origin_ = {(low.x + high.x - 100 * size_) / 2, (low.y + high.y - 56 * size_) / 2};
    }

    void line(Point a, Point b, float width = 1.6F) { list_.AddLine(at(a), at(b), look_.ink.ink, width * look_.scale); }
    void centre_line(Point a, Point b) {
        const Point along = unit(b - a);
        const float length = std::hypot(b.x - a.x, b.y - a.y);
        for (float t = 0; t < length; t += 6) {  // long dash, dot
            list_.AddLine(at(a + t * along), at(a + std::min(length, t + 3.5F) * along), look_.ink.soft);
            if (t + 5 < length) list_.AddLine(at(a + (t + 4.4F) * along), at(a + (t + 5) * along), look_.ink.soft);
        }
    }
    void ball(Point c, float r, bool touched = false) {
        list_.AddCircleFilled(at(c), r * size_, touched ? look_.ink.paper : look_.ink.field, 0);
        list_.AddCircle(at(c), r * size_, look_.ink.ink, 0, (touched ? 2.4F : 1.6F) * look_.scale);
    }
    void hole(Point c, float r) {
        list_.AddCircleFilled(at(c), r * size_, look_.ink.paper, 0);
        list_.AddCircle(at(c), r * size_, look_.ink.ink, 0, 1.6F * look_.scale);
    }
    void box(float x1, float y1, float x2, float y2) {
        list_.AddRectFilled(at({x1, y1}), at({x2, y2}), look_.ink.field);
        list_.AddRect(at({x1, y1}), at({x2, y2}), look_.ink.ink, 0, 0, 1.6F * look_.scale);
    }
    void bar(Point a, Point b, float half) {
        const Point n = half * unit({a.y - b.y, b.x - a.x});
        quad(a + n, b + n, b - n, a - n, look_.ink.field, look_.ink.ink);
    }
    /// Two bars as one, square to each other, from a over b to c.
    void elbow(Point a, Point b, Point c, float half) {
        const Point in = half * unit(c - b), up = half * unit(a - b);
        const ImVec2 corners[] = {at(a - in), at(b - in - up), at(c - up), at(c + up), at(b + in + up), at(a + in)};
        const ImVec2 upright[] = {corners[0], corners[1], corners[4], corners[5]},
                     level[] = {corners[1], corners[2], corners[3], corners[4]};
        list_.AddConvexPolyFilled(upright, 4, look_.ink.field);
        list_.AddConvexPolyFilled(level, 4, look_.ink.field);
        list_.AddPolyline(corners, 6, look_.ink.ink, ImDrawFlags_Closed, 1.6F * look_.scale);
    }
    /// A small text in ink, its middle at a point; on a drawing that is small for its letters it reaches farther out,
    /// if it may.
    void note(Point p, const char* text, bool outwards = true) {
        const float height = ImGui::GetFontSize(), wide = outwards ? width_of(text, height) : 0;
        const float more = wide * std::max(0.0F, 1 - usual_letters * size_ / height) / (2 * size_);
        const float aside = p.x < 42 ? -more : p.x > 58 ? more : 0;
        words({p.x + aside, p.y}, text, look_.ink.ink, height, false);
    }
    /// Outer jaws on the two points, the beam `reach` away from them on the side of `side`.
    void jaws(Point p, Point q, Point side, float reach, const std::string& label) {
        const Point along = unit(q - p), n = unit(side);
        const float thick = 3.2F, beam = 4;
        for (const auto& [tip, out] : {std::pair(p, -1.0F), std::pair(q, 1.0F)}) {
            const Point far = (out * thick) * along;
            quad(tip - 2.5F * n, tip + reach * n, tip + reach * n + far, tip - 2.5F * n + 0.4F * far, look_.ink.panel,
                 look_.ink.accent);
        }
        const Point a = p + reach * n - thick * along, b = q + reach * n + (thick + 4) * along;
        quad(a, b, b + beam * n, a + beam * n, look_.ink.panel, look_.ink.accent);
        const float inset = std::max(3.4F, figures() / (2 * size_) + 0.8F);  // clear of the beam
        arrows(p + (reach - inset) * n, q + (reach - inset) * n);
        words(0.5F * (p + q) + (reach - inset) * n, label, look_.ink.accent, figures(), true);
    }
    /// A dimension from a to b, drawn across at height y; `upright`: up and down at x.
    void across(Point a, Point b, float y, const std::string& label) {
        extension(a, {a.x, y});
        extension(b, {b.x, y});
        dimension({a.x, y}, {b.x, y}, label);
    }
    void upright(Point a, Point b, float x, const std::string& label) {
        extension(a, {x, a.y});
        extension(b, {x, b.y});
        dimension({x, a.y}, {x, b.y}, label);
    }

private:
    static constexpr float usual_letters = 4.9F;  // line height of notes, in the field's units

    /// Larger than the text, where the drawing has room for that.
    float figures() const {
        const float text = ImGui::GetFontSize();
        return std::clamp(1.3F * usual_letters * size_, text, 1.3F * text);
    }
    static float width_of(const char* text, float height) {
        return ImGui::GetFont()->CalcTextSizeA(height, 1e6F, 0, text).x;
    }
    ImVec2 at(Point p) const { return {origin_.x + p.x * size_, origin_.y + p.y * size_}; }
    void quad(Point a, Point b, Point c, Point d, ImU32 fill, ImU32 edge) {
        const Point one = c - a, other = d - b;
        const bool clockwise = one.x * other.y > one.y * other.x;  // as ImGui wants it
        const ImVec2 corners[] = {at(a), at(clockwise ? b : d), at(c), at(clockwise ? d : b)};
        list_.AddConvexPolyFilled(corners, 4, fill);
        list_.AddPolyline(corners, 4, edge, ImDrawFlags_Closed, 1.6F * look_.scale);
    }
    void extension(Point from, Point to) {
        const Point beyond = 1.5F * unit(to - from), gap = 1.2F * unit(to - from);
        list_.AddLine(at(from + gap), at(to + beyond), look_.ink.accent, look_.scale);
    }
    void arrow(Point tip, Point towards) {
        const Point back = 2.8F * unit(towards), n = 0.9F * unit({-towards.y, towards.x});
        list_.AddTriangleFilled(at(tip), at(tip - back + n), at(tip - back - n), look_.ink.accent);
    }
    void arrows(Point a, Point b) {
        const Point along = unit(b - a);
        const bool narrow = std::hypot(b.x - a.x, b.y - a.y) < 9;  // then the arrows point inwards from outside
        const float out = narrow ? -1.0F : 1.0F;
        const Point more = (narrow ? 6.0F : 0.0F) * along;
        list_.AddLine(at(a - more), at(b + more), look_.ink.accent, 1.4F * look_.scale);
        arrow(a, -out * along);
        arrow(b, out * along);
    }
    void dimension(Point a, Point b, const std::string& label) {
        arrows(a, b);
        const float run = std::hypot(b.x - a.x, b.y - a.y);
        const bool across = std::abs(b.x - a.x) > std::abs(b.y - a.y);
        Point beside{0, 0};
        if (run < 12 && across) {
            beside.y = -4.5F;
        } else if (run < 12) {  // outside the line, or below it where that leaves the room
            const float half = width_of(label.c_str(), figures()) / (2 * size_) + 2, way = a.x < 50 ? -1.0F : 1.0F;
            const float edge = at({a.x + way * (2 * half - 2), 0}).x;
            beside = edge >= low_.x && edge <= high_.x ? Point{way * half, 0} : Point{0, run / 2 + 9};
        }
        words(0.5F * (a + b) + beside, label, look_.ink.accent, figures(), true);
    }
    /// Kept inside the room.
    void words(Point p, const std::string& text, ImU32 colour, float height, bool patch) {
        ImFont* font = ImGui::GetFont();
        const ImVec2 size = font->CalcTextSizeA(height, 1e6F, 0, text.c_str());
        const ImVec2 middle = at(p);
        const float pad = 3 * look_.scale, aside = patch ? pad : 0;
        const float x =
            std::clamp(middle.x - size.x / 2, low_.x + aside, std::max(low_.x + aside, high_.x - size.x - aside));
        const float y = std::clamp(middle.y - size.y / 2, low_.y, std::max(low_.y, high_.y - size.y));
        if (patch) list_.AddRectFilled({x - pad, y}, {x + size.x + pad, y + size.y}, look_.ink.paper);
        list_.AddText(font, height, {std::round(x), std::round(y)}, colour, text.c_str());
    }

    ImDrawList& list_;
    const SketchLook& look_;
    float size_ = 1;
    ImVec2 low_, high_, origin_;  // the room's corners, the field's
};

}  // namespace swashwright::panels
