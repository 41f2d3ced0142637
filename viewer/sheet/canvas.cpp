#include "viewer/sheet/canvas.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <numbers>

#include "viewer/draw/base/palette.h"

namespace swashwright::sheet {
namespace {

constexpr double point = 72 / 25.4;  // points in a millimetre

template <auto destroy>
struct Destroyer {
    template <class T>
    void operator()(T* p) const {
        destroy(p);
    }
};
using Surface = std::unique_ptr<cairo_surface_t, Destroyer<cairo_surface_destroy>>;
using Layout = std::unique_ptr<PangoLayout, Destroyer<g_object_unref>>;
using Font = std::unique_ptr<PangoFontDescription, Destroyer<pango_font_description_free>>;
using Attributes = std::unique_ptr<PangoAttrList, Destroyer<pango_attr_list_unref>>;

cairo_status_t append(void* bytes, const unsigned char* data, unsigned length) {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

}  // namespace

struct Canvas::Impl {
    std::string bytes;  // outlives the surface, which writes to it to the end
    Surface surface;
    std::unique_ptr<cairo_t, Destroyer<cairo_destroy>> cairo;

    Impl(Form form, Size size)
        : surface((form == Form::pdf ? cairo_pdf_surface_create_for_stream : cairo_svg_surface_create_for_stream)(
              append, &bytes, size.width * point, size.height * point)),
          cairo(cairo_create(surface.get())) {
        cairo_set_line_cap(cairo.get(), CAIRO_LINE_CAP_BUTT);
    }

    void ink(Ink which) {
        const glm::vec3 colour = draw::sheet(false).trouble;
        if (which == Ink::colour)
            cairo_set_source_rgb(cairo.get(), colour.r, colour.g, colour.b);
        else
            cairo_set_source_rgb(cairo.get(), which == Ink::grey ? 0.5 : 0, which == Ink::grey ? 0.5 : 0,
                                 which == Ink::grey ? 0.5 : 0);
    }

    void stroke(const Pen& pen) {
        ink(pen.ink);
        cairo_set_line_width(cairo.get(), pen.width_mm * point);
        std::vector<double> dash(pen.dash_mm);
        for (double& d : dash) d *= point;
        cairo_set_dash(cairo.get(), dash.data(), static_cast<int>(dash.size()), 0);
        cairo_stroke(cairo.get());
    }

