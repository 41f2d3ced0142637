#include "kinematics/studies/answer/figures.h"

#include <gtest/gtest.h>

#include "kinematics/studies/answer/answer.h"

namespace swashwright::studies {
namespace {

TEST(Figures, write_no_minus_before_nothing) {
    EXPECT_EQ(figure(-0.004, 2), "0.00");
    EXPECT_EQ(figure(-0.0, 0), "0");
    EXPECT_EQ(figure(-0.006, 2), "-0.01");
    EXPECT_EQ(figure(-1e300, 0).front(), '-');
    EXPECT_EQ(signed_figure(-1e-13, 2), "0.00");
    EXPECT_EQ(signed_figure(1e-13, 2), "0.00");
    EXPECT_EQ(signed_figure(0.006, 2), "+0.01");
    EXPECT_EQ(signed_figure(-10.04, 1), "-10.0");
    EXPECT_EQ(signed_figure(100, 0), "+100");
}

TEST(Figures, are_what_tables_show) {
    const Column plain{"x_mm", "x", "mm", 2}, with_sign{"y_deg", "y", "deg", 1, true};
    EXPECT_EQ(as_text(Cell(-0.001), plain), "0.00");
    EXPECT_EQ(as_text(Cell(-0.01), with_sign), "0.0");
    EXPECT_EQ(as_text(Cell(0.26), with_sign), "+0.3");
}

}  // namespace
}  // namespace swashwright::studies
