#include "viewer/document/document.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>

#include "viewer/document/atomic_file.h"
#include "viewer/document/settings.h"

namespace swashwright::document {
namespace {

namespace fs = std::filesystem;

/// A folder of its own for each test.
class InAFolder : public ::testing::Test {
protected:
    InAFolder() {
        std::string name = (fs::temp_directory_path() / "swashwright-test-XXXXXX").string();
        folder_ = ::mkdtemp(name.data());
    }
    ~InAFolder() override { fs::remove_all(folder_); }

    std::string at(const char* name) const { return (folder_ / name).string(); }
    std::size_t files() const { return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), {})); }
    static std::string content(const std::string& path) {
        std::ifstream file(path);
        return (std::stringstream() << file.rdbuf()).str();
    }

    fs::path folder_;
};

class OpenDocument : public InAFolder {
protected:
    document::Document opened() {
        auto document = document::Document::open(SWASHWRIGHT_SCENES "/two_blade_600.toml");
        EXPECT_TRUE(document);
        return *document;
    }
    static void set_error(document::Document& document, double error_mm, const std::string& label = "error") {
        scene::Scene next = document.scene();
        next.head.upper_links[1].error_mm = error_mm;
        document.edit(std::move(next), label);
    }
    static double error(const document::Document& document) { return document.head().upper_links[1].error_mm; }
};

using AtomicFile = InAFolder;
using SettingsFile = InAFolder;

TEST_F(AtomicFile, ReplacesTheOldFileAndLeavesNothingElse) {
    ASSERT_TRUE(write_atomically(at("a.toml"), "old"));
    ASSERT_TRUE(write_atomically(at("a.toml"), "new"));
    EXPECT_EQ(content(at("a.toml")), "new");
    EXPECT_EQ(files(), 1U);
}

TEST_F(AtomicFile, KeepsPermissionsAndFollowsALink) {
    ASSERT_TRUE(write_atomically(at("real.toml"), "old"));
    ASSERT_EQ(::chmod(at("real.toml").c_str(), 0640), 0);
    fs::create_symlink(at("real.toml"), at("link.toml"));
    ASSERT_TRUE(write_atomically(at("link.toml"), "new"));
    EXPECT_TRUE(fs::is_symlink(at("link.toml")));
    EXPECT_EQ(content(at("real.toml")), "new");
    EXPECT_EQ(fs::status(at("real.toml")).permissions(), fs::perms(0640));
}

TEST_F(AtomicFile, LeavesTheOldFileAloneWhenItFails) {
    fs::create_directory(at("taken"));  // a folder cannot be renamed over
    const auto result = write_atomically(at("taken"), "new");
    ASSERT_FALSE(result);
    EXPECT_THAT(result.error(), ::testing::HasSubstr("was not saved"));
    EXPECT_EQ(files(), 1U);
    EXPECT_THAT(write_atomically(at("no/such/folder.toml"), "new").error(),
                ::testing::HasSubstr("No such file or directory"));
}

TEST_F(AtomicFile, TellsOfAFullDiskAndLeavesTheDeviceADevice) {
    const auto result = write_atomically("/dev/full", "new");
    ASSERT_FALSE(result);
    EXPECT_THAT(result.error(), ::testing::HasSubstr("No space left on device"));
    EXPECT_TRUE(fs::is_character_file("/dev/full"));
    EXPECT_TRUE(write_atomically("/dev/null", "new"));
    EXPECT_TRUE(fs::is_character_file("/dev/null"));
}

// A process saves one text and the other in turn and is killed anywhere in it.
TEST_F(AtomicFile, IsTheOldOneOrTheNewOneAThousandTimesWhereverTheProgramIsKilled) {
    const std::string old_text(20000, 'o'), new_text(30000, 'n'), path = at("a.toml");
    ASSERT_TRUE(write_atomically(path, old_text));
    std::mt19937 random(11);
    int kept_old = 0;
    for (int kill = 0; kill < 1000; ++kill) {
        const pid_t child = ::fork();
        if (child == 0) {
            for (int i = kill;; ++i) (void)write_atomically(path, i % 2 ? new_text : old_text);
        }
        ::usleep(std::uniform_int_distribution<useconds_t>(0, 4000)(random));
        ::kill(child, SIGKILL);
        ::waitpid(child, nullptr, 0);
        const std::string found = content(path);
        ASSERT_TRUE(found == old_text || found == new_text) << "kill " << kill << ": " << found.size() << " bytes";
        kept_old += found == old_text;
    }
    EXPECT_GT(kept_old, 100);  // it was killed at both
    EXPECT_LT(kept_old, 900);
}

