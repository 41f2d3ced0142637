#include <array>
#include <string>

#include "viewer/draw/solids/anchors.h"
#include "viewer/panels/base/widgets.h"
#include "viewer/panels/picture/picture_panels.h"
#include "viewer/panels/picture/picture_view.h"

namespace swashwright::panels {

namespace {

struct ViewWord {
    draw::View view;
    const char* id;
    const char* word;
    const char* tip;
};
constexpr std::array<ViewWord, 4> view_words{
    {{draw::View::corner, "view_corner", "Corner", "From behind on the left, a little above (1)"},
     {draw::View::front, "view_nose", "Nose", "From the nose (2); again: from the tail (6)"},
     {draw::View::side, "view_left", "Left", "From the left (3); again: from the right (7)"},
     {draw::View::top, "view_top", "Top", "From above, nose up (4); again: from below (8)"}}};

constexpr const char *fit_word = "Fit", *link_word = "Link";
constexpr float between = 2;

/// What the words by which one looks from elsewhere take of the line.
float width_of_views() {
    const float around = 2 * ImGui::GetStyle().FramePadding.x + between;
    float width = ImGui::CalcTextSize(fit_word).x + ImGui::CalcTextSize(link_word).x + 2 * around;
    for (const ViewWord& word : view_words) width += ImGui::CalcTextSize(word.word).x + around;
    return width - between;
}

void draw_views(Screen& screen, View& view, const Selection& selection) {
    if (word_button(screen, "fit", fit_word, "Fit the head into the picture (F)")) view.fit = Fit::moving;
    for (const ViewWord& word : view_words) {
        ImGui::SameLine(0, between);
        if (word_button(screen, word.id, word.word, word.tip)) view.view_wanted = word.view;
    }
    const bool link = link_chosen(selection);
    const char* words = link ? "Along the chosen link, and then from its other end (5)"
                             : "Along a link: click one in the picture or the table first (5)";
    ImGui::SameLine(0, between);
    if (word_button(screen, "view_link", link_word, words, link)) view.view_wanted = draw::View::along;
}

}  // namespace

void draw_caption(Screen& screen, const Bench& bench, View& view, const Selection& selection, const Rect& place) {
    const Inks ink = screen.inks();
    const scene::Scene& scene = bench.document().scene();
    begin_panel("caption", place);
    rule(screen, {place.x, place.y}, {place.right(), place.y});
    const ImVec2 padding = ImGui::GetStyle().FramePadding;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0.7F * padding.x, padding.y));
    const float margin = 16 * screen.scale(), gap = ImGui::CalcTextSize("    ").x;
    const float views = place.right() - margin / 2 - width_of_views();
    place_at(views, place.y + (place.height - ImGui::GetFrameHeight()) / 2 + 1);
    draw_views(screen, view, selection);
    ImGui::PopStyleVar();

    const float top = place.y + (place.height - ImGui::GetTextLineHeight()) / 2;
    float left = place.x + margin;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const auto fits = [&](const std::string& words) {
        return left + ImGui::CalcTextSize(words.c_str()).x <= views - gap / 2;
    };
    const auto write = [&](ImU32 colour, const std::string& words) {
        const float width = ImGui::CalcTextSize(words.c_str()).x;
        if (!fits(words)) return;
        text_at(list, {left, top}, colour, words);
        left += width + gap;
    };
    // The first clause of the note, where demos say that they are invented, stays where there is no room for both, and
    // of that clause the one word.
    std::string note = scene.note.substr(0, scene.note.find_first_of(";:.")), title = draw::title_of(scene.head);
    if (!fits(note) && note.find("nvented") != std::string::npos) note = "Invented";
    const bool both = left + ImGui::CalcTextSize((title + note).c_str()).x + gap <= views - gap / 2;
    if (both || note.empty()) write(ink.ink, title);
    write(ink.soft, note);
    write(ink.soft, screen.settings.inches ? "inches between ball centres" : "mm between ball centres");
    ImGui::End();
}

}  // namespace swashwright::panels
