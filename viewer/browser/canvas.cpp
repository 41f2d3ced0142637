// The sheet's canvas in a page: SVG as text, one picture a page, in millimetres. Letters are measured in the fonts that
// page.js gives the printed pages; those of no font there are measured as the last one's unknown letter.
#include "viewer/sheet/canvas.h"

#include <fmt/format.h>
#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <iterator>
#include <utility>

#include "viewer/draw/base/font.h"
#include "viewer/draw/base/palette.h"

#define STBTT_STATIC
#define STB_TRUETYPE_IMPLEMENTATION
#include <imstb_truetype.h>

namespace swashwright::sheet {
namespace {

constexpr double point = 25.4 / 72;  // mm

/// One font file, kept open.
class Face {
public:
    explicit Face(const std::string& path) {
        std::ifstream file(path, std::ios::binary);
        bytes_.assign(std::istreambuf_iterator<char>(file), {});
        const auto* data = reinterpret_cast<const unsigned char*>(bytes_.data());
        if (bytes_.empty() || !stbtt_InitFont(&info_, data, stbtt_GetFontOffsetForIndex(data, 0))) bytes_.clear();
        if (!bytes_.empty()) stbtt_GetFontVMetrics(&info_, &ascent_, &descent_, nullptr);
    }
    bool open() const { return !bytes_.empty(); }
    bool has(unsigned letter) const { return stbtt_FindGlyphIndex(&info_, static_cast<int>(letter)) != 0; }
    // All in shares of the letters' size.
    double advance(unsigned letter) const {
        int advance = 0;
        stbtt_GetCodepointHMetrics(&info_, static_cast<int>(letter), &advance, nullptr);
        return advance * scale();
    }
    double ascent() const { return ascent_ * scale(); }
    double height() const { return (ascent_ - descent_) * scale(); }

private:
    double scale() const { return static_cast<double>(stbtt_ScaleForMappingEmToPixels(&info_, 1)); }
    std::string bytes_;
    stbtt_fontinfo info_{};
    int ascent_ = 0, descent_ = 0;
};

/// The first that has a letter writes it; parentheses by the last, as B612's are all but square.
const std::vector<Face>& faces(bool bold) {
    static const std::array<std::vector<Face>, 2> all = [] {
        std::array<std::vector<Face>, 2> out;
        for (const bool heavy : {false, true})
            for (const std::string& path : draw::font_files(heavy))
                if (Face face(path); face.open()) out[heavy].push_back(std::move(face));
        return out;
    }();
    return all[bold ? 1 : 0];
}

double advance(unsigned letter, bool bold) {
    const auto& fonts = faces(bold);
    if (fonts.empty()) return 0.6;
    const bool round = letter == '(' || letter == ')';
    for (const Face& face : fonts)
        if (face.has(letter) && !(round && &face != &fonts.back())) return face.advance(letter);
    return fonts.back().advance(letter);
}

double width_of(std::string_view words, const Lettering& l) {
    double width = 0;
    for (std::size_t at = 0; at < words.size();) {
        unsigned letter = 0;
        at += static_cast<std::size_t>(
            std::max(1, ImTextCharFromUtf8(&letter, words.data() + at, words.data() + words.size())));
        width += advance(letter, l.bold);
    }
    return width * std::max(l.points, least_text_pt) * point;
}

std::string escaped(std::string_view words) {
    std::string out;
    for (const char c : words) {
        if (c == '&')
            out += "&amp;";
        else if (c == '<')
            out += "&lt;";
        else if (c == '>')
            out += "&gt;";
        else
            out += static_cast<unsigned char>(c) < ' ' ? ' ' : c;
    }
    return out;
}

std::string colour_of(Ink ink) {
    const glm::vec3 c = draw::sheet(false).trouble * 255.0F;
    switch (ink) {
        case Ink::black:
            return "#000";
        case Ink::grey:
            return "#808080";
        case Ink::colour:
            break;
    }
    return fmt::format("#{:02x}{:02x}{:02x}", int(c.r + 0.5F), int(c.g + 0.5F), int(c.b + 0.5F));
}

std::string stroke_of(const Pen& pen) {
    std::string out = fmt::format(R"(fill="none" stroke="{}" stroke-width="{:.4g}")", colour_of(pen.ink), pen.width_mm);
    if (!pen.dash_mm.empty()) out += fmt::format(R"( stroke-dasharray="{:.4g}")", fmt::join(pen.dash_mm, " "));
    return out;
}

/// How many bytes from `start` fit into the width: up to a space, or to the end; at least one letter.
std::size_t fitting(std::string_view words, const Lettering& l) {
    const std::size_t newline = std::min(words.find('\n'), words.size());
    std::size_t fits = 0, letters = 0;
    for (std::size_t at = 0; at <= newline; ++at) {
        if (at < newline && (static_cast<unsigned char>(words[at]) & 0xC0) == 0x80) continue;  // inside a letter
        const bool ends_word = at == newline || words[at] == ' ';
        const bool fits_here = width_of(words.substr(0, at), l) <= l.width_mm + 1e-9;
        if (ends_word && fits_here) fits = at;
        if (fits_here) letters = at;
        if (!fits_here) break;
    }
    if (fits > 0 || newline == 0) return fits;
    if (letters > 0) return letters;
    std::size_t one = 1;
    while (one < newline && (static_cast<unsigned char>(words[one]) & 0xC0) == 0x80) ++one;
    return one;
}

}  // namespace

struct Canvas::Impl {
    std::string pages, page;
    static inline int clips = 0;

