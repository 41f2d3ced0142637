// Who may include whom: the list of rooms in DEVELOPERS.md, from the ground up, against the #include lines of the
// sources.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;
const fs::path house = SWASHWRIGHT_HOUSE;

struct Room {
    std::string path;
    std::size_t floor = 0;  // rooms of one floor do not include each other
};

/// Between the fences after "From the ground up": a floor a line, its rooms with spaces between.
std::vector<Room> rooms_told() {
    std::ifstream file(house / "DEVELOPERS.md");
    std::vector<Room> out;
    std::string line;
    while (std::getline(file, line) && line.find("From the ground up") == std::string::npos) continue;
    while (std::getline(file, line) && line != "```") continue;
    for (std::size_t floor = 0; std::getline(file, line) && line != "```"; ++floor) {
        std::istringstream words(line);
        for (std::string word; words >> word;) out.push_back({word, floor});
    }
    return out;
}

bool is_source(const fs::path& path) {
    return path.extension() == ".h" || path.extension() == ".cpp";
}

/// Of each source file, by its path from the top, what it includes of the project.
std::map<std::string, std::set<std::string>> includes() {
    std::map<std::string, std::set<std::string>> out;
    for (const char* tree : {"kinematics", "viewer"})
        for (const auto& entry : fs::recursive_directory_iterator(house / tree)) {
            if (!is_source(entry.path())) continue;
            auto& found = out[fs::relative(entry.path(), house).generic_string()];
            std::ifstream file(entry.path());
            for (std::string line; std::getline(file, line);)
                if (line.starts_with("#include \"")) found.insert(line.substr(10, line.rfind('"') - 10));
        }
    return out;
}

std::string room_of(const std::string& file) {
    return file.substr(0, file.rfind('/'));
}

TEST(Rooms, EveryFileStandsInARoomThatIsToldAndEveryRoomHasFiles) {
    std::set<std::string> told, seen;
    for (const Room& room : rooms_told()) EXPECT_TRUE(told.insert(room.path).second) << room.path << " is told twice";
    for (const auto& [file, of] : includes()) seen.insert(room_of(file));
    seen.erase("viewer");  // main.cpp, above all
    EXPECT_EQ(told, seen);
    EXPECT_GT(told.size(), 20U);
}

TEST(Rooms, IncludeOnlyWhatLiesBelowThem) {
    std::map<std::string, std::size_t> floor;
    for (const Room& room : rooms_told()) floor[room.path] = room.floor;
    for (const auto& [file, of] : includes())
        for (const std::string& other : of) {
            const std::string from = room_of(file), to = room_of(other);
            if (from == to || from == "viewer") continue;
            EXPECT_TRUE(fs::exists(house / other)) << file << " includes " << other;
            EXPECT_LT(floor[to], floor[from]) << file << " includes " << other;
        }
}

/// Files that a file includes, and those include, and so on.
void follow(const std::string& file, const std::map<std::string, std::set<std::string>>& of,
            std::set<std::string>& seen) {
    const auto found = of.find(file);
    if (found == of.end()) return;
    for (const std::string& next : found->second)
        if (seen.insert(next).second) follow(next, of, seen);
}

TEST(Rooms, NoHeaderIncludesItselfByAnother) {
    const auto of = includes();
    for (const auto& [file, direct] : of) {
        std::set<std::string> seen;
        follow(file, of, seen);
        EXPECT_FALSE(seen.contains(file)) << file;
    }
}

TEST(Rooms, TheLibraryKnowsNoScreenAndStudiesNoFiles) {
    for (const auto& [file, direct] : includes()) {
        if (!file.starts_with("kinematics/")) continue;
        std::ifstream in(house / file);
        std::stringstream text;
        text << in.rdbuf();
        for (const char* word : {"imgui", "glfw", "epoxy", "GL/gl", "glm/", "viewer/", "iostream"})
            EXPECT_EQ(text.str().find(std::string("#include <") + word), std::string::npos) << file << ": " << word;
        for (const std::string& other : direct) {
            EXPECT_FALSE(other.starts_with("viewer/")) << file;
            const bool reads_files =
                other.starts_with("kinematics/scene/") || other.starts_with("kinematics/bench_files/");
            EXPECT_FALSE(file.starts_with("kinematics/studies/") && reads_files) << file << " includes " << other;
        }
    }
}

TEST(Rooms, TheConsoleAndTheWindowDoNotKnowEachOther) {
    for (const auto& [file, direct] : includes())
        for (const std::string& other : direct) {
            EXPECT_FALSE(file.starts_with("viewer/console/") && other.starts_with("viewer/panels/")) << file;
            EXPECT_FALSE(file.starts_with("viewer/panels/") && other.starts_with("viewer/console/")) << file;
        }
}

}  // namespace
