// A site file into a book: new, as the next revision, or nothing new.
#include "book/import.hpp"

#include <gmock/gmock.h>

#include "book/each_database.hpp"
#include "site/file.hpp"

namespace zoneproof::book {

namespace {

using Outcome = Imported::Outcome;

ON_EACH_DATABASE(Import);

ImportAsked as(const std::string& id) { return {id, "Ada", kNow, "from a file"}; }

TEST_P(Import, MakesASiteAndThenItsRevisions) {
  const auto book = opened(address());
  const site::Site first = demo_site("kiln-yard"), second = demo_site("kiln-yard-corrected");
  EXPECT_EQ(good(import_site(*book, as("yard"), first)).outcome, Outcome::added);
  const Imported edited = good(import_site(*book, as("yard"), second));
  EXPECT_EQ(edited.outcome, Outcome::edited);
  EXPECT_EQ(edited.entry.revision, first.revision + 1);
  EXPECT_THAT(edited.changes, testing::SizeIs(testing::Gt(15U)));
  EXPECT_EQ(good(import_site(*book, as("yard"), second)).outcome, Outcome::unchanged);
  site::Site kept = site_of(good(book->text("yard")));
  kept.revision = second.revision;
  EXPECT_TRUE(site::same_site(kept, second)) << "but for the number, the file is what is in the book";
  // And back again: a third revision that says what the first said.
  EXPECT_EQ(good(import_site(*book, as("yard"), first)).entry.revision, first.revision + 2);
  EXPECT_EQ(codes(good(book->check()).problems), "");
}

TEST_P(Import, NeverTakesOneSiteForAnotherOfItsName) {
  const auto book = opened(address());
  const Made changed = noted(small_site(), "", "e", "note");
  EXPECT_EQ(good(import_site(*book, as(""), small_site())).entry.id, "small_yard");
  EXPECT_EQ(good(import_site(*book, as(""), small_site())).outcome, Outcome::unchanged);
  EXPECT_EQ(codes(import_site(*book, as(""), changed.after).problems), "book_site_taken");
  EXPECT_EQ(good(import_site(*book, as("small_yard"), changed.after)).outcome, Outcome::edited);
  EXPECT_EQ(good(import_site(*book, as("other"), changed.after)).outcome, Outcome::added);
}

TEST_P(Import, RefusesAnIdThatIsNone) {
  const auto book = opened(address());
  EXPECT_EQ(codes(import_site(*book, as("Back Yard"), small_site()).problems), "book_bad_site_id");
  EXPECT_TRUE(good(book->sites()).empty());
}

}  // namespace

}  // namespace zoneproof::book