    void put(const std::string& element) { page += element + "\n"; }
    void end_page(Size size) {
        pages += fmt::format(
            R"(<svg xmlns="http://www.w3.org/2000/svg" width="{0:.4f}mm" height="{1:.4f}mm" viewBox="0 0 {0:.4f} {1:.4f}">
{2}</svg>
)",
            size.width, size.height, std::exchange(page, {}));
    }
};

Canvas::Canvas(Form, Size size) : impl_(std::make_unique<Impl>()), size_(size) {}
Canvas::~Canvas() = default;

void Canvas::title(const std::string&, const std::string&) {}

void Canvas::next_page() {
    impl_->end_page(size_);
}

tl::expected<std::string, std::string> Canvas::finish() {
    impl_->end_page(size_);
    return std::move(impl_->pages);
}

void Canvas::line(At from, At to, const Pen& pen) {
    lines(std::array{from, to}, pen);
}

void Canvas::lines(std::span<const At> points, const Pen& pen, bool closed) {
    std::string path;
    for (const At& p : points) path += fmt::format("{}{:.4f} {:.4f}", path.empty() ? "M" : "L", p.x, p.y);
    impl_->put(fmt::format(R"(<path d="{}{}" {}/>)", path, closed ? "Z" : "", stroke_of(pen)));
}

void Canvas::circle(At centre, double radius, const Pen& pen) {
    impl_->put(
        fmt::format(R"(<circle cx="{:.4f}" cy="{:.4f}" r="{:.4f}" {}/>)", centre.x, centre.y, radius, stroke_of(pen)));
}

void Canvas::fill_box(At corner, Size size, Ink ink) {
    impl_->put(fmt::format(R"(<rect x="{:.4f}" y="{:.4f}" width="{:.4f}" height="{:.4f}" fill="{}"/>)", corner.x,
                           corner.y, size.width, size.height, colour_of(ink)));
}

void Canvas::white_box(At corner, Size size) {
    impl_->put(fmt::format(R"(<rect x="{:.4f}" y="{:.4f}" width="{:.4f}" height="{:.4f}" fill="#fff"/>)", corner.x,
                           corner.y, size.width, size.height));
}

void Canvas::box(At corner, Size size, const Pen& pen) {
    impl_->put(fmt::format(R"(<rect x="{:.4f}" y="{:.4f}" width="{:.4f}" height="{:.4f}" {}/>)", corner.x, corner.y,
                           size.width, size.height, stroke_of(pen)));
}

