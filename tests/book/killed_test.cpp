// What was acknowledged is there, whenever the writer is killed. ZONEPROOF_KILLS says how often (bench/book.sh: 50).
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <random>
#include <set>
#include <thread>

#include "book/each_database.hpp"

namespace zoneproof::book {

namespace {

ON_EACH_DATABASE(Killed);

/// A writer of its own process, and what it says.
class Writer {
 public:
  Writer(const Address& address, const std::string& name) {
    int ends[2];
    if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
    process_ = ::fork();
    if (process_ == 0) {
      ::dup2(ends[1], STDOUT_FILENO);
      ::close(ends[0]);
      ::close(ends[1]);
      ::execl(ZONEPROOF_BOOK_WRITER, ZONEPROOF_BOOK_WRITER, address.folder.c_str(), "yard", name.c_str(),
              address.postgresql.empty() ? nullptr : address.postgresql.c_str(), nullptr);
      ::_exit(127);
    }
    ::close(ends[1]);
    from_ = ends[0];
  }
  ~Writer() {
    if (from_ >= 0) kill();
  }
  Writer(const Writer&) = delete;
  Writer& operator=(const Writer&) = delete;

  void wait_for_first() {
    char byte = 0;
    if (::read(from_, &byte, 1) == 1) said_.push_back(byte);
  }

  /// Kills it and returns the ids that it has told whole.
  std::vector<std::string> kill() {
    ::kill(process_, SIGKILL);
    char block[4096];
    for (ssize_t count = ::read(from_, block, sizeof block); count > 0; count = ::read(from_, block, sizeof block)) {
      said_.append(block, static_cast<std::size_t>(count));
    }
    ::close(from_);
    from_ = -1;
    ::waitpid(process_, nullptr, 0);
    std::vector<std::string> ids;
    for (std::size_t at = 0, end = 0; (end = said_.find('\n', at)) != std::string::npos; at = end + 1) {
      ids.push_back(said_.substr(at, end - at));
    }
    return ids;
  }

 private:
  pid_t process_ = -1;
  int from_ = -1;
  std::string said_;
};

int kills_wanted() {
  const char* said = std::getenv("ZONEPROOF_KILLS");
  return said == nullptr ? 4 : std::atoi(said);
}

std::set<std::string> edits_in(Book& book) {
  std::set<std::string> edits;
  for (const Revision& revision : good(book.revisions("yard", std::nullopt, 1'000'000))) {
    EXPECT_TRUE(edits.insert(revision.edit).second) << revision.edit << " is there twice";
  }
  return edits;
}

TEST_P(Killed, WritersLoseNothingThatWasAcknowledged) {
  good(opened(address())->add_site(new_site("yard"), small_site()));
  std::mt19937 random(20260301);
  std::size_t acknowledged = 0;
  for (int round = 0; round < kills_wanted(); ++round) {
    // Two at a time, so that one is killed while the other waits, writes or reads.
    Writer one(address(), "r" + std::to_string(round) + "a"), other(address(), "r" + std::to_string(round) + "b");
    one.wait_for_first();
    std::this_thread::sleep_for(std::chrono::microseconds(random() % 150'000));
    std::vector<std::string> ids = one.kill();
    std::this_thread::sleep_for(std::chrono::microseconds(random() % 20'000));
    const std::vector<std::string> more = other.kill();
    ids.insert(ids.end(), more.begin(), more.end());
    const auto book = opened(address(), Opening::existing_only);
    const std::set<std::string> kept = edits_in(*book);
    for (const std::string& id : ids) EXPECT_EQ(kept.count(id), 1U) << id << " was acknowledged and is lost";
    acknowledged += ids.size();
    // At most what each was writing when it was killed may be there without having been told.
    EXPECT_LE(kept.size(), acknowledged + 1 + 2 * static_cast<std::size_t>(round + 1));
  }
  EXPECT_GT(acknowledged, 4U * static_cast<std::size_t>(kills_wanted()));
  const Check check = good(opened(address())->check());
  EXPECT_EQ(codes(check.problems), "");
  EXPECT_GE(check.revisions, static_cast<long long>(acknowledged));
}

TEST_P(Killed, ReadersAndOtherWritersGoOn) {
  const auto book = opened(address());
  good(book->add_site(new_site("yard"), small_site()));
  Writer writer(address(), "w");
  writer.wait_for_first();
  for (int i = 0; i < 20; ++i) {
    const site::Site now = site_of(good(book->text("yard")));
    const Made made = noted(now, "yard", "mine-" + std::to_string(i), "mine");
    const Appended appended = good(book->append(made.edit, made.after));
    EXPECT_EQ(appended.fate == Appended::Fate::conflict, !appended.since.empty());
  }
  writer.kill();
  EXPECT_EQ(codes(good(book->check()).problems), "");
}

}  // namespace

}  // namespace zoneproof::book
