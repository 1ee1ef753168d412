// A backup restores into any kind of book, whole; a damaged one leaves nothing behind.
#include <gmock/gmock.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>

#include "base/sha256.hpp"
#include "book/each_database.hpp"
#include "site/file.hpp"

namespace zoneproof::book {

namespace {

ON_EACH_DATABASE(Backup);

void write(const std::string& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

/// Two sites with some edits, a person, files of which one takes several lines.
void fill(Book& book) {
  site::Site now = demo_site("kiln-yard");
  good(book.add_site(new_site("yard", "first"), now));
  good(book.add_site(new_site("small", "second"), small_site("Ünder: a \"quoted\" 'name'")));
  for (int i = 1; i <= 5; ++i) {
    const Made made = noted(now, "yard", "e" + std::to_string(i), "note\n" + std::to_string(i));
    good(book.append(made.edit, made.after));
    now = made.after;
  }
  good(book.add_person({"Zoë", Role::technician, "$argon2id$..."}));
  good(book.keep_login({sha256_hex("t"), "Zoë", kNow, "2027-01-01T00:00:00Z"}));
  good(book.keep_file("a picture", "image/png", "Ada", kNow));
  good(book.keep_file(std::string(7'000'000, '\1'), "application/octet-stream", "Ada", kNow));
  good(book.keep_file("", "text/plain", "Ada", kNow));
}

TEST_P(Backup, GivesBackEverythingButLogins) {
  const std::string path = folder() + "/sites.zpbook", again = folder() + "/again.zpbook";
  const auto book = opened(address());
  fill(*book);
  const Check told = good(book->backup(path));
  EXPECT_EQ(told.sites, 2);
  EXPECT_EQ(told.revisions, 7);
  EXPECT_EQ(told.files, 3);
  EXPECT_EQ(codes(told.problems), "");
  struct stat status {};
  ASSERT_EQ(::stat(path.c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0600U) << "it holds password hashes";

  // Into SQLite, from whichever it came.
  const auto other = opened({folder() + "/other", ""});
  const Check restored = good(other->restore(path));
  EXPECT_EQ(codes(restored.problems), "");
  EXPECT_EQ(restored.revisions, 7);
  EXPECT_EQ(restored.files, 3);
  for (long long number = 0; number <= 5; ++number) {
    const long long revision = demo_site("kiln-yard").revision + number;
    EXPECT_EQ(good(other->text("yard", revision)), good(book->text("yard", revision)));
    EXPECT_EQ(good(other->revision("yard", revision)).undo, good(book->revision("yard", revision)).undo);
  }
  EXPECT_EQ(good(other->site("small")).name, "Ünder: a \"quoted\" 'name'");
  EXPECT_EQ(good(other->person("Zoë"))->password, "$argon2id$...");
  EXPECT_EQ(good(other->file_bytes(sha256_hex(std::string(7'000'000, '\1')))).size(), 7'000'000U);
  EXPECT_FALSE(good(other->login(sha256_hex("t"), kNow)));
  EXPECT_EQ(codes(good(other->check()).problems), "");
  good(other->backup(again));
  EXPECT_EQ(bytes_of(again), bytes_of(path)) << "the same book is the same backup, byte for byte";
  const Made next = noted(site_of(good(other->text("small"))), "small", "on", "goes on");
  EXPECT_EQ(good(other->append(next.edit, next.after)).fate, Appended::Fate::kept);
}

TEST_P(Backup, OfSqliteRestoresHere) {
  const std::string path = folder() + "/sites.zpbook", again = folder() + "/again.zpbook";
  const auto source = opened({folder() + "/source", ""});
  fill(*source);
  good(source->backup(path));
  const auto book = opened(address());
  EXPECT_EQ(codes(good(book->restore(path)).problems), "");
  good(book->backup(again));
  EXPECT_EQ(bytes_of(again), bytes_of(path));
  EXPECT_EQ(codes(good(book->check()).problems), "");
}

TEST_P(Backup, RestoresIntoAnEmptyBookOnly) {
  const std::string path = folder() + "/sites.zpbook";
  const auto book = opened(address());
  good(book->add_site(new_site("yard"), small_site()));
  good(book->backup(path));
  EXPECT_EQ(codes(book->restore(path).problems), "book_not_empty");
  EXPECT_EQ(good(book->sites()).size(), 1U);
}

TEST_P(Backup, ThatIsDamagedLeavesTheBookEmpty) {
  const std::string path = folder() + "/sites.zpbook", bad = folder() + "/bad.zpbook";
  {
    const auto source = opened({folder() + "/source", ""});
    good(source->add_site(new_site("yard"), small_site()));
    const Made made = noted(small_site(), "yard", "e1", "note");
    good(source->append(made.edit, made.after));
    good(source->add_person({"Ada", Role::designer, "hash"}));
    good(source->keep_file("a picture", "image/png", "Ada", kNow));
    good(source->backup(path));
  }
  const std::string whole = bytes_of(path);
  const auto book = opened(address());
  const auto refused_as = [&](const std::string& bytes) {
    write(bad, bytes);
    const auto told = book->restore(bad);
    EXPECT_FALSE(told.answer) << bytes.substr(0, 200);
    return codes(told.problems);
  };
  const auto replaced = [&](const std::string& from, const std::string& to) {
    std::string bytes = whole;
    const std::size_t at = bytes.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return bytes.replace(at, from.size(), to);
  };
  EXPECT_EQ(refused_as(""), "book_no_backup");
  EXPECT_EQ(refused_as("{}\n"), "book_no_backup");
  EXPECT_EQ(refused_as("SQLite format 3"), "book_no_backup");
  EXPECT_EQ(refused_as(std::string(1000, '[')), "book_no_backup");
  EXPECT_EQ(refused_as(replaced("\"schema\":1", "\"schema\":99")), "book_backup_newer");
  EXPECT_EQ(refused_as(replaced("\"version\":1", "\"version\":2")), "book_backup_newer");
  EXPECT_EQ(refused_as(replaced("\"schema\":1", "\"schema\":\"1\"")), "book_no_backup");
  EXPECT_EQ(refused_as(replaced("Ada", "Eve")), "book_backup_damaged");
  EXPECT_EQ(refused_as(replaced("\"designer\"", "\"emperor\"")), "book_backup_damaged");
  EXPECT_EQ(refused_as(replaced("\"table\":\"people\"", "\"table\":\"logins\"")), "book_backup_damaged");
  EXPECT_EQ(refused_as(replaced("\"table\":\"people\"", "\"table\":\"people; DROP TABLE sites\"")),
            "book_backup_damaged");
  EXPECT_EQ(refused_as(replaced("\"password\":", "\"password) --\":")), "book_backup_damaged");
  EXPECT_EQ(refused_as(replaced("\"number\":\"1\"", "\"number\":\"1 OR 1\"")), "book_backup_damaged");
  EXPECT_EQ(refused_as(replaced("YSBwaWN0dXJl", "YiBwaWN0dXJl")), "book_backup_damaged");
  EXPECT_EQ(refused_as(whole + "\n"), "book_backup_damaged");
  EXPECT_EQ(refused_as(whole + whole), "book_backup_damaged");
  EXPECT_EQ(codes(book->restore(folder() + "/none").problems), "file_missing");
  EXPECT_EQ(codes(book->restore(folder()).problems), "file_missing");

  // Cut off anywhere, or any one byte another: nothing of it is taken.
  std::mt19937 random(11);
  for (int round = 0; round < (on_postgresql() ? 10 : 150); ++round) {
    EXPECT_NE(refused_as(whole.substr(0, random() % whole.size())), "");
    std::string bytes = whole;
    char& byte = bytes[random() % bytes.size()];
    byte = static_cast<char>(byte ^ (1U << random() % 8U));
    EXPECT_NE(refused_as(bytes), "");
  }
  EXPECT_TRUE(good(book->sites()).empty());
  EXPECT_TRUE(good(book->people()).empty());
  EXPECT_EQ(codes(good(book->restore(path)).problems), "") << "and the whole one is taken after all that";
}

TEST_P(Backup, OfADamagedBookTellsWhatIsLost) {
  const std::string path = folder() + "/sites.zpbook";
  const auto book = opened(address());
  good(book->add_site(new_site("yard"), small_site()));
  const std::string sha256 = good(book->keep_file("a picture", "image/png", "Ada", kNow)).sha256;
  std::filesystem::remove(address().folder + "/files/" + sha256.substr(0, 2) + "/" + sha256.substr(2));
  EXPECT_EQ(codes(good(book->backup(path)).problems), "book_file_lost");
  const auto other = opened({folder() + "/other", ""});
  EXPECT_EQ(codes(good(other->restore(path)).problems), "book_file_lost");
  EXPECT_EQ(good(other->text("yard")), site::write_site(small_site()));
}

TEST_P(Backup, ThatCannotBeWrittenSaysSo) {
  const auto book = opened(address());
  EXPECT_EQ(codes(book->backup(folder() + "/none/sites.zpbook").problems), "file_not_written");
  EXPECT_EQ(codes(book->backup("/dev/full/x").problems), "file_not_written");
  std::filesystem::create_directory(folder() + "/taken");
  EXPECT_EQ(codes(book->backup(folder() + "/taken").problems), "file_not_written");
  for (const auto& entry : std::filesystem::directory_iterator(folder())) {
    EXPECT_EQ(entry.path().string().find(".saving-"), std::string::npos) << "nothing is left beside it";
  }
}

}  // namespace

}  // namespace zoneproof::book
