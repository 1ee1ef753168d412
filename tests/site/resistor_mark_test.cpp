#include "site/resistor_mark.hpp"

#include <gtest/gtest.h>

namespace zoneproof::site {
namespace {

struct Marked {
  const char* mark;
  double ohm;
  std::optional<double> tolerance_pct;
};

// Values: the examples of IEC 60062 as an encyclopaedia's article on the RKM code repeats them; letters of tolerance:
// the same standard's table, as widely reprinted.
TEST(ResistorMark, ReadsTheCodeOfIec60062) {
  const Marked marks[] = {{"R47", 0.47, {}},     {"4R7", 4.7, {}},      {"470R", 470, {}},   {"4K7", 4700, {}},
                          {"47K", 47000, {}},    {"47K3", 47300, {}},   {"470K", 470e3, {}}, {"4M7", 4.7e6, {}},
                          {"5k6", 5600, {}},     {"5K6F", 5600, 1.0},   {"5K6J", 5600, 5.0}, {"4R7K", 4.7, 10.0},
                          {"47KK", 47000, 10.0}, {"2M2M", 2.2e6, 20.0}, {"1K0G", 1000, 2.0}, {"1K0B", 1000, 0.1},
                          {"10KD", 10000, 0.5},  {"1K0C", 1000, 0.25},  {"1K0W", 1000, 0.05}};
  for (const Marked& marked : marks) {
    const auto read = resistor_mark(marked.mark);
    ASSERT_TRUE(read) << marked.mark;
    EXPECT_DOUBLE_EQ(read->ohm, marked.ohm) << marked.mark;
    EXPECT_EQ(read->tolerance_pct, marked.tolerance_pct) << marked.mark;
  }
}

TEST(ResistorMark, ReadsNothingElse) {
  for (const char* text : {"", "5600", "K", "5K6X", "5K6JJ", "5.6k", "KK", "5 K6", "12V", "5K6J ", "9999999999999K"}) {
    EXPECT_FALSE(resistor_mark(text)) << text;
  }
}

}  // namespace
}  // namespace zoneproof::site
