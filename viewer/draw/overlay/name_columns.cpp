#include "viewer/draw/overlay/name_columns.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

namespace swashwright::draw {
namespace {

enum class Column { left, right };

constexpr float grid = 4;  // pixels between places that are tried
constexpr double never = std::numeric_limits<double>::infinity();
// A name rather moves away by so many pixels than cover what is busy, or where a leader ends.
constexpr double off_busy = 150, off_tip = 250;

double side_of(const glm::vec2& a, const glm::vec2& b, const glm::vec2& p) {
    return static_cast<double>(b.x - a.x) * (p.y - a.y) - static_cast<double>(b.y - a.y) * (p.x - a.x);
}

class Columns {
public:
    Columns(std::span<const NameWanted> wanted, const NameSheet& sheet)
        : wanted_(wanted), sheet_(sheet), taken_(sheet.taken.begin(), sheet.taken.end()) {}

    std::vector<NamePlaced> place() {
        auto [left, right] = sides();
        // What is too much for one column goes to the other, and is left out where that is full too.
        std::vector<std::size_t> moved;
        auto heights = fitted(Column::left, left, &moved);
        keep(Column::left, left, heights);
        right.insert(right.end(), moved.begin(), moved.end());
        heights = fitted(Column::right, right, nullptr);
        keep(Column::right, right, heights);
        return placed_;
    }

private:
    /// Half of the names to either side, so that leaders of different columns never cross.
    std::array<std::vector<std::size_t>, 2> sides() const {
        std::vector<std::size_t> order(wanted_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::ranges::stable_sort(order, {}, [&](std::size_t i) { return wanted_[i].tip.x; });
        const auto middle = order.begin() + static_cast<std::ptrdiff_t>(order.size() / 2);
        return {std::vector(order.begin(), middle), std::vector(middle, order.end())};
    }

    /// Names are flush with a line at the inner edge of their column, where the leaders begin.
    NameBox box_at(Column column, std::size_t which, float inner, float y) const {
        const float width = wanted_[which].width;
        const float x = column == Column::left ? inner - width : inner;
        return {{x, y}, {x + width, y + sheet_.height}};
    }

    float inner_edge(Column column, const std::vector<std::size_t>& names) const {
        float widest = 0;
        for (const std::size_t i : names) widest = std::max(widest, wanted_[i].width);
        return column == Column::left ? sheet_.picture.low.x + sheet_.gap + widest
                                      : sheet_.picture.high.x - sheet_.gap - widest;
    }

    bool may_stand(const NameBox& box) const {
        return box.low.x >= sheet_.picture.low.x && box.high.x <= sheet_.picture.high.x &&
               std::ranges::none_of(taken_, [&](const NameBox& other) { return overlap(box, other); });
    }

    double cost(std::size_t which, const NameBox& box) const {
        if (!may_stand(box)) return never;
        const double off = (box.low.y + box.high.y) / 2 - wanted_[which].tip.y;
        double sum = off * off;
        for (const NameBox& other : sheet_.busy)
            if (overlap(box, other)) sum += off_busy * off_busy;
        for (const NameWanted& other : wanted_)
            if (overlap(box, {other.tip - sheet_.gap, other.tip + sheet_.gap})) sum += off_tip * off_tip;
        return sum;
    }

    /// The tops of names from the highest tip to the lowest, apart from each other and as near their tips as can be:
    /// the least sum of squares, by dynamic programming. Empty if there is no room.
    std::vector<float> heights_of(Column column, const std::vector<std::size_t>& names) const {
        const float top = sheet_.picture.low.y + sheet_.gap;
        const float room = sheet_.picture.high.y - sheet_.gap - sheet_.height - top;
        if (names.empty() || room < 0) return {};
        const auto places = static_cast<std::size_t>(room / grid) + 1;
        const auto apart = static_cast<std::size_t>(std::ceil((sheet_.height + sheet_.gap) / grid));
        const float inner = inner_edge(column, names);
        // least[i][j]: of the first i + 1 names, the last not below place j; at[i][j]: where that one then stands.
        std::vector least(names.size(), std::vector<double>(places, never));
        std::vector at(names.size(), std::vector<std::size_t>(places, 0));
        for (std::size_t i = 0; i < names.size(); ++i) {
            for (std::size_t j = 0; j < places; ++j) {
                const double before = i == 0 ? 0.0 : j < apart ? never : least[i - 1][j - apart];
                const double own =
                    before == never
                        ? never
                        : cost(names[i], box_at(column, names[i], inner, top + grid * static_cast<float>(j)));
                const double above = j == 0 ? never : least[i][j - 1];
                const bool here = before + own < above;
                least[i][j] = here ? before + own : above;
                at[i][j] = here || j == 0 ? j : at[i][j - 1];
            }
        }
        if (least.back().back() == never) return {};
        std::vector<float> heights(names.size());
        std::size_t limit = places - 1;
        for (std::size_t i = names.size(); i-- > 0;) {
            const std::size_t j = at[i][limit];
            heights[i] = top + grid * static_cast<float>(j);
            limit = j - std::min(j, apart);
        }
        return heights;
    }

    /// Takes names away, the last wanted first, until the others fit; they go into `rest`.
    std::vector<float> fitted(Column column, std::vector<std::size_t>& names, std::vector<std::size_t>* rest) const {
        std::ranges::stable_sort(names, {}, [&](std::size_t i) { return wanted_[i].tip.y; });
        for (;;) {
            std::vector<float> heights = heights_of(column, names);
            if (!heights.empty() || names.empty()) return heights;
            const auto last = std::ranges::max_element(names);
            if (rest) rest->push_back(*last);
            names.erase(last);
        }
    }

    static glm::vec2 leader_start(const NameBox& box, const glm::vec2& tip) {
        const float middle = (box.low.y + box.high.y) / 2;
        if (tip.x <= box.low.x || tip.x >= box.high.x) return {std::clamp(tip.x, box.low.x, box.high.x), middle};
        return {tip.x, std::clamp(tip.y, box.low.y, box.high.y)};
    }

    void keep(Column column, const std::vector<std::size_t>& names, const std::vector<float>& heights) {
        const float inner = inner_edge(column, names);
        const std::size_t first = placed_.size();
        for (std::size_t i = 0; i < heights.size(); ++i) {
            const NameBox box = box_at(column, names[i], inner, heights[i]);
            placed_.push_back({names[i], box, leader_start(box, wanted_[names[i]].tip)});
        }
        uncross(column, inner, first);
        for (std::size_t i = first; i < placed_.size(); ++i) taken_.push_back(placed_[i].box);
    }

    /// Names whose leaders cross change places, which shortens the two together.
    void uncross(Column column, float inner, std::size_t first) {
        constexpr int most_rounds = 20;
        bool again = true;
        for (int round = 0; again && round < most_rounds; ++round) {
            again = false;
            for (std::size_t i = first; i < placed_.size(); ++i)
                for (std::size_t j = first; j < i; ++j) again = change_places(column, inner, i, j) || again;
        }
    }

    bool change_places(Column column, float inner, std::size_t i, std::size_t j) {
        NamePlaced &one = placed_[i], &two = placed_[j];
        const glm::vec2 &tip = wanted_[one.which].tip, &other_tip = wanted_[two.which].tip;
        if (!cross(one.from, tip, two.from, other_tip)) return false;
        const NameBox box = box_at(column, one.which, inner, two.box.low.y);
        const NameBox other = box_at(column, two.which, inner, one.box.low.y);
        if (!may_stand(box) || !may_stand(other)) return false;
        const glm::vec2 from = leader_start(box, tip), other_from = leader_start(other, other_tip);
        if (cross(from, tip, other_from, other_tip)) return false;
        one.box = box, one.from = from;
        two.box = other, two.from = other_from;
        return true;
    }

    std::span<const NameWanted> wanted_;
    const NameSheet& sheet_;
    std::vector<NameBox> taken_;
    std::vector<NamePlaced> placed_;
};

}  // namespace

bool cross(const glm::vec2& a, const glm::vec2& b, const glm::vec2& c, const glm::vec2& d) {
    return side_of(a, b, c) * side_of(a, b, d) < 0 && side_of(c, d, a) * side_of(c, d, b) < 0;
}

std::vector<NamePlaced> place_names(std::span<const NameWanted> wanted, const NameSheet& sheet) {
    return Columns(wanted, sheet).place();
}

}  // namespace swashwright::draw
