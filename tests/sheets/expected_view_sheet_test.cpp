// The sheet of an expected picture: nothing overlaps, nothing is lost, and it says what it shows.
#include "sheets/expected_view_sheet.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "drawing/faults.hpp"
#include "drawing/specimen.hpp"
#include "view_specimen.hpp"

namespace zoneproof::sheets {
namespace {

std::vector<std::string> texts_of(const drawing::Sheet& sheet) {
  std::vector<std::string> texts;
  each(
      sheet.content, [](const drawing::Shape&) {},
      [&](const drawing::TextLine& text) { texts.push_back(text.content); });
  return texts;
}

std::string joined(const drawing::Sheet& sheet) {
  std::string all;
  for (const std::string& one : texts_of(sheet)) all += one + " ";
  return all;
}

class ExpectedViewSheet : public testing::TestWithParam<SpecimenLens> {};

TEST_P(ExpectedViewSheet, HasNoTextOverAnotherInAnyFormat) {
  ViewSpecimen specimen = view_specimen(GetParam());
  for (const drawing::Format format : {drawing::landscape(drawing::kA4), drawing::landscape(drawing::kLetter),
                                       drawing::kA4, drawing::landscape(drawing::kA3)}) {
    specimen.words.format = format;
    drawing::Document document;
    document.created = "2026-03-01T12:00:00Z";
    document.sheets = {expected_view_sheet(drawing::test_ruler(), *specimen.camera, specimen.view, specimen.words)};
    EXPECT_THAT(drawing::layout_faults(document.sheets[0]), testing::IsEmpty());
    EXPECT_THAT(drawing::faults(document), testing::IsEmpty());
  }
}

/// Each patch and person is in the list; its number or letter is in the picture, or the list says that it is not.
TEST_P(ExpectedViewSheet, NamesEveryPatchAndPerson) {
  const ViewSpecimen specimen = view_specimen(GetParam());
  const drawing::Sheet sheet =
      expected_view_sheet(drawing::test_ruler(), *specimen.camera, specimen.view, specimen.words);
  const auto texts = texts_of(sheet);
  const std::string all = joined(sheet);
  for (const auto& pair : {std::pair(specimen.words.patches, '1'), std::pair(specimen.words.persons, 'A')}) {
    const std::vector<Called>& list = pair.first;
    const char first = pair.second;
    for (std::size_t i = 0; i < list.size(); ++i) {
      const std::string mark(1, static_cast<char>(first + static_cast<char>(i)));
      const std::size_t entry = all.find(mark + "  " + list[i].says.substr(0, 12));
      EXPECT_NE(entry, std::string::npos) << mark;
      const bool in_picture = std::find(texts.begin(), texts.end(), mark) != texts.end();
      const bool seen = std::any_of(specimen.view.areas.begin(), specimen.view.areas.end(), [&](const auto& area) {
        return specimen.view.surfaces[area.surface].id == list[i].surface_id;
      });
      EXPECT_EQ(in_picture, seen) << mark;
    }
  }
}

TEST_P(ExpectedViewSheet, TellsWhatFindsNoRoom) {
  ViewSpecimen specimen = view_specimen(GetParam());
  for (int i = 0; i < 60; ++i)
    specimen.words.patches.push_back({"far", "2.0 m², beyond the left edge of the picture."});
  const drawing::Sheet sheet =
      expected_view_sheet(drawing::test_ruler(), *specimen.camera, specimen.view, specimen.words);
  EXPECT_THAT(drawing::layout_faults(sheet), testing::IsEmpty());
  EXPECT_THAT(joined(sheet), testing::HasSubstr("More, without room"));
}

/// No patch is known where no area is: that is not the same as none.
TEST_P(ExpectedViewSheet, NeverCallsUnknownAreasWitnessed) {
  ViewSpecimen specimen = view_specimen(GetParam());
  specimen.words.patches.clear();
  const auto says = [&] {
    return joined(expected_view_sheet(drawing::test_ruler(), *specimen.camera, specimen.view, specimen.words));
  };
  EXPECT_THAT(says(), testing::HasSubstr("the whole detection area"));
  specimen.words.areas_known = false;
  EXPECT_THAT(says(), testing::Not(testing::HasSubstr("the whole detection area")));
  EXPECT_THAT(says(), testing::HasSubstr("Not all known"));
}

INSTANTIATE_TEST_SUITE_P(Of, ExpectedViewSheet,
                         testing::Values(SpecimenLens::pinhole, SpecimenLens::barrel, SpecimenLens::fisheye));

}  // namespace
}  // namespace zoneproof::sheets
