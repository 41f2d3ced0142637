#include "viewer/draw/picture/picture.h"

#include <backends/imgui_impl_opengl3.h>
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "viewer/draw/base/font.h"
#include "viewer/draw/base/palette.h"
#include "viewer/draw/gl/drawing.h"
#include "viewer/draw/gl/framebuffer.h"
#include "viewer/draw/gl/gl_objects.h"
#include "viewer/draw/gl/offscreen.h"
#include "viewer/draw/solids/anchors.h"
#include "viewer/draw/solids/ball_ends.h"
#include "viewer/draw/solids/solids.h"

namespace swashwright::draw {
namespace {

/// ImGui with no window: `begin` and `put` each picture's words. While it lives it is the current one.
class Lettering {
public:
    Lettering(int width, int height, float scale)
        : before_(ImGui::GetCurrentContext()), context_(ImGui::CreateContext()) {
        ImGui::SetCurrentContext(context_);
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = ImVec2(static_cast<float>(width), static_cast<float>(height));
        add_font(*io.Fonts, std::round(19 * scale));  // line height; B612's is 1.19 em
        ImGui_ImplOpenGL3_Init(is_es() ? "#version 300 es" : "#version 330");
    }
    ~Lettering() {
        ImGui::SetCurrentContext(context_);
        ImGui_ImplOpenGL3_Shutdown();
        ImGui::DestroyContext(context_);
        ImGui::SetCurrentContext(before_);
    }
    Lettering(const Lettering&) = delete;
    Lettering& operator=(const Lettering&) = delete;

    void begin() {
        ImGui_ImplOpenGL3_NewFrame();
        ImGui::NewFrame();
    }
    ImDrawList& list() { return *ImGui::GetBackgroundDrawList(); }
    void put() {
        ImGui::Render();
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    }

private:
    ImGuiContext *before_, *context_;  // that of a window, if there is one; its own
};

float width_of(const std::string& text) {
    return ImGui::CalcTextSize(text.c_str()).x;
}

/// The text, or as many whole words of it as fit, with an ellipsis.
std::string cut_to(std::string text, float room) {
    if (width_of(text) <= room) return text;
    while (!text.empty() && width_of(text + "\u2026") > room) {
        const std::size_t space = text.find_last_of(' ');
        text.resize(space == std::string::npos ? 0 : space);
    }
    return text.empty() ? text : text + "\u2026";
}

/// The strip at the foot, like the title block of a drawing: title and pose over note and units; one below the other
/// where the first two do not stand side by side.
class Strip {
public:
    Strip(const PictureOrder& order, float scale)
        : order_(order), scale_(scale), pad_(12 * scale), room_(static_cast<float>(order.width) - 2 * pad_) {
        const float side_by_side = 2 * line_, most = 0.3F * static_cast<float>(order.height) - 15 * scale;
        stacked_ = width_of(order.title) + width_of(order.pose) + pad_ > room_;
        const float stacked = wrapped(order.title) + wrapped(order.pose) + (order.note.empty() ? 1 : 2) * line_;
        stacked_ = stacked_ && stacked <= most;
        height_ = std::min(stacked_ ? stacked : side_by_side, most) + 15 * scale;
    }
    float height() const { return height_; }

    void draw(ImDrawList& list) const {
        const Sheet& colours = sheet(order_.style.night);
        const auto width = static_cast<float>(order_.width), height = static_cast<float>(order_.height);
        const float top = std::floor(height - height_);
        list.AddRectFilled({0, top}, {width, height},
                           packed(glm::mix(colours.paper, glm::vec3(1), order_.style.night ? 0.05F : 0.5F)));
        const ImU32 ink = packed(colours.ink), soft = packed(glm::mix(colours.faint, colours.ink, 0.5F));
        list.AddLine({0, top}, {width, top}, ink, 1.5F * scale_);
        float y = top + 7 * scale_;
        if (stacked_) {
            for (const std::string& words : {order_.title, order_.pose}) {
                list.AddText(nullptr, 0, {pad_, y}, ink, words.c_str(), nullptr, room_);
                y += wrapped(words);
            }
        } else {
            put_line(list, y, {order_.title, ink}, {cut_to(order_.pose, 0.62F * width), ink});
            y += line_;
        }
        std::string note = order_.note;
        if (stacked_ && !note.empty()) {
            list.AddText({pad_, y}, soft, cut_to(std::exchange(note, ""), room_).c_str());
            y += line_;
        }
        const bool exaggerated = order_.style.exaggeration != 1;
        put_line(list, y, {note, soft},
                 {exaggerated ? fmt::format("pitch differences drawn x{:g}", order_.style.exaggeration) : units(),
                  exaggerated ? ink : soft});
    }

private:
    struct Words {
        std::string text;
        ImU32 ink;
    };
    /// Those in which the words over the picture are.
    std::string units() const {
        const auto& length = order_.words.length;
        return length && length(1, 0).ends_with("in") ? "inches, degrees" : "mm, degrees";
    }
    /// What stands right is kept whole.
    void put_line(ImDrawList& list, float y, const Words& left, const Words& right) const {
        const float taken = width_of(right.text);
        list.AddText({std::round(pad_ + room_ - taken), y}, right.ink, right.text.c_str());
        list.AddText({pad_, y}, left.ink, cut_to(left.text, room_ - taken - pad_).c_str());
    }
    float wrapped(const std::string& words) const {
        return words.empty() ? 0 : ImGui::CalcTextSize(words.c_str(), nullptr, false, room_).y;
    }

