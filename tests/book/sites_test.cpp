// Sites and their revisions: what goes in comes out, once, in order, or with a reason.
#include <gmock/gmock.h>

#include "base/sha256.hpp"
#include "book/each_database.hpp"
#include "site/file.hpp"

namespace zoneproof::book {

namespace {

using Fate = Appended::Fate;

ON_EACH_DATABASE(Sites);

TEST_P(Sites, OfAnEmptyBookAreNone) {
  const auto book = opened(address());
  EXPECT_EQ(codes(book->notes()), "book_made");
  EXPECT_TRUE(good(book->sites()).empty());
  EXPECT_EQ(codes(book->site("yard").problems), "book_no_site");
}

TEST_P(Sites, AreGivenBackByteForByte) {
  const site::Site demo = demo_site("kiln-yard");
  const auto book = opened(address());
  const SiteEntry entry = good(book->add_site(new_site("yard"), demo));
  EXPECT_EQ(entry.id, "yard");
  EXPECT_EQ(entry.name, demo.name);
  EXPECT_EQ(entry.revision, demo.revision);
  EXPECT_EQ(entry.sha256, site::site_hash(demo));
  EXPECT_EQ(entry.who, "Ada");
  EXPECT_EQ(entry.when, kNow);
  EXPECT_EQ(good(book->text("yard")), site::write_site(demo));
  EXPECT_TRUE(opened(address())->notes().empty()) << "a book that is there is not made again";
}

TEST_P(Sites, HaveIdsMadeOfTheirNamesWhereNoneIsWanted) {
  const auto book = opened(address());
  EXPECT_EQ(good(book->add_site(new_site("", "a"), small_site("Back door"))).id, "back_door");
  EXPECT_EQ(good(book->add_site(new_site("", "b"), small_site("Back door"))).id, "back_door_2");
  EXPECT_EQ(good(book->add_site(new_site("", "c"), small_site(""))).id, "site");
  EXPECT_EQ(codes(book->add_site(new_site("back_door", "d"), small_site("Other")).problems), "book_site_taken");
  EXPECT_EQ(codes(book->add_site(new_site("Back-Door", "e"), small_site("Other")).problems), "book_bad_site_id");
}

TEST_P(Sites, MadeTwiceByTheSameRequestAreOne) {
  const auto book = opened(address());
  good(book->add_site(new_site("", "once"), small_site()));
  EXPECT_EQ(good(book->add_site(new_site("", "once"), small_site())).id, "small_yard");
  EXPECT_EQ(good(book->sites()).size(), 1U);
  EXPECT_EQ(codes(book->add_site(new_site("", "once"), small_site("Other")).problems), "book_edit_id_used");
}

TEST_P(Sites, KeepEveryRevisionWithWhoWhenAndWhy) {
  const auto book = opened(address());
  site::Site now = demo_site("kiln-yard");
  good(book->add_site(new_site("yard"), now));
  std::vector<std::string> texts = {site::write_site(now)};
  const long long first = now.revision;
  for (int i = 1; i <= 12; ++i) {
    Made made = noted(now, "yard", "edit-" + std::to_string(i), "ünder the roof, note " + std::to_string(i));
    made.edit.who = i % 2 == 0 ? "Bé" : "Ada";
    made.edit.why = "step " + std::to_string(i) + "\nand: a :colon, a 'quote' and \"another\"";
    const Appended appended = good(book->append(made.edit, made.after));
    ASSERT_EQ(appended.fate, Fate::kept);
    EXPECT_EQ(appended.revision.number, first + i);
    now = made.after;
    texts.push_back(site::write_site(now));
  }
  for (int i = 0; i <= 12; ++i) EXPECT_EQ(good(book->text("yard", first + i)), texts[static_cast<std::size_t>(i)]);
  const Revision sixth = good(book->revision("yard", first + 6));
  EXPECT_EQ(sixth.who, "Bé");
  EXPECT_EQ(sixth.why, "step 6\nand: a :colon, a 'quote' and \"another\"");
  EXPECT_EQ(sixth.when, kNow);
  EXPECT_EQ(sixth.edit, "edit-6");
  EXPECT_EQ(sixth.sha256, sha256_hex(texts[6]));
  EXPECT_THAT(sixth.patch, testing::HasSubstr("note 6"));
  EXPECT_THAT(sixth.undo, testing::HasSubstr("note 5"));

  const auto newest = good(book->revisions("yard", std::nullopt, 3));
  ASSERT_EQ(newest.size(), 3U);
  EXPECT_EQ(newest[0].number, first + 12);
  EXPECT_EQ(newest[2].number, first + 10);
  EXPECT_EQ(good(book->revisions("yard", first + 10, 3))[0].number, first + 9);
  const auto since = good(book->revisions_since("yard", first + 10));
  ASSERT_EQ(since.size(), 2U);
  EXPECT_EQ(since[0].number, first + 11);
  EXPECT_EQ(codes(good(book->check()).problems), "");
}

TEST_P(Sites, ThatManyHaveEditedStaySmall) {
  // 60 edits of a site of 160 kB: whole texts would be 9 MB, 1.5 MB compressed one by one.
  const auto book = opened(address());
  site::Site now = demo_site("kiln-yard");
  good(book->add_site(new_site("yard"), now));
  for (int i = 1; i <= 60; ++i) {
    const Made made = noted(now, "yard", "edit-" + std::to_string(i), "note " + std::to_string(i));
    good(book->append(made.edit, made.after));
    now = made.after;
  }
  EXPECT_LT(number_in(address(), "SELECT CAST(SUM(LENGTH(packed)) AS BIGINT) FROM revisions"), 60'000);
  EXPECT_EQ(good(book->text("yard")), site::write_site(now));
}

TEST_P(Sites, TakeTheSameEditOnce) {
  const auto book = opened(address());
  const site::Site base = small_site();
  good(book->add_site(new_site("yard"), base));
  const Made made = noted(base, "yard", "e1", "once");
  EXPECT_EQ(good(book->append(made.edit, made.after)).fate, Fate::kept);
  const Appended again = good(book->append(made.edit, made.after));
  EXPECT_EQ(again.fate, Fate::repeated);
  EXPECT_EQ(again.revision.number, 2);
  EXPECT_EQ(good(book->site("yard")).revision, 2);
  EXPECT_EQ(good(book->edit_before("yard", "e1"))->number, 2);
  EXPECT_FALSE(good(book->edit_before("yard", "e2")));
  EXPECT_EQ(
      codes(
          book->append(noted(base, "yard", "e1", "another").edit, noted(base, "yard", "e1", "another").after).problems),
      "book_edit_id_used");
  // Still so when others have gone on meanwhile.
  const Made next = noted(made.after, "yard", "e2", "twice");
  EXPECT_EQ(good(book->append(next.edit, next.after)).fate, Fate::kept);
  EXPECT_EQ(good(book->append(made.edit, made.after)).fate, Fate::repeated);
}

TEST_P(Sites, TellWhatHappenedSinceAnEditsBase) {
  const auto book = opened(address());
  const site::Site base = small_site();
  good(book->add_site(new_site("yard"), base));
  const Made first = noted(base, "yard", "e1", "one");
  const Made second = noted(first.after, "yard", "e2", "two");
  good(book->append(first.edit, first.after));
  good(book->append(second.edit, second.after));
  const Made late = noted(base, "yard", "late", "late");
  const Appended conflict = good(book->append(late.edit, late.after));
  EXPECT_EQ(conflict.fate, Fate::conflict);
  ASSERT_EQ(conflict.since.size(), 2U);
  EXPECT_EQ(conflict.since[0].patch, first.edit.patch);
  EXPECT_EQ(conflict.since[1].patch, second.edit.patch);
  EXPECT_EQ(good(book->site("yard")).revision, 3) << "nothing of it was kept";
  EXPECT_FALSE(good(book->edit_before("yard", "late")));
}

TEST_P(Sites, RefuseWhatNobodyCanHaveMade) {
  const auto book = opened(address());
  const site::Site base = small_site();
  good(book->add_site(new_site("yard"), base));
  const Made made = noted(base, "yard", "e1", "one");
  const auto refused_as = [&](auto change) {
    Edit edit = made.edit;
    change(edit);
    return codes(book->append(edit, made.after).problems);
  };
  EXPECT_EQ(refused_as([](Edit& edit) { edit.site = "other"; }), "book_no_site");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.site = "x'; DROP TABLE sites; --"; }), "book_no_site");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.id = ""; }), "book_bad_edit_id");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.id = std::string(65, 'x'); }), "book_bad_edit_id");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.id = "a b"; }), "book_bad_edit_id");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.who = " "; }), "book_bad_name");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.who = "Ada\n"; }), "book_bad_name");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.when = "yesterday"; }), "book_bad_time");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.when = "2026-02-29T12:00:00Z"; }), "book_bad_time");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.when = "2026-02-28T12:00:00+01:00"; }), "book_bad_time");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.why = std::string("a\0b", 3); }), "book_bad_text");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.why = "\xff"; }), "book_bad_text");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.why = std::string(5000, 'x'); }), "book_text_too_long");
  EXPECT_EQ(refused_as([](Edit& edit) { edit.base = 7; }), "book_revision_expected");
  Made ahead = made;
  ahead.edit.base = 7;
  ahead.after.revision = 8;
  EXPECT_EQ(codes(book->append(ahead.edit, ahead.after).problems), "book_no_revision");
  EXPECT_EQ(good(book->site("yard")).revision, 1);
  EXPECT_EQ(good(book->append(made.edit, made.after)).fate, Fate::kept) << "the book can be used on";
}

TEST_P(Sites, SayWhichRevisionIsNotThere) {
  const auto book = opened(address());
  good(book->add_site(new_site("yard"), small_site()));
  EXPECT_EQ(codes(book->text("yard", 2).problems), "book_no_revision");
  EXPECT_EQ(codes(book->revision("yard", 0).problems), "book_no_revision");
  EXPECT_EQ(codes(book->revisions("mill").problems), "book_no_site");
}

}  // namespace

}  // namespace zoneproof::book