    Layout layout(const std::string& words, const Lettering& l) {
        Layout layout(pango_cairo_create_layout(cairo.get()));
        PangoContext* context = pango_layout_get_context(layout.get());
        // Letters stand where the paper wants them, not on a screen's pixels.
        pango_context_set_round_glyph_positions(context, FALSE);
        cairo_font_options_t* options = cairo_font_options_create();
        cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
        cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
        pango_cairo_context_set_font_options(context, options);
        cairo_font_options_destroy(options);
        pango_layout_context_changed(layout.get());

        const Font font(pango_font_description_new());
        pango_font_description_set_family(font.get(), "B612,DejaVu Sans,sans-serif");
        pango_font_description_set_weight(font.get(), l.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
        pango_font_description_set_absolute_size(font.get(), std::max(l.points, least_text_pt) * PANGO_SCALE);
        pango_layout_set_font_description(layout.get(), font.get());
        const Attributes attributes(pango_attr_list_new());
        pango_attr_list_insert(attributes.get(), pango_attr_font_features_new("tnum=1, liga=0"));
        // B612's parentheses are all but square: others tell them from brackets.
        for (std::size_t at = words.find_first_of("()"); at != std::string::npos;
             at = words.find_first_of("()", at + 1)) {
            PangoAttribute* round = pango_attr_family_new("DejaVu Sans");
            round->start_index = static_cast<guint>(at);
            round->end_index = static_cast<guint>(at + 1);
            pango_attr_list_insert(attributes.get(), round);
        }
        pango_layout_set_attributes(layout.get(), attributes.get());
        pango_layout_set_text(layout.get(), words.c_str(), static_cast<int>(words.size()));  // never as markup
        if (l.width_mm > 0) {
            pango_layout_set_width(layout.get(), static_cast<int>(l.width_mm * point * PANGO_SCALE));
            pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
            pango_layout_set_alignment(layout.get(), l.align == Lettering::Align::left     ? PANGO_ALIGN_LEFT
                                                     : l.align == Lettering::Align::centre ? PANGO_ALIGN_CENTER
                                                                                           : PANGO_ALIGN_RIGHT);
        }
        if (l.cut) {
            pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
            pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
        }
        return layout;
    }
};

namespace {

Size size_of(PangoLayout* layout) {
    PangoRectangle logical;
    pango_layout_get_extents(layout, nullptr, &logical);
    return {logical.width / (PANGO_SCALE * point), logical.height / (PANGO_SCALE * point)};
}

}  // namespace

Canvas::Canvas(Form form, Size size) : impl_(std::make_unique<Impl>(form, size)), size_(size) {}
Canvas::~Canvas() {
    // An unfinished surface writes its end when it is destroyed: while the bytes still stand.
    impl_->cairo.reset();
    impl_->surface.reset();
}

void Canvas::title(const std::string& title, const std::string& made_by) {
    cairo_pdf_surface_set_metadata(impl_->surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(impl_->surface.get(), CAIRO_PDF_METADATA_CREATOR, made_by.c_str());
}

void Canvas::next_page() {
    cairo_show_page(impl_->cairo.get());
}

tl::expected<std::string, std::string> Canvas::finish() {
    const cairo_status_t drawn = cairo_status(impl_->cairo.get());
    cairo_surface_finish(impl_->surface.get());
    const cairo_status_t written = cairo_surface_status(impl_->surface.get());
    if (const cairo_status_t bad = drawn != CAIRO_STATUS_SUCCESS ? drawn : written; bad != CAIRO_STATUS_SUCCESS)
        return tl::unexpected(fmt::format("the sheet cannot be drawn: {}", cairo_status_to_string(bad)));
    return std::move(impl_->bytes);
}

void Canvas::line(At from, At to, const Pen& pen) {
    lines(std::array{from, to}, pen);
}

void Canvas::lines(std::span<const At> points, const Pen& pen, bool closed) {
    for (const At& p : points) cairo_line_to(impl_->cairo.get(), p.x * point, p.y * point);
    if (closed) cairo_close_path(impl_->cairo.get());
    impl_->stroke(pen);
}

void Canvas::circle(At centre, double radius, const Pen& pen) {
    cairo_new_sub_path(impl_->cairo.get());
    cairo_arc(impl_->cairo.get(), centre.x * point, centre.y * point, radius * point, 0, 2 * std::numbers::pi);
    impl_->stroke(pen);
}

void Canvas::fill_box(At corner, Size size, Ink ink) {
    impl_->ink(ink);
    cairo_rectangle(impl_->cairo.get(), corner.x * point, corner.y * point, size.width * point, size.height * point);
    cairo_fill(impl_->cairo.get());
}

void Canvas::white_box(At corner, Size size) {
    cairo_set_source_rgb(impl_->cairo.get(), 1, 1, 1);
    cairo_rectangle(impl_->cairo.get(), corner.x * point, corner.y * point, size.width * point, size.height * point);
    cairo_fill(impl_->cairo.get());
}

void Canvas::box(At corner, Size size, const Pen& pen) {
    cairo_rectangle(impl_->cairo.get(), corner.x * point, corner.y * point, size.width * point, size.height * point);
    impl_->stroke(pen);
}

void Canvas::picture(const draw::Pixels& pixels, At corner, double width) {
    const Surface image(cairo_image_surface_create(CAIRO_FORMAT_RGB24, pixels.width, pixels.height));
    if (cairo_surface_status(image.get()) != CAIRO_STATUS_SUCCESS) return;
    unsigned char* data = cairo_image_surface_get_data(image.get());
    const int stride = cairo_image_surface_get_stride(image.get());
    for (int y = 0; y < pixels.height; ++y)
        for (int x = 0; x < pixels.width; ++x) {
            const std::uint8_t* rgb = &pixels.rgb[3 * (static_cast<std::size_t>(y) * pixels.width + x)];
            const std::uint32_t value = rgb[0] << 16U | rgb[1] << 8U | rgb[2];
            std::memcpy(data + static_cast<std::ptrdiff_t>(y) * stride + 4L * x, &value, sizeof value);
        }
    cairo_surface_mark_dirty(image.get());
    cairo_t* c = impl_->cairo.get();
    cairo_save(c);
    cairo_translate(c, corner.x * point, corner.y * point);
    const double scale = width * point / pixels.width;
    cairo_scale(c, scale, scale);
    cairo_set_source_surface(c, image.get(), 0, 0);
    cairo_paint(c);
    cairo_restore(c);
}

Size Canvas::text(At at, const std::string& words, const Lettering& lettering) {
    const Layout layout = impl_->layout(words, lettering);
    const Size size = size_of(layout.get());
    double x = at.x;
    if (lettering.width_mm <= 0 && lettering.align == Lettering::Align::centre) x -= size.width / 2;
    if (lettering.width_mm <= 0 && lettering.align == Lettering::Align::right) x -= size.width;
    impl_->ink(lettering.ink);
    cairo_move_to(impl_->cairo.get(), x * point, at.y * point);
    pango_cairo_show_layout(impl_->cairo.get(), layout.get());
    cairo_new_path(impl_->cairo.get());
    return size;
}

Size Canvas::measure(const std::string& words, const Lettering& lettering) {
    return size_of(impl_->layout(words, lettering).get());
}

std::vector<std::string> Canvas::wrapped(const std::string& words, const Lettering& lettering) {
    const Layout layout = impl_->layout(words, lettering);
    std::vector<std::string> out;
    for (int i = 0; i < pango_layout_get_line_count(layout.get()); ++i) {
        const PangoLayoutLine* line = pango_layout_get_line_readonly(layout.get(), i);
        out.push_back(
            words.substr(static_cast<std::size_t>(line->start_index), static_cast<std::size_t>(line->length)));
    }
    return out;
}

double Canvas::longest_word(const std::string& words, const Lettering& lettering) {
    double most = 0;
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        most = std::max(most, measure(words.substr(at, end - at), lettering).width);
        at = end + 1;
    }
    return most;
}

void Canvas::push(At origin, bool upright) {
    cairo_save(impl_->cairo.get());
    cairo_translate(impl_->cairo.get(), origin.x * point, origin.y * point);
    if (upright) cairo_rotate(impl_->cairo.get(), std::numbers::pi / 2);
}

void Canvas::push_clip(At corner, Size size) {
    cairo_save(impl_->cairo.get());
    cairo_rectangle(impl_->cairo.get(), corner.x * point, corner.y * point, size.width * point, size.height * point);
    cairo_clip(impl_->cairo.get());
}

void Canvas::pop() {
    cairo_restore(impl_->cairo.get());
}

}  // namespace swashwright::sheet
