#include "book/check.hpp"

#include <limits>

#include "book/file_shelf.hpp"
#include "book/history.hpp"
#include "book/inside.hpp"
#include "messages/book.hpp"
#include "site/file.hpp"
#include "site/patch.hpp"

namespace zoneproof::book {

namespace {

constexpr std::size_t kPage = 100;  // revisions in memory at a time

/// Looks through one site, revision by revision.
class SiteCheck {
 public:
  SiteCheck(Store& store, const SiteEntry& entry, Depth depth, Check& check)
      : store_(store), entry_(entry), depth_(depth), check_(check) {}

  void run() {
    long long last = -1;
    for (;;) {
      const auto page = revision_rows(store_, entry_.id, last, std::numeric_limits<long long>::max(), false, kPage);
      for (const Revision& revision : page) {
        if (last >= 0 && revision.number != last + 1) check_.problems.push_back(say::book_gap(entry_.id, last + 1));
        look_at(revision, last < 0);
        last = revision.number;
      }
      if (page.size() < kPage) break;
    }
    if (last != entry_.revision) check_.problems.push_back(say::book_last_disagrees(entry_.id, entry_.revision, last));
  }

 private:
  void look_at(const Revision& revision, bool first) {
    ++check_.revisions;
    const auto text = text_at(store_, entry_.id, revision.number);
    if (!text) {
      check_.problems.push_back(say::book_text_damaged(entry_.id, revision.number));
      before_.reset();
      return;
    }
    if (depth_ == Depth::texts) return;
    std::optional<site::Site> now = as_written_today(*text);
    if (!first && before_ && now) look_at_patches(revision, *before_, *now);
    before_ = std::move(now);
  }

  /// The site; nothing where it was written in an older format or under other rules: its patches belonged to those, and
  /// the text is the witness that counts.
  static std::optional<site::Site> as_written_today(const std::string& text) {
    site::ReadResult read = site::read_site(text, "site");
    if (!read.site || site::write_site(*read.site) != text) return std::nullopt;
    return std::move(read.site);
  }

  void look_at_patches(const Revision& revision, const site::Site& before, const site::Site& now) {
    const auto made = site::apply_patch(before, revision.patch, "patch");
    if (!made.site || !site::same_site(*made.site, now)) {
      check_.problems.push_back(say::book_patch_disagrees(entry_.id, revision.number));
    }
    auto undone = site::apply_patch(now, revision.undo, "undo");
    if (undone.site) undone.site->revision = before.revision;
    if (!undone.site || !site::same_site(*undone.site, before)) {
      check_.problems.push_back(say::book_undo_disagrees(entry_.id, revision.number));
    }
  }

  Store& store_;
  const SiteEntry& entry_;
  Depth depth_;
  Check& check_;
  std::optional<site::Site> before_;
};

void check_files(Store& store, Check& check) {
  for (const FileEntry& file : file_rows(store)) {
    ++check.files;
    const auto bytes = bytes_of(store, file.sha256);
    for (const Message& problem : bytes.problems) check.problems.push_back(problem);
  }
}

/// Sites whose last revision is missing: they are in no list.
void check_lost_sites(Store& store, Check& check) {
  const soci::rowset<std::string> lost =
      store.sql().prepare << "SELECT s.id FROM sites s WHERE NOT EXISTS (SELECT 1 FROM revisions r WHERE r.site = s.id "
                             "AND r.number = s.revision) ORDER BY s.id";
  for (const std::string& id : lost) check.problems.push_back(say::book_site_lost(id));
}

}  // namespace

std::vector<Message> check_database(Store& store) {
  std::vector<Message> problems;
  if (store.postgresql()) return problems;  // it has no such check of its own; each row is read by what follows
  soci::session& sql = store.sql();
  const soci::rowset<std::string> found = sql.prepare << "PRAGMA integrity_check(20)";
  for (const std::string& line : found) {
    if (line != "ok") problems.push_back(say::book_damaged(store.address().folder, line));
  }
  int lost = 0;
  sql << "SELECT COUNT(*) FROM pragma_foreign_key_check", soci::into(lost);
  if (lost > 0) problems.push_back(say::book_references_lost(lost));
  return problems;
}

Check check_book(Store& store, Depth depth, const results::Progress& progress) {
  Check check;
  check.problems = check_database(store);
  check_lost_sites(store, check);
  for (const SiteEntry& entry : site_rows(store)) {
    ++check.sites;
    if (progress) progress(text(say::book_progress_site(entry.id)));
    SiteCheck(store, entry, depth, check).run();
  }
  check_files(store, check);
  return check;
}

Answered<Check> Book::check(const results::Progress& progress) {
  // On a connection of its own: nobody has to wait for it.
  const auto own = Store::connect(inside_->store->address(), Opening::existing_only);
  if (!own.answer) return refused<Check>(own.problems);
  return guarded<Check>(inside_->store->address(), [&]() -> Answered<Check> {
    const Looking looking(**own.answer);
    return {check_book(**own.answer, Depth::patches, progress), {}};
  });
}

}  // namespace zoneproof::book
