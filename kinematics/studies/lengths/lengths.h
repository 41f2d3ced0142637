// How long must the links be, where must the horns stand? Wishes in, settings out: exact, and as they can be set by
// hand.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "kinematics/studies/answer/answer.h"
#include "kinematics/studies/answer/going.h"
#include "kinematics/studies/lengths/link_wishes.h"

namespace swashwright::studies {

/// A number that may be changed, and how far.
struct FreeNumber {
    head::Number number;
    double least = 0, most = 0;  // mm or deg
};

/// With the bounds that leave room for a builder: 10 mm either way for a link, 30 deg for a horn's neutral, the
/// horn's holes for its length, 5 mm or 10 deg for all else. Our own choice.
FreeNumber free_number(const head::Description& description, const head::Number& number);
/// All lower and upper links.
std::vector<FreeNumber> free_links(const head::Description& description);
/// The horns' neutral angles.
std::vector<FreeNumber> free_neutrals(const head::Description& description);
/// The horns' lengths, of those servos whose horns have holes to choose from.
std::vector<FreeNumber> free_horns(const head::Description& description);

struct LengthsRequest {
    Wishes wishes;
    std::vector<FreeNumber> free;
    bool trim_the_rest = true;  // what a spline tooth leaves of a neutral angle is trimmed; else teeth alone set it
};

/// How one wish comes out. Distances are the largest of any blade or horn, all round the turn.
struct WishOutcome {
    WishKind kind = WishKind::pitch;
    std::string words;    // "zero pitch at mid stick"
    std::string unit;     // of the distances
    double exact = 0;     // left by the exact settings
    double set = 0;       // left by what can be set
    double set_each = 0;  // left by rounding one by one
    std::string worst;    // where the exact settings leave most: "blade 2, rotor at 300 deg"
    bool met() const { return exact < 1e-6; }
};

/// One free number's way from present to set.
struct Setting {
    FreeNumber free;
    double present = 0, exact = 0, set = 0, set_each = 0;  // mm or deg; a link's with its error
    bool at_bound = false;
    bool stepped = false;  // can be set in steps only
};

/// Where a link's length shows at the bench, mm.
struct LinkForms {
    double centre = 0;    // ball centre to ball centre
    double gap = 0;       // between the bosses
    double span = 0;      // over the bosses
    double bare_rod = 0;  // between the shanks of the two ends
};
LinkForms link_forms(const head::Link& link, double centre_mm);

/// How a horn gets to its neutral angle from the present one.
struct HornMove {
    int teeth = 0;        // of the spline, in the horn angle's own sense
    double trim_deg = 0;  // the rest
};
HornMove horn_move(const head::Servo& servo, double change_deg);

/// The same with a horn of several arms, alike and evenly spaced, any of which may carry the link.
struct Centring {
    double step_deg = 0;  // finest that arms and teeth give together: 360 over their least common multiple
    int arm = 0;          // to take, counted on anticlockwise from the present one
    int teeth = 0;        // by which the horn is turned then
    double left_deg = 0;  // from there to the angle asked for
};
Centring centring(const head::Servo& servo, int arms, double change_deg);

struct Lengths {
    double wanted_deg = 0;  // pitch at mid stick; of a tail as drawn, if none was asked for
    std::vector<WishOutcome> wishes;
    std::vector<Setting> settings;
    head::Description present, exact, set;             // the head before and after
    double left = 0, left_set = 0, left_set_each = 0;  // root of the weighted sum of squares, deg of pitch or its like
    bool uneven_ends = false;                          // were asked for, of a main rotor's collective
    bool carried_over = false;  // the head did not close as it was: links were first brought to where they reach
};

/// How much worse settings may be than the best and still count as equally good, over what the least step of any link
/// does: of such the one with the fewest links turned is taken, then the least turns. Our own choice.
inline constexpr double equally_good = 0.05;

/// Of all exact solutions one is taken that changes few numbers and those little, first links with an `error_mm`. A
/// tail is wished the pitch that it is drawn with (link errors aside, mean of blades and turn) where no pitch is given.
/// Fails with a sentence if nothing is wished or free, or if the head cannot be brought to close.
tl::expected<Lengths, std::string> link_lengths(const head::Description& description, const LengthsRequest& asked,
                                                const Going& going = {});

Answer answer(const Lengths& lengths);

}  // namespace swashwright::studies
