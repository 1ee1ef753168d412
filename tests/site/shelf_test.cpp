#include "site/shelf.hpp"

#include <gtest/gtest.h>

#include "base/embedded.hpp"
#include "site/file.hpp"
#include "site/walk.hpp"
#include "small_site.hpp"

namespace zoneproof::site {
namespace {

TEST(Shelf, EveryEmbeddedFileReadsWithoutAMessage) {
  std::size_t files = 0;
  for (const EmbeddedFile& file : embedded_files()) {
    const std::string path(file.path);
    std::vector<Message> messages;
    if (path.rfind("parts/", 0) == 0) messages = read_parts(file.bytes, path).messages;
    if (path.rfind("rulebooks/", 0) == 0) messages = read_rulebook(file.bytes, path).messages;
    for (const Message& message : messages) ADD_FAILURE() << full_text(message);
    ++files;
  }
  EXPECT_GT(files, 3U);
  EXPECT_FALSE(parts_shelf().empty());
  EXPECT_FALSE(rulebook_shelf().empty());
}

TEST(Shelf, EveryPartSaysWhereItsNumbersComeFrom) {
  for (const auto& [id, part] : parts_shelf()) {
    EXPECT_TRUE(part.origin.has_value()) << id;
    EXPECT_FALSE(part.source.empty()) << id;
    EXPECT_FALSE(part.shelf_version.empty()) << id;
    EXPECT_FALSE(part.name.empty()) << id;
  }
}

TEST(Shelf, APartForASiteCarriesVersionAndHash) {
  const std::string id = parts_shelf().begin()->first;
  const auto part = part_for_site(id);
  ASSERT_TRUE(part.has_value());
  EXPECT_EQ(part->shelf_hash.size(), 64U);
  EXPECT_EQ(part->shelf_hash, part_for_site(id)->shelf_hash);
  EXPECT_NE(part->shelf_hash, part_for_site(std::next(parts_shelf().begin())->first)->shelf_hash);
  EXPECT_FALSE(part_for_site("no_such_part").has_value());
  EXPECT_FALSE(rulebook_for_site("no_such_book").has_value());
  EXPECT_EQ(rulebook_for_site(rulebook_shelf().begin()->first)->hash.size(), 64U);
}

TEST(Rule, IsThatOfTheChosenGradeWhereTheBookHasOne) {
  Site site = *read_site(kSmallSite, "x").site;
  ASSERT_NE(rule(site, "loop_margin_V"), nullptr);
  EXPECT_EQ(rule(site, "no_such_rule"), nullptr);
  RuleEntry graded = *rule(site, "loop_margin_V");
  graded.value = Value::exactly(0.2, Origin::standard);
  site.rulebooks.at("house_rules").entries["loop_margin_V_grade_2"] = graded;
  EXPECT_EQ(rule(site, "loop_margin_V")->value.nominal, 0.2);
  site.rulebook.grade.value = 3;
  EXPECT_EQ(rule(site, "loop_margin_V")->value.nominal, 0.1);
  site.rulebook.book.id.clear();
  EXPECT_EQ(rule(site, "loop_margin_V"), nullptr) << "no rulebook chosen: no rule, and no default";
}

TEST(Value, MadeInCodeMustBeInOrder) {
  EXPECT_THROW(Value::between(2, 1, 3, Origin::measured), std::logic_error);
  EXPECT_EQ(Value::between(1, 2, 3, Origin::measured).high, 3);
}

}  // namespace
}  // namespace zoneproof::site
