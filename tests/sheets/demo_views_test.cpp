// The expected pictures of all cameras of the demo sites.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <stdexcept>

#include "drawing/faults.hpp"
#include "drawing/specimen.hpp"
#include "sheets/demo_views.hpp"

namespace zoneproof::sheets {
namespace {

class DemoViews : public testing::TestWithParam<const char*> {};

TEST_P(DemoViews, AreSoundSheetsOfEveryCameraThatIsKnown) {
  const drawing::Document document = demo_views(GetParam());
  EXPECT_FALSE(document.sheets.empty());
  EXPECT_THAT(drawing::faults(document), testing::IsEmpty());
  for (const drawing::Sheet& sheet : document.sheets)
    EXPECT_THAT(drawing::layout_faults(sheet), testing::IsEmpty()) << sheet.name.title;
}

std::string all_texts_of(const drawing::Sheet& sheet) {
  std::string all = "\n";
  each(
      sheet.content, [](const drawing::Shape&) {}, [&](const drawing::TextLine& text) { all += text.content + "\n"; });
  return all;
}

/// The sheet of the shop's camera, with a mask over the left upper corner of its picture.
drawing::Sheet shop_masked(double across_pct, double down_pct) {
  const auto at = [](double across, double down) {
    return site::PicturePoint{site::Value::exactly(across, site::Origin::measured),
                              site::Value::exactly(down, site::Origin::measured)};
  };
  const drawing::Document document = demo_views("kiln-yard", [&](site::Site& site) {
    site.cameras.at("c_shop").masks["street"] = {
        "Street window", {at(0, 0), at(across_pct, 0), at(across_pct, down_pct), at(0, down_pct)}};
  });
  for (const drawing::Sheet& sheet : document.sheets)
    if (sheet.name.title.find("Shop camera") != std::string::npos) return sheet;
  throw std::logic_error("no sheet of the shop's camera");
}

TEST(DemoMasks, AreDrawnWithTheNameThatTheFileGives) {
  const drawing::Sheet sheet = shop_masked(60, 60);
  EXPECT_THAT(all_texts_of(sheet), testing::HasSubstr("\nStreet window\n"));
  EXPECT_THAT(drawing::layout_faults(sheet), testing::IsEmpty());
}

/// A person is an example of what is seen: none is set where the picture is black.
TEST(DemoMasks, HaveNobodySetUnderThem) {
  EXPECT_THAT(all_texts_of(shop_masked(1, 1)), testing::HasSubstr("amid the area"));
  EXPECT_THAT(all_texts_of(shop_masked(100, 100)), testing::Not(testing::HasSubstr("amid the area")));
}

INSTANTIATE_TEST_SUITE_P(Of, DemoViews, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::sheets
