// What is written about the program beside its own help leaves nothing out: pages, manual page, completion.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "tests/console/every_verb.h"

namespace swashwright {
namespace {

namespace fs = std::filesystem;
using testing::file_text;
using ::testing::IsSupersetOf;
using testing::options_told;
using ::testing::UnorderedElementsAreArray;
using testing::verbs_told;

const fs::path top = fs::path(SWASHWRIGHT_SCENES).parent_path();

/// Every match's first group.
std::vector<std::string> all_of(const std::string& text, const std::string& pattern) {
    const std::regex expression(pattern);
    std::vector<std::string> out;
    for (std::sregex_iterator match(text.begin(), text.end(), expression), end; match != end; ++match)
        out.push_back((*match)[1]);
    return out;
}

bool holds(const std::vector<std::string>& all, const std::string& one) {
    return std::ranges::find(all, one) != all.end();
}

std::vector<std::string> options_in(const std::string& text) {
    return all_of(text, "(--[a-z][a-z-]*)");
}

std::vector<std::string> names_of(const std::vector<testing::OptionTold>& options) {
    std::vector<std::string> out;
    for (const auto& option : options) out.push_back(option.name);
    return out;
}

TEST(Documents, tell_every_verb_and_option) {
    const std::string page = file_text(top / "viewer/console/README.md");
    const std::vector<std::string> verbs = verbs_told();
    ASSERT_FALSE(verbs.empty());
    EXPECT_THAT(all_of(page, "swashwright ([a-z]+) "), IsSupersetOf(verbs));
    for (const std::string& verb : verbs)
        EXPECT_THAT(options_in(page), IsSupersetOf(names_of(options_told(verb)))) << verb;
}

// Keys of all that lies in scenes/, but of lessons, and of a linkage of each kind.
TEST(Documents, tell_every_key_of_a_scene_and_of_readings) {
    const std::string page = std::regex_replace(file_text(top / "scenes/README.md"), std::regex("```[^`]*```"), "");
    std::vector<std::string> told;
    for (const std::string& code : all_of(page, "`([^`]+)`"))
        std::ranges::copy(all_of(code, "([a-z_]+)"), std::back_inserter(told));
    std::size_t files = 0;
    for (const char* folder : {"scenes", "scenes/binding", "scenes/readings", "tests/data/linkages"})
        for (const auto& entry : fs::directory_iterator(top / folder)) {
            if (entry.path().extension() != ".toml") continue;
            ++files;
            const std::string text = std::regex_replace(file_text(entry.path()), std::regex("\"[^\"]*\"|#.*"), "");
            for (const std::string& key : all_of(text, "([a-z_]+) = "))
                EXPECT_TRUE(holds(told, key)) << entry.path() << ": " << key;
            for (const std::string& table : all_of(text, "\\[\\[?([a-z_]+)\\]"))
                EXPECT_TRUE(holds(told, table)) << entry.path() << ": " << table;
        }
    EXPECT_GE(files, 15u);
}

TEST(Documents, begin_with_a_short_page) {
    const std::string page = file_text(top / "README.md");
    EXPECT_LE(std::ranges::count(page, '\n'), 180);
}

/// Headings as links name them: small letters, no signs, "-" for a space.
std::set<std::string> anchors_of(const std::string& page) {
    std::set<std::string> out;
    for (const std::string& heading : all_of(page, "(?:^|\n)#+ ([^\n]+)")) {
        std::string anchor;
        for (const char c : heading)
            if (c == ' ')
                anchor += '-';
            else if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_')
                anchor += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        out.insert(anchor);
    }
    return out;
}

TEST(Documents, lead_to_what_is_there) {
    std::size_t links = 0;
    for (const char* name : {"README.md", "DEVELOPERS.md", "viewer/console/README.md", "scenes/README.md",
                             "tests/README.md", "viewer/browser/README.md"}) {
        const fs::path file = top / name;
        const std::string page = file_text(file);
        std::vector<std::string> targets = all_of(page, "\\]\\(([^) ]+)\\)");
        std::ranges::copy(all_of(page, "src=\"([^\"]+)\""), std::back_inserter(targets));
        for (const std::string& target : targets) {
            ++links;
            const std::size_t hash = std::min(target.find('#'), target.size());
            const fs::path there = hash == 0 ? file : file.parent_path() / target.substr(0, hash);
            EXPECT_TRUE(fs::exists(there)) << name << ": " << target;
            if (hash == target.size()) continue;
            EXPECT_TRUE(anchors_of(file_text(there)).contains(target.substr(hash + 1))) << name << ": " << target;
        }
    }
    EXPECT_GE(links, 20u);
}

/// What the manual page says of a verb, or in a section, "\-" read as "-".
std::string manual_part(const std::string& from, const std::string& to) {
    static const std::string page =
        std::regex_replace(file_text(top / "viewer/desktop/swashwright.1"), std::regex("\\\\-"), "-");
    const std::size_t begin = page.find("\n" + from + "\n");
    if (begin == std::string::npos) return {};
    const std::smatch::difference_type first = static_cast<std::smatch::difference_type>(begin + from.size() + 1);
    std::smatch end;
    std::regex_search(page.begin() + first, page.end(), end, std::regex(to));
    return {page.begin() + first, end.empty() ? page.end() : end[0].first};
}

TEST(ManualPage, tells_every_verb_and_option_of_the_help) {
    // Options that several verbs take are told once, in a section of their own.
    const std::vector<std::string> common = options_in(manual_part(".SH OPTIONS", "\n\\.SH "));
    EXPECT_THAT(common, IsSupersetOf(names_of(options_told(""))));
    for (const std::string& verb : verbs_told()) {
        const std::string part = manual_part(".B " + verb, "\n\\.B [a-z]+\n|\n\\.SH ");
        ASSERT_FALSE(part.empty()) << verb;
        const std::vector<std::string> own = options_in(part), known = names_of(options_told(verb));
        for (const std::string& option : known)
            EXPECT_TRUE(std::ranges::find(own, option) != own.end() ||
                        std::ranges::find(common, option) != common.end())
                << verb << ": the manual page lacks " << option;
        for (const std::string& option : own)
            EXPECT_TRUE(holds(known, option))
                << verb << ": the manual page tells of " << option << ", which it does not take";
    }
}

/// What the shell offers for the last of `words`, which stand behind the program's name.
std::vector<std::string> completed(const std::string& words) {
    const auto outcome =
        testing::run_shell("bash -c '. \"$1\"; COMP_WORDS=(\"$2\" " + words +
                           "); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _swashwright; "
                           "printf \"%s\\n\" \"${COMPREPLY[@]}\"' _ '" +
                           (top / "viewer/desktop/swashwright.bash").string() + "' '" SWASHWRIGHT_PROGRAM "'");
    std::istringstream lines(outcome.out);
    std::vector<std::string> out;
    for (std::string line; std::getline(lines, line);) out.push_back(line);
    return out;
}

TEST(Completion, offers_every_verb_and_option_of_the_help) {
    EXPECT_THAT(completed("\"\""), IsSupersetOf(verbs_told()));
    for (const std::string& verb : verbs_told()) {
        std::vector<std::string> options = names_of(options_told(verb));
        options.push_back("--help");
        EXPECT_THAT(completed(verb + " --"), UnorderedElementsAreArray(options)) << verb;
    }
}

}  // namespace
}  // namespace swashwright
