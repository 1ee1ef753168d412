#include "book/history.hpp"

#include "base/sha256.hpp"
#include "book/packed_text.hpp"

namespace zoneproof::book {

namespace {

const std::string kColumns = "number, sha256, edit, who, made_at, why, patch, undo";

/// A text is compressed against the last that stands by itself, as long as that saves much and the chain of reading
/// stays short: one step. Then the next one stands by itself.
constexpr std::size_t kLeastSaving = 4;
constexpr long long kMostAgainstOne = 500;

struct RevisionReader {
  Revision row;
  void into(soci::statement& statement) {
    statement.exchange(soci::into(row.number));
    for (std::string* text : {&row.sha256, &row.edit, &row.who, &row.when, &row.why, &row.patch, &row.undo}) {
      statement.exchange(soci::into(*text));
    }
  }
};

/// Runs a question for revisions whose uses have been exchanged already.
std::vector<Revision> rows_of(soci::statement& statement, const std::string& question) {
  RevisionReader reader;
  reader.into(statement);
  statement.alloc();
  statement.prepare(question);
  statement.define_and_bind();
  statement.execute();
  std::vector<Revision> rows;
  while (statement.fetch()) rows.push_back(reader.row);
  return rows;
}

std::optional<Revision> one_of(std::vector<Revision> rows) {
  if (rows.empty()) return std::nullopt;
  return std::move(rows.front());
}

struct PackedText {
  long long against = 0;
  std::string sha256, packed;
};

std::optional<PackedText> packed_at(Store& store, const std::string& site, long long number) {
  PackedText found;
  soci::session& sql = store.sql();
  sql << "SELECT packed_against, sha256, packed FROM revisions WHERE site = :s AND number = :n", soci::use(site),
      soci::use(number), soci::into(found.against), soci::into(found.sha256), soci::into(found.packed);
  if (!sql.got_data()) return std::nullopt;
  return found;
}

std::optional<std::string> checked(std::optional<std::string> text, const std::string& sha256) {
  if (text && sha256_hex(*text) != sha256) return std::nullopt;
  return text;
}

/// The text that the last revision of a site is compressed against: number and text.
struct Whole {
  long long number = 0;
  std::string text;
  std::size_t packed_size = 0;
};

std::optional<Whole> last_whole(Store& store, const std::string& site, long long last) {
  const auto of_last = packed_at(store, site, last);
  if (!of_last) return std::nullopt;
  const auto whole = of_last->against == last ? of_last : packed_at(store, site, of_last->against);
  if (!whole) return std::nullopt;
  auto text = checked(unpacked(whole->packed), whole->sha256);
  if (!text) return std::nullopt;  // damaged: what comes now shall not rest on it
  return Whole{of_last->against, std::move(*text), whole->packed.size()};
}

/// What is kept of a text, and against which revision's.
PackedText packed_for(Store& store, const std::string& site, long long number, std::string_view text) {
  if (const auto whole = last_whole(store, site, number - 1); whole && number - whole->number < kMostAgainstOne) {
    std::string small = packed(text, whole->text);
    if (small.size() * kLeastSaving < whole->packed_size) return {whole->number, "", std::move(small)};
  }
  return {number, "", packed(text)};
}

const char* const kSiteQuestion =
    "SELECT s.id, s.name, s.revision, r.sha256, r.who, r.made_at FROM sites s JOIN revisions r ON r.site = s.id AND "
    "r.number = s.revision";

std::vector<SiteEntry> entries_of(soci::statement& statement, const std::string& question) {
  SiteEntry row;
  statement.exchange(soci::into(row.id));
  statement.exchange(soci::into(row.name));
  statement.exchange(soci::into(row.revision));
  for (std::string* text : {&row.sha256, &row.who, &row.when}) statement.exchange(soci::into(*text));
  statement.alloc();
  statement.prepare(question);
  statement.define_and_bind();
  statement.execute();
  std::vector<SiteEntry> rows;
  while (statement.fetch()) rows.push_back(row);
  return rows;
}

}  // namespace

std::optional<SiteEntry> site_row(Store& store, const std::string& id) {
  soci::statement statement(store.sql());
  statement.exchange(soci::use(id));
  std::vector<SiteEntry> rows = entries_of(statement, std::string(kSiteQuestion) + " WHERE s.id = :i");
  if (rows.empty()) return std::nullopt;
  return rows.front();
}

std::vector<SiteEntry> site_rows(Store& store) {
  soci::statement statement(store.sql());
  return entries_of(statement, std::string(kSiteQuestion) + " ORDER BY s.id");
}

std::optional<Revision> revision_row(Store& store, const std::string& site, long long number) {
  soci::statement statement(store.sql());
  statement.exchange(soci::use(site));
  statement.exchange(soci::use(number));
  return one_of(rows_of(statement, "SELECT " + kColumns + " FROM revisions WHERE site = :s AND number = :n"));
}

std::optional<Revision> revision_of_edit(Store& store, const std::string& site, const std::string& edit) {
  soci::statement statement(store.sql());
  statement.exchange(soci::use(edit));
  statement.exchange(soci::use(site));
  return one_of(rows_of(statement, "SELECT " + kColumns + " FROM revisions WHERE edit = :e AND site = :s"));
}

std::string site_made_by(Store& store, const std::string& edit) {
  std::string site;
  soci::session& sql = store.sql();
  sql << "SELECT r.site FROM revisions r WHERE r.edit = :e AND r.number = (SELECT MIN(q.number) FROM revisions q WHERE "
         "q.site = r.site)",
      soci::use(edit), soci::into(site);
  return sql.got_data() ? site : "";
}

std::vector<Revision> revision_rows(Store& store, const std::string& site, long long above, long long below,
                                    bool newest_first, std::size_t most) {
  const auto limit = static_cast<long long>(most);
  soci::statement statement(store.sql());
  statement.exchange(soci::use(site));
  statement.exchange(soci::use(above));
  statement.exchange(soci::use(below));
  statement.exchange(soci::use(limit));
  return rows_of(statement, "SELECT " + kColumns +
                                " FROM revisions WHERE site = :s AND number > :a AND number < :b ORDER BY number " +
                                (newest_first ? "DESC" : "ASC") + " LIMIT :l");
}

long long first_number(Store& store, const std::string& site) {
  long long number = 0;
  soci::indicator found = soci::i_null;
  store.sql() << "SELECT MIN(number) FROM revisions WHERE site = :s", soci::use(site), soci::into(number, found);
  return number;
}

std::optional<std::string> text_at(Store& store, const std::string& site, long long number) {
  const auto found = packed_at(store, site, number);
  if (!found) return std::nullopt;
  if (found->against == number) return checked(unpacked(found->packed), found->sha256);
  const auto whole = packed_at(store, site, found->against);
  if (!whole || whole->against != found->against) return std::nullopt;
  const auto before = checked(unpacked(whole->packed), whole->sha256);
  if (!before) return std::nullopt;
  return checked(unpacked(found->packed, *before), found->sha256);
}

void add_site_row(Store& store, const std::string& id, const std::string& name, long long revision) {
  store.sql() << "INSERT INTO sites (id, name, revision) VALUES (:i, :n, :r)", soci::use(id), soci::use(name),
      soci::use(revision);
}

void add_revision(Store& store, const std::string& site, const std::string& name, const Revision& revision,
                  std::string_view text) {
  const PackedText kept = packed_for(store, site, revision.number, text);
  soci::session& sql = store.sql();
  sql << "INSERT INTO revisions (site, number, edit, sha256, who, made_at, why, patch, undo, packed_against, packed) "
         "VALUES (:site, :number, :edit, :sha, :who, :made, :why, :patch, :undo, :against, :packed)",
      soci::use(site), soci::use(revision.number), soci::use(revision.edit), soci::use(revision.sha256),
      soci::use(revision.who), soci::use(revision.when), soci::use(revision.why), soci::use(revision.patch),
      soci::use(revision.undo), soci::use(kept.against), soci::use(kept.packed);
  sql << "UPDATE sites SET revision = :r, name = :n WHERE id = :i", soci::use(revision.number), soci::use(name),
      soci::use(site);
}

}  // namespace zoneproof::book
