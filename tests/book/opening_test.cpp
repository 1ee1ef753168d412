// Opening: new, older, newer, foreign and damaged books, and several at once.
#include <gmock/gmock.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <thread>

#include "book/backup_lines.hpp"
#include "book/each_database.hpp"
#include "book/inside.hpp"
#include "site/file.hpp"

namespace zoneproof::book {

namespace {

ON_EACH_DATABASE(Openings);

/// The steps of this program and one more.
std::vector<Migration> with_one_more() {
  std::vector<Migration> steps = migrations();
  steps.push_back(
      {steps.back().number + 1,
       "-- A step: with words like :this.\nALTER TABLE people ADD COLUMN phone {text} NOT NULL DEFAULT '';\n"
       "CREATE TABLE visits (id {whole} NOT NULL PRIMARY KEY) {strict};\n"});
  return steps;
}

Answered<std::unique_ptr<Book>> opened_by_newer(const Address& address) {
  auto inside = Book::Inside::open(address, Opening::make_missing, with_one_more());
  if (!inside.answer) return refused<std::unique_ptr<Book>>(inside.problems);
  return {std::make_unique<Book>(*std::move(inside.answer)), {}};
}

TEST_P(Openings, WantsABookThatIsThereWhereItIsToldSo) {
  EXPECT_EQ(codes(Book::open(address(), Opening::existing_only).problems), "book_missing");
  EXPECT_FALSE(std::filesystem::exists(address().folder)) << "looking makes nothing";
  opened(address());
  EXPECT_EQ(codes(opened(address(), Opening::existing_only)->notes()), "");
}

TEST_P(Openings, KeepsOthersOutOfTheFolder) {
  opened(address());
  struct stat status {};
  ASSERT_EQ(::stat(address().folder.c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0700U);
}

TEST_P(Openings, BringsAnOlderBookToTheNewestTablesAndKeepsABackup) {
  good(opened(address())->add_site(new_site("yard"), small_site()));
  good(opened(address())->add_person({"Ada", Role::designer, "hash"}));
  const auto newer = good(opened_by_newer(address()));
  ASSERT_EQ(codes(newer->notes()), "book_migrated");
  EXPECT_EQ(good(newer->text("yard")), site::write_site(small_site()));
  EXPECT_EQ(number_in(address(), "SELECT COUNT(*) FROM people WHERE phone = ''"), 1);
  EXPECT_EQ(number_in(address(), "SELECT COUNT(*) FROM visits"), 0);
  EXPECT_EQ(codes(good(opened_by_newer(address()))->notes()), "") << "once";

  // The backup is of the book as it was: this program restores it, and a newer one brings it to its own tables.
  const std::string backup = address().folder + "/backups/before-schema-2.zpbook";
  const auto restored = opened({folder() + "/older", ""});
  EXPECT_EQ(codes(good(restored->restore(backup)).problems), "");
  EXPECT_EQ(good(restored->text("yard")), site::write_site(small_site()));
  const Address third = {folder() + "/newer", ""};
  const auto restored_newer = good(opened_by_newer(third));
  EXPECT_EQ(codes(good(restored_newer->restore(backup)).problems), "");
  EXPECT_EQ(number_in(third, "SELECT COUNT(*) FROM people WHERE phone = ''"), 1);
}

TEST_P(Openings, RefusesABookOfANewerProgram) {
  good(opened_by_newer(address()));
  EXPECT_EQ(codes(Book::open(address()).problems), "book_newer");
}

TEST_P(Openings, LeavesABookAloneWhoseMigrationFails) {
  good(opened(address())->add_site(new_site("yard"), small_site()));
  std::vector<Migration> steps = migrations();
  steps.push_back(
      {2, "CREATE TABLE visits (id {whole} NOT NULL PRIMARY KEY) {strict};\nINSERT INTO nothing VALUES (1);\n"});
  EXPECT_EQ(codes(Book::Inside::open(address(), Opening::make_missing, steps).problems), "book_database");
  EXPECT_EQ(good(opened(address())->text("yard")), site::write_site(small_site()));
  EXPECT_EQ(number_in(address(), "SELECT MAX(number) FROM book_schema"), 1);
}

TEST_P(Openings, BySeveralAtOnceMakesOneBook) {
  std::vector<std::thread> threads;
  std::vector<std::string> found(6);
  for (std::size_t i = 0; i < found.size(); ++i) {
    threads.emplace_back([&, i] {
      auto told = Book::open(address());
      if (told.answer) {
        auto added = (*told.answer)->add_site(new_site("", "e" + std::to_string(i)), small_site());
        found[i] = codes(added.problems);
      } else {
        found[i] = codes(told.problems);
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  EXPECT_THAT(found, testing::Each(""));
  EXPECT_EQ(good(opened(address())->sites()).size(), found.size());
}

TEST_P(Openings, KnowsEveryTableThatABackupMustHold) {
  opened(address());
  auto store = Store::connect(address(), Opening::existing_only);
  ASSERT_TRUE(store.answer);
  std::vector<std::string> told = {"book_schema", "logins"};  // made anew, and left out on purpose
  for (const BackedUpTable& table : kBackedUpTables) told.emplace_back(table.name);
  EXPECT_THAT((*store.answer)->tables(), testing::UnorderedElementsAreArray(told));
}

class Servers : public OnEachDatabase {
 public:
  static std::vector<const char*> all() {
    std::vector<const char*> those = databases();
    those.erase(those.begin());
    return those;
  }
  static std::string called(const testing::TestParamInfo<const char*>& info) { return name_of(info); }
};
GTEST_ALLOW_UNINSTANTIATED_PARAMETERIZED_TEST(Servers);
INSTANTIATE_TEST_SUITE_P(Book, Servers, testing::ValuesIn(Servers::all()), Servers::called);

TEST_P(Servers, MayBeAwayForAWhile) {
  const auto book = opened(address());
  good(book->add_site(new_site("yard"), small_site()));
  cut_postgresql();
  const Made made = noted(small_site(), "yard", "e1", "note");
  const auto first = book->append(made.edit, made.after);
  EXPECT_EQ(codes(first.problems), first.answer ? "" : "book_unreachable");
  const Appended again = good(book->append(made.edit, made.after));
  EXPECT_EQ(again.fate, first.answer ? Appended::Fate::repeated : Appended::Fate::kept);
  EXPECT_EQ(good(book->site("yard")).revision, 2);
}

TEST_P(Openings, PromisesWhatTheDatabaseWasToldToKeep) {
  opened(address());
  auto store = Store::connect(address(), Opening::existing_only);
  ASSERT_TRUE(store.answer);
  soci::session& sql = (*store.answer)->sql();
  if (on_postgresql()) {
    std::string commit;
    sql << "SHOW synchronous_commit", soci::into(commit);
    EXPECT_EQ(commit, "on");
    return;
  }
  // https://www.sqlite.org/pragma.html#pragma_synchronous: 2 is FULL, a commit waits for the disk in WAL as well.
  int synchronous = 0, keys = 0;
  std::string journal;
  sql << "PRAGMA synchronous", soci::into(synchronous);
  sql << "PRAGMA journal_mode", soci::into(journal);
  sql << "PRAGMA foreign_keys", soci::into(keys);
  EXPECT_EQ(synchronous, 2);
  EXPECT_EQ(journal, "wal");
  EXPECT_EQ(keys, 1);
}

TEST(ForeignFiles, AreNoBooksAndStayAsTheyAre) {
  Folder folder;
  const std::string path = folder.path() + "/book.sqlite";
  std::ofstream(path) << "a shopping list";
  EXPECT_EQ(codes(Book::open({folder.path(), ""}).problems), "book_not_a_book");
  EXPECT_EQ(bytes_of(path), "a shopping list");
  std::filesystem::remove(path);
  behind_its_back({folder.path(), ""}, "CREATE TABLE recipes (id INTEGER)");
  EXPECT_EQ(codes(Book::open({folder.path(), ""}).problems), "book_not_a_book");
}

TEST(ForeignFiles, InThePlaceOfTheFolderAreTold) {
  Folder folder;
  std::ofstream(folder.path() + "/file") << "x";
  EXPECT_EQ(codes(Book::open({folder.path() + "/file", ""}).problems), "book_folder_not_made");
  EXPECT_EQ(codes(Book::open({"", ""}).problems), "book_folder_wanted");
  EXPECT_EQ(codes(Book::open({folder.path() + "/a\"b", ""}).problems), "book_quote_in_folder");
  EXPECT_EQ(codes(Book::open({folder.path() + "/b c'd;e", ""}).problems), "");
}

TEST(Folders, MayBeRelativeAndDeep) {
  Folder folder;
  const std::filesystem::path before = std::filesystem::current_path();
  std::filesystem::current_path(folder.path());
  EXPECT_EQ(codes(Book::open({"sites", ""}).problems), "");
  EXPECT_EQ(codes(Book::open({"a/b/c/", ""}).problems), "");
  std::filesystem::current_path(before);
  EXPECT_TRUE(std::filesystem::exists(folder.path() + "/sites/book.sqlite"));
  EXPECT_TRUE(std::filesystem::exists(folder.path() + "/a/b/c/book.sqlite"));
}

TEST(Connections, WithASecretAreRefusedAndNeverRepeated) {
  Folder folder;
  for (const std::string text :
       {"host=db password=hunter2", "postgresql://ada:hunter2@db/sites", "postgresql://db/sites?password=hunter2"}) {
    const auto told = Book::open({folder.path() + "/book", text});
    ASSERT_EQ(codes(told.problems), "book_password_in_address") << text;
    EXPECT_EQ(full_text(told.problems[0]).find("hunter2"), std::string::npos);
  }
  EXPECT_EQ(codes(Book::open({folder.path() + "/book", "  "}).problems), "book_connection_empty");
}

TEST(Connections, ToNobodySayThatNobodyIsThere) {
  Folder folder;
  const auto told = Book::open({folder.path() + "/book", "host=" + folder.path() + " dbname=sites"});
  EXPECT_EQ(codes(told.problems), "book_unreachable");
  EXPECT_THAT(full_text(told.problems.at(0)), testing::HasSubstr(folder.path()));
}

/// A book with enough in it for damage to hit something.
Address filled(const Folder& folder) {
  const Address address = {folder.path() + "/book", ""};
  const auto book = opened(address);
  site::Site now = demo_site("kiln-yard");
  good(book->add_site(new_site("yard"), now));
  for (int i = 0; i < 20; ++i) {
    const Made made = noted(now, "yard", "e" + std::to_string(i), "note " + std::to_string(i));
    good(book->append(made.edit, made.after));
    now = made.after;
  }
  return address;
}

TEST(DamagedBooks, AreFoundAndNeverTakenForWhole) {
  Folder folder;
  const Address address = filled(folder);
  std::vector<std::string> texts;
  for (const Revision& revision : good(opened(address)->revisions("yard"))) {
    texts.push_back(good(opened(address)->text("yard", revision.number)));
  }
  const std::string path = address.folder + "/book.sqlite";
  const std::string whole = bytes_of(path);
  std::mt19937 random(7);
  int found = 0;
  for (int round = 0; round < 60; ++round) {
    std::string bytes = whole;
    for (int i = 0; i < 40; ++i) bytes[random() % bytes.size()] = static_cast<char>(random());
    if (round % 5 == 0) bytes.resize(bytes.size() / 2);
    std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
    const auto told = Book::open(address, Opening::existing_only);
    if (!told.answer) {
      EXPECT_FALSE(told.problems.empty());
      ++found;
      continue;
    }
    Book& book = **told.answer;
    const auto check = book.check();
    found += !check.answer || !check.answer->problems.empty() ? 1 : 0;
    // Whatever is handed out is what was kept.
    const auto revisions = book.revisions("yard");
    for (std::size_t i = 0; revisions.answer && i < revisions.answer->size(); ++i) {
      const auto text = book.text("yard", (*revisions.answer)[i].number);
      EXPECT_THAT(texts, testing::Contains(text.answer.value_or(texts[0])));
    }
  }
  EXPECT_GE(found, 55) << "forty bytes of damage are seldom missed";
}

TEST(DamagedBooks, AreToldByRevision) {
  Folder folder;
  const Address address = filled(folder);
  behind_its_back(address, "UPDATE revisions SET packed = 'AAAA' WHERE edit = 'e3'");
  behind_its_back(address, "UPDATE revisions SET patch = REPLACE(patch, 'note 7', 'note 8') WHERE edit = 'e7'");
  behind_its_back(address, "UPDATE revisions SET undo = patch WHERE edit = 'e9'");
  behind_its_back(address, "DELETE FROM revisions WHERE edit = 'e12'");
  const Check check = good(opened(address)->check());
  EXPECT_EQ(codes(check.problems),
            "book_text_damaged, book_patch_disagrees, book_undo_disagrees, book_gap, "
            "book_patch_disagrees, book_undo_disagrees");
  EXPECT_EQ(codes(opened(address)->text("yard", demo_site("kiln-yard").revision + 4).problems), "book_text_damaged");
}

}  // namespace

}  // namespace zoneproof::book
