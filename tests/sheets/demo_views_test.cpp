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

INSTANTIATE_TEST_SUITE_P(Of, DemoViews, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::sheets
