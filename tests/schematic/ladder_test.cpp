#include "schematic/ladder.hpp"

#include <gtest/gtest.h>

#include "drawing/faults.hpp"
#include "drawing/sheet.hpp"
#include "drawing/specimen.hpp"

namespace zoneproof::schematic {

namespace {

Branch contact(int number) {
  return element(Symbol::break_contact, "contact-" + std::to_string(number), "a contact", {}, "alarm NC");
}
Branch resistor(int number) {
  return element(Symbol::resistor, "resistor-" + std::to_string(number), "a resistor", "5.6 kΩ", {});
}

std::vector<std::string> faults_of(const Ladder& ladder) {
  drawing::Sheet sheet;
  sheet.format = drawing::landscape(drawing::kA3);
  sheet.content.items.push_back(moved(drawing::Item{ladder.group}, {30.0, 30.0}));
  return drawing::layout_faults(sheet);
}

}  // namespace

TEST(Ladder, OneLineAndItsWayBack) {
  const Ladder made = ladder(drawing::test_ruler(), "z",
                             in_series({contact(1), in_parallel({contact(2), resistor(1)}), resistor(2)}), 0.0, 200.0);
  EXPECT_GT(made.second_mm, made.first_mm);
  EXPECT_LT(made.height_mm, 25.0);
  EXPECT_TRUE(faults_of(made).empty());
}

TEST(Ladder, FoldsIntoAnEvenNumberOfLines) {
  std::vector<Branch> many;
  for (int i = 0; i < 17; ++i) many.push_back(contact(i));
  const Ladder wide = ladder(drawing::test_ruler(), "z", in_series(many), 0.0, 400.0);
  for (const double most : {60.0, 90.0, 130.0}) {
    const Ladder folded = ladder(drawing::test_ruler(), "z", in_series(many), 0.0, most);
    EXPECT_LE(folded.width_mm, most);
    EXPECT_GT(folded.height_mm, wide.height_mm);
    EXPECT_TRUE(faults_of(folded).empty());
  }
}

TEST(Ladder, KeepsTheRoomAboveThatIsAskedFor) {
  const Ladder made = ladder(drawing::test_ruler(), "z", contact(1), 20.0, 200.0);
  EXPECT_DOUBLE_EQ(made.first_mm, 20.0);
}

}  // namespace zoneproof::schematic
