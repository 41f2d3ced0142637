#include "viewer/document/recovery.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>

#include "viewer/document/atomic_file.h"
#include "viewer/panels/base/file_list.h"

namespace swashwright::document {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

class LeftBehind : public ::testing::Test {
protected:
    LeftBehind() {
        std::string name = (fs::temp_directory_path() / "swashwright-test-XXXXXX").string();
        folder_ = ::mkdtemp(name.data());
        fs::copy_file(SWASHWRIGHT_SCENES "/two_blade_600.toml", scene());
    }
    ~LeftBehind() override { fs::remove_all(folder_); }

    std::string scene() const { return (folder_ / "head.toml").string(); }
    std::string kept() const { return (folder_ / "unsaved").string(); }
    document::Document opened() const { return std::move(*document::Document::open(scene())); }
    static void set_error(document::Document& document, double error_mm) {
        scene::Scene next = document.scene();
        next.head.upper_links[1].error_mm = error_mm;
        document.edit(std::move(next), "error");
        document.seal();
    }
    /// A process of its own makes upper link 2 longer and dies without a word.
    void leave(double error_mm) const {
        const pid_t child = ::fork();
        if (child == 0) {
            Recovery recovery(kept());
            document::Document document = opened();
            set_error(document, error_mm);
            (void)recovery.keep(document, 10);
            ::kill(::getpid(), SIGKILL);
        }
        ::waitpid(child, nullptr, 0);
    }