/// page.js has the picture and puts its address there.
void Canvas::picture(const draw::Pixels& pixels, At corner, double width) {
    impl_->put(fmt::format(R"(<image href="#head" x="{:.4f}" y="{:.4f}" width="{:.4f}" height="{:.4f}"/>)", corner.x,
                           corner.y, width, width * pixels.height / pixels.width));
}

Size Canvas::text(At at, const std::string& words, const Lettering& l) {
    const auto& fonts = faces(l.bold);
    const double size = std::max(l.points, least_text_pt) * point, ascent = fonts.empty() ? 0.9 : fonts[0].ascent();
    const double line_height = size * (fonts.empty() ? 1.2 : fonts[0].height());
    const double share = l.align == Lettering::Align::left ? 0 : l.align == Lettering::Align::centre ? 0.5 : 1;
    Size taken;
    for (const std::string& line : wrapped(words, l)) {
        const double width = width_of(line, l);
        // Inside the width where there is one, else about the point.
        const double x = at.x + share * (l.width_mm > 0 ? l.width_mm - width : -width);
        if (width > 0)
            impl_->put(fmt::format(
                R"(<text x="{:.4f}" y="{:.4f}" font-size="{:.4f}" textLength="{:.4f}" fill="{}"{}>{}</text>)", x,
                at.y + taken.height + ascent * size, size, width, colour_of(l.ink),
                l.bold ? R"( font-weight="bold")" : "", escaped(line)));
        taken.width = std::max(taken.width, width);
        taken.height += line_height;
    }
    return taken;
}

Size Canvas::measure(const std::string& words, const Lettering& l) {
    const auto& fonts = faces(l.bold);
    const double line_height = std::max(l.points, least_text_pt) * point * (fonts.empty() ? 1.2 : fonts[0].height());
    Size taken;
    for (const std::string& line : wrapped(words, l)) {
        taken.width = std::max(taken.width, width_of(line, l));
        taken.height += line_height;
    }
    return taken;
}

std::vector<std::string> Canvas::wrapped(const std::string& words, const Lettering& l) {
    if (l.cut && width_of(words, l) > l.width_mm) {
        std::string cut = words;
        while (!cut.empty() && width_of(cut + "\xE2\x80\xA6", l) > l.width_mm) {
            while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0) == 0x80) cut.pop_back();
            if (!cut.empty()) cut.pop_back();
        }
        return {cut + "\xE2\x80\xA6"};
    }
    std::vector<std::string> out;
    std::string_view rest = words;
    for (;;) {
        const std::size_t end = l.width_mm > 0 ? fitting(rest, l) : std::min(rest.find('\n'), rest.size());
        out.emplace_back(rest.substr(0, end));
        if (end >= rest.size()) return out;
        rest.remove_prefix(end + (rest[end] == ' ' || rest[end] == '\n' ? 1 : 0));
    }
}

double Canvas::longest_word(const std::string& words, const Lettering& l) {
    double most = 0;
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        most = std::max(most, width_of(std::string_view(words).substr(at, end - at), l));
        at = end + 1;
    }
    return most;
}

void Canvas::push(At origin, bool upright) {
    impl_->put(
        fmt::format(R"(<g transform="translate({:.4f} {:.4f}){}">)", origin.x, origin.y, upright ? " rotate(90)" : ""));
}

void Canvas::push_clip(At corner, Size size) {
    const int number = ++Impl::clips;
    impl_->put(fmt::format(
        R"svg(<clipPath id="clip{0}"><rect x="{1:.4f}" y="{2:.4f}" width="{3:.4f}" height="{4:.4f}"/></clipPath><g clip-path="url(#clip{0})">)svg",
        number, corner.x, corner.y, size.width, size.height));
}

void Canvas::pop() {
    impl_->put("</g>");
}

}  // namespace swashwright::sheet