    const PictureOrder& order_;
    float scale_, pad_, room_, line_ = ImGui::GetTextLineHeight(), height_ = 0;
    bool stacked_ = false;
};

}  // namespace

namespace {

/// Where a linkage of any kind is framed: what stands, and what goes round with the rotor.
struct Reach {
    std::vector<Vec3> points, swept;
};

Reach reach_of(const head::Description& d, bool whole_blades) {
    const Proportions p = proportions_of(d);
    const double hub = d.rotor.hub_height_mm, end = whole_blades ? p.blade_end : p.stub_end;
    const double ground = std::max(p.fork_end + 0.35 * p.chord, 2.9 * p.ring);  // the protractor's radius
    Reach reach{
        {Vec3(0, 0, p.ground), Vec3(0, 0, p.top + 0.6 * p.ring)},
        {Vec3(1.1 * ground, 0, p.ground), Vec3(end, 0.65 * p.chord, hub + 0.1 * end), Vec3(end, 0, hub - 0.1 * end)}};
    const auto add = [&](const Vec3& middle, double around) {
        if (!middle.allFinite()) return;
        for (int corner = 0; corner < 8; ++corner)
            reach.points.push_back(middle + around * Vec3(corner % 2 != 0 ? 1 : -1, corner / 2 % 2 != 0 ? 1 : -1,
                                                          corner / 4 != 0 ? 0.5 : -0.5));
    };
    for (const head::Servo& servo : d.servos) add(head::pivot_point(servo.pivot_mm), 1.7 * p.horn);
    for (const head::Lever& lever : d.levers)
        if (lever.on.on == head::Carrier::On::frame)
            add(lever.pivot_mm, p.horn);
        else if (lever.on.on == head::Carrier::On::hub && lever.pivot_mm.allFinite())  // it may carry a bar
            reach.swept.push_back(Vec3(paddles_of(p).end, 0, lever.pivot_mm.z() + 0.15 * paddles_of(p).end));
    return reach;
}

}  // namespace

Camera camera_for(const head::Description& description, View view, bool whole_blades, double aspect) {
    Camera camera;
    switch (view) {
        case View::corner:
        case View::along:
            camera.azimuth_deg = 145, camera.height_deg = 20;
            break;
        case View::front:
            camera.azimuth_deg = 0, camera.height_deg = 4;
            break;
        case View::side:
            camera.azimuth_deg = 90, camera.height_deg = 4;
            break;
        case View::back:
            camera.azimuth_deg = 180, camera.height_deg = 4;
            break;
        case View::right:
            camera.azimuth_deg = -90, camera.height_deg = 4;
            break;
        case View::below:
            camera.azimuth_deg = 0, camera.height_deg = -89;
            break;
        case View::top:
            camera.azimuth_deg = 180, camera.height_deg = 89;
            break;
    }
    if (head::format_of(description) > 1) {  // more than a plain head: anything may stand anywhere
        const Reach reach = reach_of(description, whole_blades);
        constexpr double share = 0.8;  // of the picture's width; the rest is for names
        camera.frame(reach.points, reach.swept, share * aspect);
        return camera;
    }
    const Extent extent = extent_of(description, false);
    // Blades need room to the sides; seen from above, also up and down.
    const Proportions p = proportions_of(description);
    const double reach = 1.1 * (whole_blades ? p.blade_end : p.stub_end);
    const double room = view == View::top || view == View::below ? reach : reach / std::max(aspect, 1.0);
    camera.fit(extent.centre, std::max(extent.radius_mm, room), aspect);
    return camera;
}

std::optional<Camera> camera_along(const Part& link, const head::Description& description, const head::Pose& pose,
                                   double aspect, bool from_below) {
    if (!is_link(link.role)) return std::nullopt;
    const auto length = length_of(link, description, pose);
    if (!length) return std::nullopt;
    const Vec3 along = length->b - length->a;
    const double run = along.norm();
    if (!(run > 1e-9)) return std::nullopt;
    const Vec3 out = ((along.z() < 0) != from_below ? -1.0 : 1.0) * along / run;  // towards the eye
    Camera camera;
    camera.azimuth_deg = std::atan2(out.y(), out.x()) / degree;
    camera.height_deg = std::asin(std::clamp(out.z(), -1.0, 1.0)) / degree;
    // From far away through a long lens, so that the eye stands outside the head and nothing looms before the link.
    // Near enough for the ball ends to be large, far enough for what the link joins to be seen with it.
    camera.view_deg = 8;
    const Proportions p = proportions_of(description);
    camera.fit((length->a + length->b) / 2, std::max(0.75 * run, 0.9 * p.ring), aspect);
    return camera;
}

struct Easel::Impl {
    // In this order: what is drawn with goes before the context.
    Offscreen surface;
    float scale;
    Lettering lettering;
    head::Description description;
    Drawing drawing;
    InSight seen;  // in the picture before