    fs::path folder_;
};

TEST_F(LeftBehind, ReadingsAreKeptBesideTheSceneOrAlone) {
    for (const bool changed : {false, true}) {
        const pid_t child = ::fork();
        if (child == 0) {
            Recovery recovery(kept());
            document::Document document = opened();
            if (changed) set_error(document, 0.3);
            KeptReadings readings{1, true, "", [] { return std::string("first"); }};
            (void)recovery.keep(document, 10, readings);
            readings = {2, true, "", [] { return std::string("second"); }};
            (void)recovery.keep(document, 12, readings, {1, true, "g.toml", [] { return std::string("gauge"); }});
            ::kill(::getpid(), SIGKILL);
        }
        ::waitpid(child, nullptr, 0);
        const auto left = left_work(kept());
        ASSERT_EQ(left.size(), 1U);
        EXPECT_EQ(left[0].readings, "second");
        EXPECT_EQ(left[0].gauge, "gauge");
        EXPECT_THAT(left[0].gauge_path, ::testing::EndsWith("/g.toml"));
        EXPECT_EQ(left[0].has_scene(), changed);
        remove_left_work(left[0]);
    }
}

TEST_F(LeftBehind, NothingIsKeptOfReadingsThatAreSaved) {
    Recovery recovery(kept());
    const document::Document document = opened();
    const auto files = [&] { return std::distance(fs::directory_iterator(kept()), fs::directory_iterator()); };
    const auto text = [] { return std::string("readings"); };
    EXPECT_TRUE(recovery.keep(document, 10, {1, true, "", text}));
    EXPECT_EQ(files(), 2);  // the work and its lock
    EXPECT_TRUE(recovery.keep(document, 12, {1, false, "", text}));
    EXPECT_EQ(files(), 1);
}

TEST_F(LeftBehind, IsFoundAndTakenUpAsOneChangeThatIsNotSaved) {
    leave(0.3);
    const auto left = left_work(kept());
    ASSERT_EQ(left.size(), 1U);
    EXPECT_EQ(left[0].path, scene());
    auto document = take_up(left[0]);
    ASSERT_TRUE(document);
    EXPECT_TRUE(document->unsaved());
    EXPECT_EQ(document->head().upper_links[1].error_mm, 0.3);
    document->undo();
    EXPECT_EQ(document->head().upper_links[1].error_mm, 0);
    EXPECT_FALSE(document->unsaved());
    remove_left_work(left[0]);
    EXPECT_TRUE(left_work(kept()).empty());
    EXPECT_TRUE(fs::is_empty(kept()));
}

TEST_F(LeftBehind, IsNothingWhileTheProgramRunsOrWhenItLeavesAsItShould) {
    {
        Recovery recovery(kept());
        document::Document document = opened();
        ASSERT_TRUE(recovery.keep(document, 10));
        EXPECT_EQ(std::distance(fs::directory_iterator(kept()), {}), 1);  // the lock alone: nothing is unsaved
        set_error(document, 0.3);
        ASSERT_TRUE(recovery.keep(document, 20));
        EXPECT_EQ(std::distance(fs::directory_iterator(kept()), {}), 2);
        EXPECT_TRUE(left_work(kept()).empty());
        set_error(document, 0.4);
        ASSERT_TRUE(recovery.keep(document, 20.5));
        EXPECT_TRUE(recovery.waiting());  // for its second
        ASSERT_TRUE(recovery.keep(document, 21.5));
        EXPECT_FALSE(recovery.waiting());
        ASSERT_TRUE(document.save(scene()));
        ASSERT_TRUE(recovery.keep(document, 22));
        EXPECT_EQ(std::distance(fs::directory_iterator(kept()), {}), 1);
        set_error(document, 0.5);
        ASSERT_TRUE(recovery.keep(document, 24));
    }
    EXPECT_TRUE(fs::is_empty(kept()));
}

// What is kept once says nothing about when the next second is over, whatever the clock said then.
TEST_F(LeftBehind, AClockThatWentBackKeepsNothingWaiting) {
    Recovery recovery(kept());
    document::Document document = opened();
    set_error(document, 0.3);
    ASSERT_TRUE(recovery.keep(document, 1e6));
    set_error(document, 0.4);
    ASSERT_TRUE(recovery.keep(document, 10));
    EXPECT_FALSE(recovery.waiting());
    std::ifstream file(kept() + "/0.json");
    EXPECT_THAT((std::stringstream() << file.rdbuf()).str(), HasSubstr("0.4"));
}

// Work on one scene, and then other work on it, within the second in which nothing is written again.
TEST_F(LeftBehind, OtherWorkIsKeptAtOnce) {
    Recovery recovery(kept());
    document::Document first = opened(), second = opened();
    set_error(first, 0.3);
    set_error(second, 0.4);
    ASSERT_TRUE(recovery.keep(first, 10));
    recovery.start_anew();
    ASSERT_TRUE(recovery.keep(second, 10));
    EXPECT_TRUE(recovery.holds());
    std::ifstream file(kept() + "/0.json");
    EXPECT_THAT((std::stringstream() << file.rdbuf()).str(), HasSubstr("0.4"));
}

TEST_F(LeftBehind, OfTwoWindowsStaysApart) {
    leave(0.1);
    leave(0.2);
    EXPECT_EQ(left_work(kept()).size(), 2U);
}

TEST_F(LeftBehind, OfASceneThatIsGoneStandsAlone) {
    leave(0.3);
    fs::remove(scene());
    const auto document = take_up(left_work(kept()).at(0));
    ASSERT_TRUE(document);
    EXPECT_TRUE(document->unsaved());
    EXPECT_FALSE(document->in_a_file());
    EXPECT_FALSE(document->can_undo());
    EXPECT_EQ(document->head().upper_links[1].error_mm, 0.3);
}

TEST_F(LeftBehind, ThatCannotBeReadIsLeftOut) {
    fs::create_directories(kept());
    std::ofstream(kept() + "/0.json") << "{ \"path\": 3";
    EXPECT_TRUE(left_work(kept()).empty());
    EXPECT_TRUE(left_work(kept() + "/nowhere").empty());
    EXPECT_FALSE(take_up({"", scene(), "swashwright = ", ""}));
}

/// Killed at any moment, a hundred times: what is found is whole and no older than the edit before the last second.
TEST_F(LeftBehind, IsWholeWhereverTheProgramIsKilled) {
    std::mt19937 random(1);
    std::uniform_int_distribution<int> microseconds(0, 40'000);
    int found = 0;
    for (int time = 0; time < 100; ++time) {
        const pid_t child = ::fork();
        if (child == 0) {
            Recovery recovery(kept());
            document::Document document = opened();
            for (int i = 1;; ++i) {
                set_error(document, 0.001 * i);
                (void)recovery.keep(document, 2.0 * i);  // every edit has a second to itself
            }
        }
        std::this_thread::sleep_for(std::chrono::microseconds(microseconds(random)));
        ::kill(child, SIGKILL);
        ::waitpid(child, nullptr, 0);
        for (const LeftWork& work : left_work(kept())) {
            const auto document = take_up(work);
            ASSERT_TRUE(document) << document.error().text();
            EXPECT_GT(document->head().upper_links[1].error_mm, 0);
            remove_left_work(work);
            ++found;
        }
    }
    EXPECT_GT(found, 20);
}

TEST_F(LeftBehind, FolderListsScenesAndFoldersOnly) {
    fs::create_directories(folder_ / "b folder");
    std::ofstream(folder_ / "notes.txt") << "no scene";
    std::ofstream(folder_ / ".hidden.toml") << "";
    const auto choices = panels::files_beside(scene());
    ASSERT_EQ(choices.size(), 3U);
    EXPECT_EQ(choices[0].path, folder_.parent_path().string());
    EXPECT_EQ(choices[1].words, "b folder/");
    EXPECT_TRUE(choices[1].folder);
    EXPECT_EQ(choices[2].words, "head.toml");
    std::ofstream(folder_ / "head.pdf") << "";
    const auto sheets = panels::files_beside(scene(), ".pdf");
    ASSERT_EQ(sheets.size(), 3U);
    EXPECT_EQ(sheets[2].words, "head.pdf");
    EXPECT_EQ(panels::files_beside(folder_.string() + "/").size(), 3U);
    EXPECT_EQ(panels::files_beside("/nowhere/at/all").size(), 1U);
    EXPECT_TRUE(panels::files_beside("/")[0].folder);
}

}  // namespace
}  // namespace swashwright::document
