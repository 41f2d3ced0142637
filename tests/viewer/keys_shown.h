// Every key of a scene as text can be edited: in a row of the ledger or in a form.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "kinematics/scene/scene.h"
#include "viewer/panels/ledger/ledger_rows.h"
#include "viewer/panels/ledger/part_fields.h"

namespace swashwright::panels {

/// `shown`: keys of what a head is, and of lists whose numbers have names of their own. Gives how many keys were found.
inline int expect_every_key_shown(const scene::Scene& scene, const std::vector<Field>& fields,
                                  std::set<std::string> shown) {
    const auto add = [&](std::string key) {
        key.resize(std::min(key.size(), key.find(' ')));
        shown.insert(key.substr(key.rfind('.') == std::string::npos ? 0 : key.rfind('.') + 1));
    };
    for (const Section& section : ledger_sections(scene.head))
        for (const Row& row : section.rows)
            for (const Cell& cell : row.cells) add(cell.name);
    for (const Field& field : fields) add(field.key);
    const std::string text = scene::write(scene);
    const std::regex key("([a-z][a-z0-9_]*) = ");
    int found = 0;
    for (std::sregex_iterator it(text.begin(), text.end(), key), end; it != end; ++it, ++found)
        EXPECT_TRUE(shown.contains((*it)[1].str())) << (*it)[1].str() << " cannot be edited";
    return found;
}

}  // namespace swashwright::panels