TEST_F(OpenDocument, TakesBackAndDoesAgain) {
    auto document = opened();
    EXPECT_FALSE(document.can_undo());
    set_error(document, 0.1);
    document.seal();
    set_error(document, 0.2);
    EXPECT_EQ(error(document), 0.2);
    document.undo();
    EXPECT_EQ(error(document), 0.1);
    document.undo();
    EXPECT_EQ(error(document), 0.0);
    EXPECT_FALSE(document.can_undo());
    document.undo();  // nothing left: nothing happens
    document.redo();
    document.redo();
    EXPECT_EQ(error(document), 0.2);
    EXPECT_FALSE(document.can_redo());
}

TEST_F(OpenDocument, TakesARunOfEditsForOneStep) {
    auto document = opened();
    for (const double mm : {0.01, 0.02, 0.03}) set_error(document, mm);
    set_error(document, 0.5, "another number");
    document.undo();
    EXPECT_EQ(error(document), 0.03);
    document.undo();
    EXPECT_EQ(error(document), 0.0);
}

TEST_F(OpenDocument, ForgetsWhatWasTakenBackOnceSomethingElseIsDone) {
    auto document = opened();
    set_error(document, 0.1);
    document.undo();
    set_error(document, 0.7);
    EXPECT_FALSE(document.can_redo());
    EXPECT_EQ(error(document), 0.7);
}

TEST_F(OpenDocument, HasANewRevisionAfterEveryChange) {
    auto document = opened();
    std::vector<std::uint64_t> seen{document.revision()};
    const auto note = [&] {
        EXPECT_THAT(seen, ::testing::Not(::testing::Contains(document.revision())));
        seen.push_back(document.revision());
    };
    set_error(document, 0.1), note();
    set_error(document, 0.2), note();
    document.undo(), note();
    document.redo(), note();
    // Nor has another document had one of them, so that nothing worked out for one passes for the other's.
    auto other = opened();
    seen.insert(seen.begin(), other.revision());
    EXPECT_EQ(std::ranges::count(seen, other.revision()), 1);
    set_error(document, 0.3), note();
    set_error(other, 0.3);
    EXPECT_THAT(seen, ::testing::Not(::testing::Contains(other.revision())));
}

TEST_F(OpenDocument, KnowsWhatIsSaved) {
    auto document = opened();
    EXPECT_FALSE(document.unsaved());
    set_error(document, 0.1);
    EXPECT_TRUE(document.unsaved());
    document.undo();
    EXPECT_FALSE(document.unsaved());
    document.redo();
    ASSERT_TRUE(document.save(at("mine.toml")));
    EXPECT_TRUE(content(at("mine.toml")).starts_with("# Lengths in mm")) << "the comments go along";
    EXPECT_FALSE(document.unsaved());
    EXPECT_EQ(document.path(), at("mine.toml"));
    document.undo();
    EXPECT_TRUE(document.unsaved());
}

TEST_F(OpenDocument, SavesWhatItOpensAgain) {
    auto document = opened();
    set_error(document, 0.123456789012345);
    ASSERT_TRUE(document.save(at("mine.toml")));
    const auto again = document::Document::open(at("mine.toml"));
    ASSERT_TRUE(again);
    EXPECT_EQ(error(*again), 0.123456789012345);
    EXPECT_EQ(again->head().name, document.head().name);
}

TEST_F(OpenDocument, OpensAHeadThatDoesNotClose) {
    auto document = opened();
    scene::Scene next = document.scene();
    next.head.upper_links[1].length_mm = 30;
    document.edit(next, "too short");
    ASSERT_TRUE(document.save(at("short.toml")));
    EXPECT_TRUE(document::Document::open(at("short.toml")));
}

