#include "viewer/panels/bench/made.h"

#include <fmt/format.h>
#include <imgui.h>

#include <cmath>
#include <utility>

#include "kinematics/studies/answer/figures.h"
#include "kinematics/studies/pitch/compare.h"
#include "viewer/panels/base/lengths.h"
#include "viewer/panels/base/widgets.h"

namespace swashwright::panels {

namespace {

constexpr std::size_t most_told = 8;  // of a list that is to be read before going on

std::string words_of(const studies::NumberChange& change) {
    const char* unit = head::words_of(change.parameter.unit);
    const auto figure = [](double value) { return studies::figure(value, 2); };
    if (!change.before) return fmt::format("{} {} {}", change.parameter.label, figure(*change.after), unit);
    if (!change.after) return fmt::format("{} taken away", change.parameter.label);
    return fmt::format("{} from {} to {} {}", change.parameter.label, figure(*change.before), figure(*change.after),
                       unit);
}

/// Brought into sight once it is there: what was pressed may stand far below, and was scrolled to.
void bring_into_sight(std::uint64_t revision, float top) {
    constexpr int frames = 3;  // a scroll counts from the next one
    ImGuiStorage& storage = *ImGui::GetStateStorage();
    const ImGuiID of = ImGui::GetID("made, of"), frames_left = ImGui::GetID("made, frames left");
    const int stamp = static_cast<int>(revision & 0x7FFFFFFFU);
    if (storage.GetInt(of) != stamp) storage.SetInt(frames_left, frames);
    storage.SetInt(of, stamp);
    const int left = storage.GetInt(frames_left);
    if (left == 0) return;
    storage.SetInt(frames_left, left - 1);
    const float seen = ImGui::GetScrollY(), bottom = ImGui::GetItemRectMax().y - ImGui::GetWindowPos().y + seen;
    if (top < seen)
        ImGui::SetScrollY(top);
    else if (bottom > seen + ImGui::GetWindowHeight())
        ImGui::SetScrollY(bottom - ImGui::GetWindowHeight());
}

}  // namespace

std::string change_words(const head::Description& before, const head::Description& after, const std::string& other) {
    std::string out;
    std::size_t told = 0, small = 0;
    for (const studies::NumberChange& change : studies::number_changes(before, after)) {
        constexpr double shown_mm = 0.005;  // of a figure with two decimals
        if (change.before && change.after && std::abs(*change.after - *change.before) < shown_mm) {
            ++small;
            continue;
        }
        if (++told <= most_told) out += (out.empty() ? "" : "; ") + words_of(change);
    }
    if (told > most_told) out += fmt::format("; and {} more", told - most_told);
    if (small > 0 && told > 0) out += fmt::format("; {} by less than 0.01", small);
    return out.empty() ? other : out;
}

void draw_made(Screen& screen, const document::Document& document, const Made& made, const std::string& id,
               Wishes& wishes) {
    if (made.words.empty() || document.revision() != made.revision) return;
    ImGui::PushID(id.c_str());
    const float top = ImGui::GetCursorPosY();
    paragraph(screen.inks().ink, lengths_read("Done: " + made.words + ".", screen.settings.inches));
    screen.report.item(id + " made");
    if (word_button(screen, (id + " undo").c_str(), "Undo this", "All of it at once, as Ctrl+Z does"))
        wishes.push_back(Wish::undo);
    bring_into_sight(made.revision, top);
    ImGui::PopID();
}

}  // namespace swashwright::panels
