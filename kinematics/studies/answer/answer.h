// What a study has to say, in one form for the window's cards, the console's tables, JSON and the printed sheet.
#pragma once

#include <string>
#include <variant>
#include <vector>

namespace swashwright::studies {

enum class Tone {
    calm,     // what the head does, nothing wrong
    notice,   // it works, but something wants looking at
    trouble,  // the loop does not close
};

/// Nothing, a number in its column's unit, or words.
using Cell = std::variant<std::monostate, double, std::string>;

struct Column {
    std::string key;    // in JSON and CSV, with its unit: "pitch_deg"; never changes once published
    std::string head;   // over the column: "pitch"
    std::string unit;   // "deg", "mm", "turns"; empty for words and counts
    int decimals = 2;   // of the text form only
    bool sign = false;  // numbers above zero are written with a plus
};

struct Table {
    std::string key;    // in JSON: "blades"
    std::string title;  // what the rows are, with signs and frames where they matter
    std::vector<Column> columns;
    std::vector<std::vector<Cell>> rows;  // one cell for each column
    std::vector<std::string>
        parts;  // of each row, the part it is about as a scene path ("upper_link[2]"); may be empty
};

struct Answer {
    std::string study;  // the console's verb
    std::string text;   // the answer in one sentence
    Tone tone = Tone::calm;
    std::vector<Table> tables;       // always all that the study has; shown to people only where there are rows
    std::vector<std::string> notes;  // assumptions and sources, a sentence each
};

/// A cell as its column writes it; "-" for nothing.
std::string as_text(const Cell& cell, const Column& column);
/// Text of at most `columns` columns: the sentence, the tables with aligned figures, the notes.
std::string as_text(const Answer& answer, std::size_t columns = 100);
/// RFC 4180: the tables one after another, an empty line between them; each begins with its keys. Full precision.
std::string as_csv(const Answer& answer);

}  // namespace swashwright::studies