TEST_F(SettingsFile, RemembersAndForgivesABrokenFile) {
    const std::string path = at("deep/er/window.json");
    Settings settings;
    settings.safety_read = settings.night = true;
    settings.text_scale = 1.5;
    settings.camera_moves = false;
    settings.lessons_done = {"One"};
    settings.heads["/a.toml"] = {
        {"Level ring", "Read it.", 7, "2026-11-30", {{"height 1, round 1", 27.2}}}, {}, {{"Spindle", "2026-09-01"}}};
    note_recent(settings, "/a.toml");
    note_recent(settings, "/b.toml");
    note_recent(settings, "/a.toml");
    ASSERT_TRUE(save_settings(path, settings));
    const Settings back = load_settings(path);
    EXPECT_TRUE(back.safety_read);
    EXPECT_TRUE(back.night);
    EXPECT_EQ(back.text_scale, 1.5);
    EXPECT_FALSE(back.camera_moves);
    EXPECT_THAT(back.lessons_done, ::testing::ElementsAre("One"));
    EXPECT_EQ(back.heads, settings.heads);
    EXPECT_THAT(back.recent, ::testing::ElementsAre("/a.toml", "/b.toml"));
    ASSERT_TRUE(write_atomically(path, "{ \"night\": 3, \"text_scale\": 40, "));
    EXPECT_FALSE(load_settings(path).safety_read);
    ASSERT_TRUE(write_atomically(path, "{ \"night\": 3, \"text_scale\": 40 }"));
    EXPECT_FALSE(load_settings(path).night);
    EXPECT_EQ(load_settings(path).text_scale, 2.0);
}

/// Another window of the program, or the next start of it.
struct Window {
    explicit Window(std::string path) : path(std::move(path)), settings(load_settings(this->path)), before(settings) {}
    bool remember() { return remember_settings(path, settings, before).has_value(); }

    std::string path;
    Settings settings, before;
};

TEST_F(SettingsFile, OfTwoWindowsNeitherForgetsWhatTheOtherRemembers) {
    const std::string path = at("two/window.json");
    Window a(path), b(path);
    for (const double height : {27.2, 27.4}) {
        a.settings.heads["/a.toml"].set_up = {"Level ring", "Read it.", 7, "2026-11-30", {{"height", height}}};
        a.settings.heads["/a.toml"].looked_at["Spindle"] = "2026-11-30";
        a.settings.lessons_done.insert("One");
        ASSERT_TRUE(a.remember());
        b.settings.inches = !b.settings.inches;
        b.settings.heads["/b.toml"].set_up.stage = "Ends";
        ASSERT_TRUE(b.remember());
        const Settings now = load_settings(path);
        EXPECT_EQ(now.inches, b.settings.inches);
        EXPECT_EQ(now.heads.at("/a.toml"), a.settings.heads.at("/a.toml"));
        EXPECT_EQ(now.heads.at("/b.toml"), b.settings.heads.at("/b.toml"));
        EXPECT_TRUE(now.lessons_done.contains("One"));
        EXPECT_EQ(b.settings.heads.at("/a.toml").set_up.read.at("height"), height);
        a.settings.night = !a.settings.night;  // does not bring its old inches back
        ASSERT_TRUE(a.remember());
        EXPECT_EQ(load_settings(path).inches, b.settings.inches);
    }
    a.settings.heads["/a.toml"].looked_at.clear();  // another crash
    ASSERT_TRUE(a.remember());
    ASSERT_TRUE(b.remember());
    EXPECT_TRUE(load_settings(path).heads.at("/a.toml").looked_at.empty());
}

TEST_F(SettingsFile, KeepsTheHeadsThatStoodAtTheBenchLast) {
    Settings settings;
    for (int i = 0; i < 250; ++i)
        settings.heads["/" + std::to_string(i)].set_up = {"Ends", "", 1, "20" + std::to_string(10 + i / 10), {}};
    ASSERT_TRUE(save_settings(at("many.json"), settings));
    const Settings back = load_settings(at("many.json"));
    EXPECT_EQ(back.heads.size(), 200U);
    EXPECT_TRUE(back.heads.contains("/249"));
    EXPECT_FALSE(back.heads.contains("/0"));
}

// XDG Base Directory Specification 0.8: "$XDG_STATE_HOME ... If ... not set or empty, a default equal to
// $HOME/.local/state should be used"; paths "must be absolute", others are to be ignored.
TEST_F(SettingsFile, StandWhereTheStandardPutsThem) {
    ::setenv("HOME", "/home/someone", 1);
    ::unsetenv("XDG_STATE_HOME");
    EXPECT_EQ(settings_path(), "/home/someone/.local/state/swashwright/window.json");
    ::setenv("XDG_STATE_HOME", "relative", 1);
    EXPECT_EQ(settings_path(), "/home/someone/.local/state/swashwright/window.json");
    ::setenv("XDG_STATE_HOME", "/var/state", 1);
    EXPECT_EQ(settings_path(), "/var/state/swashwright/window.json");
    ::unsetenv("XDG_STATE_HOME");
}

}  // namespace
}  // namespace swashwright::document
