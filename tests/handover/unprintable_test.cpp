// Which letters of a site no font of the program has, and how whoever makes and holds the paper is told.
#include "handover/unprintable.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "drawing/specimen.hpp"
#include "handover/demo_site.hpp"

namespace zoneproof::handover {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

site::Site with_names() {
  site::Site site = demo_site("kiln-yard");
  site.name = "Kiln Yard 窯場";
  site.zones.at("z1").name = "前台 front";
  site.zones.at("z2").name = "Λόμπι, лобби, לובי, ردهة, Türöffner";
  site.cameras.begin()->second.name = "🔥";
  return site;
}

TEST(LettersWithoutAFont, AreEachToldOnce) {
  const drawing::Ruler& ruler = drawing::test_ruler();
  EXPECT_THAT(letters_lacking(ruler, "前台前 A"), ElementsAre("前", "台"));
  EXPECT_THAT(letters_lacking(ruler, "Λόμπι, лобби, לובי, ردهة, Türöffner, 5 Ω ± 1 %"), IsEmpty());
  EXPECT_THAT(letters_lacking(ruler, ""), IsEmpty());
  EXPECT_THAT(letters_lacking(ruler, "ห้อง"), Not(IsEmpty()));
  EXPECT_THAT(letters_lacking(ruler, "कमरा"), Not(IsEmpty()));
  EXPECT_THAT(letters_lacking(ruler, "\xff"), IsEmpty()) << "is shown as <FF>";
}

TEST(LettersWithoutAFont, AreFoundInEveryTextOfTheSite) {
  const site::Site site = with_names();
  const std::vector<Unprintable> found = unprintable_in(drawing::test_ruler(), site);
  std::vector<std::string> pointers;
  for (const Unprintable& one : found) pointers.push_back(one.pointer);
  EXPECT_THAT(pointers, testing::UnorderedElementsAre("/name", "/zones/z1/name",
                                                      "/cameras/" + site.cameras.begin()->first + "/name"));
  EXPECT_THAT(unprintable_in(drawing::test_ruler(), demo_site("tern-hollow")), IsEmpty());
}

TEST(TheNoticeOfLetters, NamesThoseThatWereDrawnWithTheirPlace) {
  const site::Site site = with_names();
  const auto all = unprintable_in(drawing::test_ruler(), site);
  const std::string told = text(*letters_notice(site, all, {"前", "台"}));
  EXPECT_THAT(told, HasSubstr("前台 (name of Zone 1"));
  EXPECT_THAT(told, Not(HasSubstr("窯")));
  EXPECT_THAT(text(*letters_notice(site, all, {"圓"})), HasSubstr("圓")) << "of the price list, in no text of the site";
  EXPECT_FALSE(letters_notice(site, all, {}));
}

TEST(TheNoticeOfLetters, StaysALineWhereEveryNameHasThem) {
  std::vector<Unprintable> all;
  for (int i = 0; i < 40; ++i) all.push_back({"/zones/z" + std::to_string(i) + "/name", {"前"}});
  EXPECT_THAT(text(*letters_on_paper(all)), HasSubstr("and in 28 more places"));
}

TEST(TheLineOnPaper, CanBeReadThere) {
  const std::string line = text(*letters_on_paper(unprintable_in(drawing::test_ruler(), with_names())));
  EXPECT_THAT(letters_lacking(drawing::test_ruler(), line), IsEmpty());
  EXPECT_THAT(line, HasSubstr("U+524D U+53F0 (name of z1)"));
  EXPECT_THAT(line, HasSubstr("U+7AAF U+5834 (name of the site)"));
  EXPECT_FALSE(letters_on_paper({}));
}

}  // namespace
}  // namespace zoneproof::handover
