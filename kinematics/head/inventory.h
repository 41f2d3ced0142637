// What a description has, by its parts: which links there are, what they join, how many of each part. It needs no head,
// so it tells of descriptions that cannot be one too; of a head that is built, `Model` tells more.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "kinematics/head/description.h"
#include "kinematics/head/part.h"

namespace swashwright::head {

/// How many parts of a role there are; 1 of those that have no number.
std::size_t count_of(const Description& description, Role role);

/// Every link: lower ones, upper ones, any other.
std::vector<PartName> links_of(const Description& description);
/// Those of one kind, `is_link(kind)`.
const std::vector<Link>& links_of(const Description& description, Role kind);
std::vector<Link>& links_of(Description& description, Role kind);
/// Null if the part is no link or there is none of that number.
const Link* link_of(const Description& description, const PartName& part);
Link* link_of(Description& description, const PartName& part);
/// The balls that a link joins, lower end first; none if there is no such link, or if nothing says what it joins.
std::optional<std::array<BallName, 2>> ends_of(const Description& description, const PartName& link);

/// "upper link" of all of a kind, and what one of them is called: its name, else "upper link 2".
const char* link_kind_words(Role kind);
std::string link_words(const Description& description, const PartName& link);

/// The part that a carrier is; whether there is one is not asked.
PartName part_of(const Carrier& carrier);
/// The part that carries a ball; none if there is no such ball.
std::optional<PartName> part_of(const Description& description, const BallName& ball);

}  // namespace swashwright::head
