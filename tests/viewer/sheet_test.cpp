// The build sheet measured as a builder would: its pages are made into dots by poppler (pdftoppm) and the strokes are
// looked for in them; words, fonts and pages are what pdftotext, pdffonts and pdfinfo find.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <memory>
#include <sstream>

#include "kinematics/studies/lengths/lengths.h"
#include "kinematics/studies/pitch/range.h"
#include "tests/support/random_head.h"
#include "viewer/document/load_head.h"
#include "viewer/sheet/compose.h"
#include "viewer/sheet/plots.h"
#include "viewer/sheet/print.h"
#include "viewer/sheet/words.h"

namespace swashwright::sheet {
namespace {

using ::testing::HasSubstr;

constexpr int dots = 300;  // an inch
constexpr double mm_per_dot = 25.4 / dots;
constexpr double enough_mm =
    0.1;  // what the sheet promises; a dot is 0.085 mm, and a stroke's middle is known far finer by its greys

struct Said {
    int code;
    std::string out;
};

Said run(const std::string& command) {
    std::string out;
    FILE* pipe = popen(command.c_str(), "r");
    for (int c = 0; (c = std::fgetc(pipe)) != EOF;) out += static_cast<char>(c);
    return {pclose(pipe), out};
}

/// A PDF in a folder of its own, which goes with it.
class Printed {
public:
    explicit Printed(const Pdf& pdf) {
        std::string name = ::testing::TempDir() + "swashwright_sheet_XXXXXX";
        folder_ = mkdtemp(name.data());
        std::ofstream(path(), std::ios::binary) << pdf.bytes;
    }
    ~Printed() { std::filesystem::remove_all(folder_); }
    Printed(const Printed&) = delete;
    Printed& operator=(const Printed&) = delete;

    std::string path() const { return folder_ + "/sheet.pdf"; }
    std::string text() const { return run("pdftotext -layout " + path() + " -").out; }

