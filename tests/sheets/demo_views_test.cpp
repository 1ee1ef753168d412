// The expected pictures of all cameras of the demo sites.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

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

/// A mask of the file is on the sheet of its camera, by its name.
TEST(DemoMasks, AreDrawnWithTheNameThatTheFileGives) {
  const auto at = [](double across_pct, double down_pct) {
    return site::PicturePoint{site::Value::exactly(across_pct, site::Origin::measured),
                              site::Value::exactly(down_pct, site::Origin::measured)};
  };
  const drawing::Document document = demo_views("kiln-yard", [&](site::Site& site) {
    site.cameras.at("c_shop").masks["street"] = {"Street window", {at(0, 0), at(60, 0), at(60, 60), at(0, 60)}};
  });
  int named = 0;
  for (const drawing::Sheet& sheet : document.sheets) {
    EXPECT_THAT(drawing::layout_faults(sheet), testing::IsEmpty());
    each(
        sheet.content, [](const drawing::Shape&) {},
        [&](const drawing::TextLine& text) {
          if (text.content != "Street window") return;
          ++named;
          EXPECT_THAT(sheet.name.title, testing::HasSubstr("Shop camera"));
        });
  }
  EXPECT_EQ(named, 1);
}

INSTANTIATE_TEST_SUITE_P(Of, DemoViews, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::sheets
