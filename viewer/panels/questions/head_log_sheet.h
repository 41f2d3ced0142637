// The log of the open head: its states by date, to put in, to compare, to take up again.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "kinematics/bench_files/head_log.h"
#include "viewer/panels/bench/bench.h"

namespace swashwright::panels {

struct HeadLogSheet {
    std::string path;  // of the log that was read; empty: none yet
    scene::HeadLog states;
    std::string mistakes;                     // why it cannot be read; it is never written over then
    std::string note, said;                   // typed for the next state; what was done, or why not
    std::optional<std::size_t> chosen, held;  // compared; in place of the head as it is now
    int drawn_in = 0;                         // ImGui's frame: a gap to the next says that the page was opened anew
    std::optional<std::uint64_t> taken_up;  // revision of the head that a state was taken up as, while `said` is of it
    bool remove_asked = false;              // the chosen one goes once that is pressed again

    std::string chosen_words() const { return chosen ? "of " + scene::state_words(states, *chosen) : "in the log"; }
};

/// Reads the log beside the head's file where that is another one than last time.
void follow_log(const Bench& bench, HeadLogSheet& log);
/// Reads it whether or not it was read before, for somebody may have mended it; a note that is typed stays.
void read_log(HeadLogSheet& log);
/// Puts the head as it stands in, and writes the file; not where nothing has changed and there is nothing to note.
void put_into_log(const Bench& bench, HeadLogSheet& log);
/// Takes the chosen state out of the file, for good.
void remove_from_log(HeadLogSheet& log);
/// True where what is compared has changed.
bool draw_head_log(Screen& screen, Bench& bench, HeadLogSheet& log);

}  // namespace swashwright::panels
