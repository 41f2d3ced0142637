#include "viewer/panels/base/theme.h"

#include <algorithm>
#include <glm/glm.hpp>

#include "viewer/draw/base/font.h"
#include "viewer/draw/base/palette.h"

namespace swashwright::panels {

namespace {

// ImGui sizes a font by line height; B612's is 1.19 em.
constexpr float body_px = 19, heading_px = 23;

ImVec4 colour(ImU32 packed, float alpha = 1) {
    ImVec4 c = ImGui::ColorConvertU32ToFloat4(packed);
    c.w *= alpha;
    return c;
}

}  // namespace

Inks inks(bool night) {
    const draw::Sheet& sheet = draw::sheet(night);
    const auto toward_ink = [&](float share) { return draw::packed(glm::mix(sheet.paper, sheet.ink, share)); };
    const glm::vec3 lighter = glm::mix(sheet.paper, glm::vec3(1), night ? 0.04F : 0.45F);
    return {.paper = draw::packed(sheet.paper),
            .panel = draw::packed(lighter),
            .field = toward_ink(night ? 0.10F : 0.055F),
            .ink = draw::packed(sheet.ink),
            .soft = toward_ink(0.72F),
            .rule = toward_ink(0.22F),
            .accent = draw::packed(sheet.accent),
            .trouble = draw::packed(sheet.trouble),
            .on_accent = draw::packed(night ? sheet.paper : glm::vec3(1))};
}

ImU32 blade_colour(int index, bool night, bool as_line) {
    return draw::packed(draw::blade_hue(index, night, as_line));
}

Fonts load_fonts(ImFontAtlas& atlas, float scale, float large_px) {
    atlas.Clear();
    atlas.TexDesiredWidth =
        scale < 1.5F && large_px == 0 ? 2048 : 4096;  // so that height stays within what every OpenGL has
    Fonts fonts;
    fonts.body = draw::add_font(atlas, body_px * scale);
    fonts.heading = draw::add_font(atlas, heading_px * scale);
    if (large_px > 0) fonts.large = draw::add_large_font(atlas, large_px);
    return fonts;
}

void apply_style(bool night, float scale) {
    ImGuiStyle style;
    style.WindowPadding = ImVec2(12, 8);
    style.WindowRounding = style.ChildRounding = style.FrameRounding = style.PopupRounding = style.ScrollbarRounding =
        style.GrabRounding = 0;
    style.WindowBorderSize = 0;
    style.ChildBorderSize = 0;
    style.FrameBorderSize = 1;
    style.PopupBorderSize = 1;
    style.FramePadding = ImVec2(8, 4);
    style.ItemSpacing = ImVec2(8, 6);
    style.CellPadding = ImVec2(7, 1);
    style.ScrollbarSize = 12;
    style.AntiAliasedLines = true;
    style.AntiAliasedLinesUseTex = true;
    style.ScaleAllSizes(scale);

    const Inks ink = inks(night);
    for (ImVec4& c : style.Colors) c = colour(ink.ink);
    const auto set = [&](ImGuiCol item, ImU32 packed, float alpha = 1) { style.Colors[item] = colour(packed, alpha); };
    set(ImGuiCol_TextDisabled, ink.soft);
    for (ImGuiCol item : {ImGuiCol_WindowBg, ImGuiCol_PopupBg}) set(item, ink.panel);
    for (ImGuiCol item : {ImGuiCol_ChildBg, ImGuiCol_BorderShadow, ImGuiCol_TableRowBg, ImGuiCol_TableRowBgAlt,
                          ImGuiCol_Button, ImGuiCol_ScrollbarBg, ImGuiCol_Header, ImGuiCol_ResizeGrip})
        set(item, ink.panel, 0);
    for (ImGuiCol item : {ImGuiCol_Border, ImGuiCol_Separator, ImGuiCol_TableBorderLight, ImGuiCol_TableBorderStrong,
                          ImGuiCol_ScrollbarGrab})
        set(item, ink.rule);
    for (ImGuiCol item : {ImGuiCol_FrameBg, ImGuiCol_ButtonHovered, ImGuiCol_HeaderHovered, ImGuiCol_TableHeaderBg})
        set(item, ink.field);
    for (ImGuiCol item : {ImGuiCol_FrameBgHovered, ImGuiCol_FrameBgActive, ImGuiCol_HeaderActive}) set(item, ink.field);
    for (ImGuiCol item : {ImGuiCol_ButtonActive, ImGuiCol_NavHighlight, ImGuiCol_SliderGrabActive, ImGuiCol_CheckMark,
                          ImGuiCol_ScrollbarGrabHovered, ImGuiCol_ScrollbarGrabActive})
        set(item, ink.accent);
    set(ImGuiCol_SliderGrab, ink.ink);
    set(ImGuiCol_TextSelectedBg, ink.accent, 0.3F);
    set(ImGuiCol_ModalWindowDimBg, night ? IM_COL32(0, 0, 0, 150) : IM_COL32(60, 54, 44, 110));
    ImGui::GetStyle() = style;
}

}  // namespace swashwright::panels