    Impl(Offscreen opened, head::Description of)
        : surface(std::move(opened)),
          // Text stays legible in small pictures and grows with large ones.
          scale(std::clamp(static_cast<float>(std::min(surface.height() / 800.0, surface.width() / 1000.0)), 0.85F,
                           3.0F)),
          lettering(surface.width(), surface.height(), scale),
          description(std::move(of)) {
        drawing.set_head(description);
    }
};

Easel::Easel(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Easel::~Easel() = default;
Easel::Easel(Easel&&) noexcept = default;
Easel& Easel::operator=(Easel&&) noexcept = default;

tl::expected<Easel, std::string> Easel::open(const head::Description& description, int width, int height) {
    auto surface = Offscreen::open(width, height);
    if (!surface) return tl::unexpected(surface.error());
    return Easel(std::make_unique<Impl>(std::move(*surface), description));
}

namespace {

/// Everything but the strip, into a viewport at the top of the bound framebuffer.
void draw_content(Lettering& lettering, Drawing& drawing, InSight& seen, const head::Description& description,
                  const head::Pose& pose, const PictureOrder& order, const Camera& camera, const Viewport& viewport,
                  int framebuffer_height, float scale) {
    drawing.render(description, pose, camera, order.style, viewport, framebuffer_height);
    OverlayWords words = order.words;
    words.in_sight = seen = drawing.in_sight(description, pose, camera, order.style, viewport,
                                             ImGui::GetTextLineHeight(), order.names, seen);
    draw_overlay(lettering.list(), description, pose, camera, order.style, viewport, words, scale);
}

}  // namespace

Pixels Easel::draw(const head::Pose& pose, const PictureOrder& order) {
    auto& [surface, scale, lettering, description, drawing, seen] = *impl_;
    lettering.begin();
    const Strip strip(order, scale);
    const int height = std::max(1, order.height - static_cast<int>(std::ceil(strip.height())));
    const double aspect = static_cast<double>(order.width) / height;
    const auto along = order.view == View::along && order.style.touched
                           ? camera_along(*order.style.touched, description, pose, aspect)
                           : std::nullopt;
    const Camera camera = order.camera ? *order.camera
                          : along      ? *along
                                       : camera_for(description, order.view, order.style.whole_blades, aspect);
    draw_content(lettering, drawing, seen, description, pose, order, camera, {0, 0, order.width, height}, order.height,
                 scale);
    strip.draw(lettering.list());
    lettering.put();
    return Pixels{order.width, order.height, surface.read()};
}

namespace {

/// The height of the strip below a picture, in whole pixels.
int strip_height(PictureOrder order, float scale) {
    Lettering lettering(order.width, order.height, scale);
    lettering.begin();
    order.height *= 4;  // it may take what it needs
    const int height = static_cast<int>(std::ceil(Strip(order, scale).height()));
    ImGui::EndFrame();
    return height;
}

}  // namespace

tl::expected<Pixels, std::string> picture_here(const head::Description& description, const head::Pose& pose,
                                               const PictureOrder& order) {
    const float scale = order.scale.value_or(1);
    PictureOrder whole = order;
    whole.height += strip_height(order, scale);
    auto surface = Framebuffer::make(whole.width, whole.height);
    if (!surface) return tl::unexpected(surface.error());
    Lettering lettering(whole.width, whole.height, scale);
    lettering.begin();
    const Strip strip(whole, scale);
    Drawing drawing;
    drawing.set_head(description);
    surface->bind();
    InSight seen;
    const Viewport viewport{0, 0, order.width, order.height};
    const Camera camera = order.camera ? *order.camera
                                       : camera_for(description, order.view, order.style.whole_blades,
                                                    static_cast<double>(order.width) / std::max(1, order.height));
    draw_content(lettering, drawing, seen, description, pose, order, camera, viewport, whole.height, scale);
    strip.draw(lettering.list());
    lettering.put();
    return Pixels{whole.width, whole.height, surface->read()};
}

tl::expected<Pixels, std::string> make_picture(const head::Description& description, const head::Pose& pose,
                                               const PictureOrder& order) {
    return Easel::open(description, order.width, order.height).map([&](Easel easel) {
        return easel.draw(pose, order);
    });
}

}  // namespace swashwright::draw