    struct Page {
        int width = 0, height = 0;
        std::string grey;  // a byte a dot
        int at(int x, int y) const { return static_cast<unsigned char>(grey[static_cast<std::size_t>(y) * width + x]); }
    };
    Page page(int number, int resolution = dots) const {
        const std::string root = folder_ + "/page";
        const Said done = run(fmt::format("pdftoppm -r {} -gray -f {} -l {} -singlefile {} {} 2>&1", resolution, number,
                                          number, path(), root));
        EXPECT_EQ(done.code, 0) << done.out;
        std::ifstream file(root + ".pgm", std::ios::binary);
        std::string form;
        int most = 0;
        Page page;
        file >> form >> page.width >> page.height >> most;
        file.get();
        page.grey.assign(std::istreambuf_iterator<char>(file), {});
        EXPECT_EQ(form, "P5");
        EXPECT_EQ(page.grey.size(), static_cast<std::size_t>(page.width) * page.height);
        return page;
    }

private:
    std::string folder_;
};

/// Where the one dark stroke near `place_mm` stands, weighed by its ink; NaN if there is none. `along` says whether
/// places are counted down the page.
double stroke_mm(const Printed::Page& page, bool upright, double place_mm, double across_mm) {
    const int across = static_cast<int>(across_mm / mm_per_dot);
    const double reach = 1.5;  // mm
    double ink = 0, moment = 0;
    for (int i = static_cast<int>((place_mm - reach) / mm_per_dot); i <= (place_mm + reach) / mm_per_dot; ++i) {
        const double dark = 255 - (upright ? page.at(across, i) : page.at(i, across));
        ink += dark;
        moment += dark * (i + 0.5) * mm_per_dot;
    }
    return ink > 100 ? moment / ink : std::nan("");
}

/// What a sheet's true lengths measure on paper, by name; a link's pieces together. Each is expected to be true.
std::map<std::string, double> measured(const Pdf& pdf, const Printed& printed) {
    std::map<std::string, double> out;
    int on_page = 0;
    Printed::Page page;
    for (const TrueLength& length : pdf.true_lengths) {
        if (on_page != length.page) page = printed.page(on_page = length.page);
        const double mm = stroke_mm(page, length.upright, length.to, length.across) -
                          stroke_mm(page, length.upright, length.from, length.across);
        EXPECT_NEAR(mm, length.to - length.from, enough_mm) << length.name << " on page " << length.page;
        if (length.name == "bar") {  // once or more
            EXPECT_NEAR(mm, 100, enough_mm);
            out["bar"] = mm;
        } else {
            out[length.name.substr(0, length.name.find('.'))] += mm;
        }
    }
    return out;
}

/// Nothing dark nearer to the paper's edge than this, mm: most printers leave 4 to 6 mm blank (common practice, no
/// source); the sheet keeps 15, at the foot 11.
constexpr double edge = 11;
void expect_ink_inside(const Printed& printed, int pages, double edge_mm) {
    constexpr int coarse = 75;
    for (int number = 1; number <= pages; ++number) {
        const Printed::Page page = printed.page(number, coarse);
        const int rim = static_cast<int>(edge_mm / 25.4 * coarse);
        for (int y = 0; y < page.height; ++y)
            for (int x = 0; x < page.width; ++x) {
                const bool at_edge = x < rim || y < rim || x >= page.width - rim || y >= page.height - rim;
                ASSERT_TRUE(!at_edge || page.at(x, y) > 250) << "page " << number << ", dot " << x << ", " << y;
            }
    }
}

void expect_fonts_embedded(const Printed& printed) {
    std::istringstream lines(run("pdffonts " + printed.path()).out);
    std::string line;
    int fonts = 0;
    for (int n = 0; std::getline(lines, line); ++n) {
        if (n < 2) continue;  // the head of pdffonts's table
        // From the right: object and its generation, then unicode, subset, embedded.
        std::istringstream words(line);
        const std::vector<std::string> all(std::istream_iterator<std::string>(words), {});
        ASSERT_GE(all.size(), 6U);
        EXPECT_EQ(all[all.size() - 5], "yes") << line;
        ++fonts;
    }
    EXPECT_GE(fonts, 2);
}

/// Without a picture unless asked: it needs OpenGL and a second.
Sheet sheet_of(const head::Description& description, const std::string& note = "", bool picture = false) {
    const auto head = head::Head::build(description);
    EXPECT_TRUE(head.has_value());
    const auto sheet = compose(*head, note, {.picture = picture, .made = "2026-11-26", .stop = {}});
    EXPECT_TRUE(sheet.has_value()) << (sheet ? "" : sheet.error());
    return sheet.value_or(Sheet{});
}

scene::Scene demo(const std::string& name) {
    return document::load_head(std::string(SWASHWRIGHT_SCENES) + "/" + name).value().scene;
}

const Paper papers[] = {Paper::a4, Paper::letter};

TEST(Sheet, DemoHeadsPrintTrueOnBothPapers) {
    for (const char* name : {"two_blade_600.toml", "three_blade_700.toml", "small_two_blade_250.toml"}) {
        const scene::Scene scene = demo(name);
        const Sheet sheet = sheet_of(scene.head, scene.note);
        EXPECT_TRUE(sheet.missing.empty());
        for (const Paper paper : papers) {
            const Pdf pdf = sheet::pdf(sheet, paper).value();
            const Printed printed(pdf);
            const auto mm = measured(pdf, printed);
            EXPECT_EQ(mm.size(), 1 + scene.head.lower_links.size() + scene.head.upper_links.size());
            EXPECT_NEAR(mm.at("bar"), 100, enough_mm);
            for (std::size_t k = 0; k < scene.head.upper_links.size(); ++k)
                EXPECT_NEAR(mm.at(fmt::format("upper_link[{}]", k + 1)), scene.head.upper_links[k].length_mm,
                            enough_mm);
            for (std::size_t j = 0; j < scene.head.lower_links.size(); ++j)
                EXPECT_NEAR(mm.at(fmt::format("lower_link[{}]", j + 1)), scene.head.lower_links[j].length_mm,
                            enough_mm);
            expect_ink_inside(printed, pdf.pages, edge);
            expect_fonts_embedded(printed);
            EXPECT_LE(pdf.pages, 11);
            EXPECT_GE(pdf.pages, 4);
        }
    }
}

TEST(Sheet, WordsAndNumbersCanBeTakenFromThePdf) {
    const scene::Scene scene = demo("two_blade_600.toml");
    const head::Head head = head::Head::build(scene.head).value();
    const Pdf pdf = sheet::pdf(sheet_of(scene.head, scene.note), Paper::a4).value();
    const Printed printed(pdf);
    const std::string text = printed.text();
    for (const std::string& words :
         {scene.head.name, scene.note.substr(0, 30), std::string("100.0 mm: measure this bar first"),
          fmt::format("page 1 of {}", pdf.pages), fmt::format("page {0} of {0}", pdf.pages),
          std::string("made 2026-11-26"), std::string("Swashwright " SWASHWRIGHT_VERSION), std::string("Order of work"),
          std::string("Print at 100 %"), std::string("Thread lock"), std::string("After a crash")})
        EXPECT_THAT(text, HasSubstr(words));
    const studies::LinkForms forms =
        studies::link_forms(scene.head.upper_links[0], scene.head.upper_links[0].length_mm);
    EXPECT_THAT(text, HasSubstr(fmt::format("{:.2f} mm centres, gap {:.2f}, span {:.2f}", forms.centre, forms.gap,
                                            forms.span)));
    const studies::PitchRange range = studies::pitch_range(head).value();
    for (const studies::CollectiveRow& row : range.collective)
        EXPECT_THAT(text, HasSubstr(fmt::format("{:.2f}", row.height_mm - scene.head.measured_from->height_mm)));
    EXPECT_THAT(text, HasSubstr(fmt::format("{:+.2f}", range.collective.back().mean_deg[0])));
    EXPECT_THAT(run("pdfinfo " + printed.path()).out, HasSubstr(scene.head.name + ": Build sheet"));
}

TEST(Sheet, TextHoldsTheSameAndKeepsItsColumns) {
    scene::Scene scene = demo("three_blade_700.toml");
    scene.head.upper_links[1].error_mm = 0.6;  // one more column, and turns to make
    const std::string text = as_text(sheet_of(scene.head, scene.note));
    for (const char* heading :
         {"At a glance", "Links", "Link gauges in true size", "Pitch at the stick ends and in the middle",
          "Ring heights", "Is the ring level?", "How the transmitter is set", "Pitch range", "What binds or touches",
          "What a tenth of a millimetre does", "Order of work", "Before the blades go on", "After a crash", "Cautions"})
        EXPECT_THAT(text, HasSubstr(heading));
    EXPECT_THAT(text, HasSubstr("3 half turns shorter"));  // of 0.20 mm each
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        EXPECT_LE(std::ranges::count_if(line, [](char c) { return (c & 0xC0) != 0x80; }), 100) << line;
}

/// The lists' order and their cautions are common practice, no source; each says so on the sheet.
TEST(Sheet, ListsSayWhosePracticeTheyAre) {
    for (const char* name : {"two_blade_600.toml", "stabiliser_bar_600.toml", "tail_600.toml"}) {
        const Sheet sheet = sheet_of(demo(name).head);
        for (const char* heading : {"Order of work", "Before the blades go on", "After a crash"}) {
            const auto section = std::ranges::find(sheet.sections, heading, &Section::heading);
            ASSERT_NE(section, sheet.sections.end()) << name << ": " << heading;
            ASSERT_TRUE(std::holds_alternative<Paragraph>(section->blocks.front())) << heading;
            EXPECT_THAT(std::get<Paragraph>(section->blocks.front()).words, HasSubstr("ommon practice, no source"));
            EXPECT_TRUE(std::holds_alternative<Ticks>(section->blocks.back())) << heading;
        }
    }
}

TEST(Sheet, AfterACrashWhatCarriesTheBladesComesFirst) {
    for (const char* name : {"two_blade_600.toml", "stabiliser_bar_600.toml", "tail_600.toml"}) {
        const std::vector<std::string> items = after_crash(demo(name).head);
        std::size_t at = 0;
        for (const char* words : {"Battery out", "rolled on glass", "haft turned by hand", "Bolts", "pitch arms",
                                  "Every link", "Horns and splines", "Servo gears", "bearing", "blades", "boom"}) {
            const auto found = std::find_if(items.begin() + static_cast<std::ptrdiff_t>(at), items.end(),
                                            [&](const std::string& item) { return item.find(words) != item.npos; });
            ASSERT_NE(found, items.end()) << name << ": " << words << " is not there, or too early";
            at = static_cast<std::size_t>(found - items.begin());
        }
    }
    EXPECT_NE(after_crash(demo("two_blade_600.toml").head), after_crash(demo("tail_600.toml").head));
}

TEST(Sheet, NoListLeavesMotorOrBladesToChoiceOrTrimsWhatIsBent) {
    for (const char* name : {"two_blade_600.toml", "hinged_links_450.toml", "tail_600.toml"}) {
        const std::string text = as_text(sheet_of(demo(name).head), 1000);
        EXPECT_EQ(text.find("disconnected, or"), std::string::npos) << name;
        EXPECT_EQ(text.find("full depth"), std::string::npos) << name;
        EXPECT_THAT(text, HasSubstr("main blades off too unless the step needs them"));
        EXPECT_THAT(text, HasSubstr("never trimmed out by a link"));
        EXPECT_THAT(text, HasSubstr("at least two thread diameters"));
    }
}

TEST(Sheet, SixBladesAndRandomHeadsStayOnThePaper) {
    for (const std::uint64_t seed : {1, 2}) {
        head::Description d = testing::random_head(seed, {.least_blades = seed == 1 ? 6 : 2});
        const Sheet sheet = sheet_of(d);
        const Pdf pdf = sheet::pdf(sheet, papers[seed % 2]).value();
        const Printed printed(pdf);
        EXPECT_EQ(measured(pdf, printed).size(), 4U + static_cast<std::size_t>(d.rotor.blades));
        expect_ink_inside(printed, pdf.pages, edge);
        EXPECT_LE(pdf.pages, 13);
    }
}

TEST(Sheet, NamesOfAnyKindAreWordsNotMarkup) {
    scene::Scene scene = demo("two_blade_600.toml");
    scene.head.name =
        "<b>&amp; & <i>Kopf</i> \xC3\x9C\xC3\xB1\xC3\xAE \xE2\x80\x9Cquoted\xE2\x80\x9D "
        "averyveryverylongwordthathasnowhereatallwhereitcouldbebrokenandgoesonandonandonandonandonandon";
    scene.head.servos[0].name = "<left & a name that is much longer than any column has room for, whatever it says>";
    std::string note;
    for (int i = 0; i < 900; ++i) note += "note ";  // more than a page of it
    const Sheet sheet = sheet_of(scene.head, note);
    for (const Paper paper : papers) {
        const Pdf pdf = sheet::pdf(sheet, paper).value();
        const Printed printed(pdf);
        EXPECT_THAT(printed.text(), HasSubstr("<b>&amp; & <i>Kopf</i> \xC3\x9C\xC3\xB1\xC3\xAE"));
        EXPECT_THAT(run("pdfinfo " + printed.path()).out, HasSubstr("<b>&amp; & <i>Kopf</i>"));
        expect_ink_inside(printed, pdf.pages, edge);
        expect_fonts_embedded(printed);
        EXPECT_EQ(measured(pdf, printed).size(), 6U);
    }
}

/// A sheet of gauges only, of these lengths.
Sheet gauges_of(const std::vector<double>& lengths, double boss_mm = 6) {
    Gauges gauges;
    for (std::size_t i = 0; i < lengths.size(); ++i)
        gauges.links.push_back({fmt::format("link {}", i + 1),
                                fmt::format("link[{}]", i + 1),
                                {"one", "two"},
                                lengths[i],
                                lengths[i] - boss_mm,
                                lengths[i] + boss_mm,
                                {boss_mm, boss_mm},
                                {11, 11},
                                2});
    return {"Gauges", "2026-11-26", "0", {{"Gauges", {CheckBar{}, gauges}}}, {}};
}

TEST(Sheet, LinksLongerThanThePaperLieAlongItOrBreak) {
    const std::vector<double> lengths{5, 12, 171.25, 190, 205.5, 228, 300, 450.37, 599, 5000};
    const Sheet sheet = gauges_of(lengths);
    for (const Paper paper : papers) {
        const Pdf pdf = sheet::pdf(sheet, paper).value();
        const Printed printed(pdf);
        auto mm = measured(pdf, printed);
        expect_ink_inside(printed, pdf.pages, edge);
        for (std::size_t i = 1; i + 1 < lengths.size(); ++i)
            // Each piece may be off by as much as a whole gauge; none has more than five.
            EXPECT_NEAR(mm[fmt::format("link[{}]", i + 1)], lengths[i], lengths[i] < 250 ? enough_mm : 5 * enough_mm);
        const auto upright = [&](const std::string& name) {
            const auto at = std::ranges::find(pdf.true_lengths, name, &TrueLength::name);
            return at != pdf.true_lengths.end() && at->upright;
        };
        EXPECT_FALSE(upright("link[2]"));
        EXPECT_TRUE(upright("link[4]"));
        EXPECT_THAT(printed.text(), HasSubstr("break A"));
        EXPECT_THAT(printed.text(), HasSubstr("5000.00"));
    }
    const Pdf wide = sheet::pdf(gauges_of({50, 60}, 40), Paper::a4).value();
    EXPECT_EQ(measured(wide, Printed(wide)).size(), 3U);
}

TEST(Sheet, ManyGaugesGoOverThePageWithABarOnEach) {
    const Pdf pdf = sheet::pdf(gauges_of(std::vector<double>(60, 40.0)), Paper::a4).value();
    const Printed printed(pdf);
    EXPECT_GE(pdf.pages, 2);
    for (int page = 1; page <= pdf.pages; ++page)
        EXPECT_TRUE(std::ranges::any_of(pdf.true_lengths,
                                        [&](const TrueLength& t) { return t.page == page && t.name == "bar"; }));
    EXPECT_EQ(measured(pdf, printed).size(), 61U);
}

/// Lines of words of one page, without its foot.
std::vector<std::string> page_lines(const Printed& printed, int page) {
    std::istringstream text(run(fmt::format("pdftotext -layout -f {0} -l {0} {1} -", page, printed.path())).out);
    std::vector<std::string> lines;
    for (std::string line; std::getline(text, line);)
        if (line.find_first_not_of(" \f") != std::string::npos && line.find("made 2026") == std::string::npos)
            lines.push_back(line.substr(line.find_first_not_of(" \f")));
    return lines;
}

TEST(Sheet, NoHeadingStandsAloneAtAPagesFootAndNoLineOnTheLastPage) {
    // What stands before a section goes down the page line by line, so that every place of a break comes up.
    const std::string warning = "A warning of three lines. " + std::string(200, 'w') + " " + std::string(120, 'w');
    const std::vector<std::vector<studies::Cell>> rows(4, {std::string("cell")});
    const studies::Table table{"t", "A table", {{"what", "what", ""}}, rows, {}};
    const std::vector<Section> sections{
        {"Boxes", {Paragraph{warning, true}, Paragraph{"Plain."}, Paragraph{"Last box.", true}}},
        {"Ticks", {Ticks{{"First tick.", "Second tick.", "Third tick."}, true}}},
        {"Words", {Paragraph{"A few words that take one line."}, table}},
        {"Paragraph", {Paragraph{warning + " " + warning}}}};
    for (const Section& section : sections)
        for (int lines = 44; lines <= 62; ++lines) {
            std::string before;
            for (int i = 0; i < lines; ++i) before += "before\n";
            Sheet sheet{"Head", "2026-11-26", "0", {{"First", {Paragraph{before}}}, section}, {}};
            const Pdf pdf = sheet::pdf(sheet, Paper::a4).value();
            const Printed printed(pdf);
            for (int page = 1; page <= pdf.pages; ++page) {
                const auto words = page_lines(printed, page);
                ASSERT_FALSE(words.empty());
                EXPECT_NE(words.back(), section.heading) << lines;
                EXPECT_TRUE(page < pdf.pages || words.size() >= 2) << section.heading << ", " << lines;
            }
        }
}

TEST(Sheet, ParenthesesAreRound) {
    Sheet sheet = {"(", "2026-11-26", "0", {}, {}};
    const Printed printed(sheet::pdf(sheet, Paper::a4).value());
    const Printed::Page page = printed.page(1, 600);
    // The title is one parenthesis of 20 points. How far its stroke lies right of its leftmost place, row by row.
    std::vector<int> stroke;
    for (int y = page.height / 30; y < page.height / 12; ++y) {
        int x = page.width / 20;
        while (x < page.width / 8 && page.at(x, y) >= 128) ++x;
        if (x < page.width / 8)
            stroke.push_back(x);
        else if (!stroke.empty())
            break;
    }
    ASSERT_GT(stroke.size(), 100U);
    const int left = *std::ranges::min_element(stroke);
    const auto off = [&](double share) {
        return stroke[static_cast<std::size_t>(share * static_cast<double>(stroke.size()))] - left;
    };
    // A circle's bow goes as the square of the distance from the middle: half way it is a quarter of that at the end.
    // A bracket with cut corners has none there.
    EXPECT_GT(off(0.02), 10);
    EXPECT_GT(off(0.25), 0.12 * off(0.02));
    EXPECT_GT(off(0.75), 0.12 * off(0.98));
}

TEST(Sheet, AHeadThatDoesNotCloseHasNone) {
    scene::Scene scene = demo("two_blade_600.toml");
    scene.head.upper_links[0].length_mm = 20;
    const auto sheet = compose(head::Head::build(scene.head).value(), "");
    ASSERT_FALSE(sheet.has_value());
    EXPECT_THAT(sheet.error(), HasSubstr("upper link 1"));
}

TEST(Sheet, WhatAStudyCannotAnswerIsSaidInItsPlace) {
    scene::Scene scene = demo("two_blade_600.toml");
    scene.head.mixing.collective_deg = 160;  // the loop opens before full stick
    const Sheet sheet = sheet_of(scene.head);
    EXPECT_FALSE(sheet.missing.empty());
    EXPECT_THAT(as_text(sheet), HasSubstr("No answer: "));
    EXPECT_TRUE(pdf(sheet, Paper::a4).has_value());
}

TEST(Sheet, RangePlotGoesThroughTheStudysNumbers) {
    const head::Head head = head::Head::build(demo("three_blade_700.toml").head).value();
    const studies::PitchRange range = studies::pitch_range(head).value();
    const Plot plot = range_plot(range, head.description());
    ASSERT_EQ(plot.lines.size(), 3U);  // three blades alike, and two ends of full cyclic
    EXPECT_EQ(plot.lines[0].name, "blades 1, 2, 3");
    // Between the rows the cubic is near the head's own pitch: half way, where it is farthest from both.
    const Line& line = plot.lines[0];
    for (std::size_t i = 0; i < line.x.size(); i += 4) {
        const auto turn = studies::pitch_harmonics(head, {line.x[i], 0, 0}).value();
        EXPECT_NEAR(line.y[i], turn[0].mean, 0.005) << line.x[i];  // a hundredth of a degree cannot be seen on paper
    }
}

}  // namespace
}  // namespace swashwright::sheet
