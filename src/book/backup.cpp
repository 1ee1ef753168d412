#include <nlohmann/json.hpp>

#include "book/backup_file.hpp"
#include "book/backup_lines.hpp"
#include "book/base64.hpp"
#include "book/file_shelf.hpp"
#include "book/inside.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

using Json = nlohmann::ordered_json;

namespace {

constexpr int kRowsAtOnce = 200;                           // in memory; PostgreSQL hands over whole answers
constexpr std::size_t kFilePiece = std::size_t{3} << 20U;  // bytes of a file in a line; divisible by 3

/// All rows of a table as lines; texts as they are, whole numbers in digits.
long long write_rows(Store& store, const BackedUpTable& table, LineWriter& out) {
  const std::string name(table.name);
  const auto columns = store.columns(name);
  if (columns.empty()) return 0;  // an older book has no such table yet
  std::string listed;
  for (const auto& column : columns) listed += (listed.empty() ? "CAST(" : ", CAST(") + column.name + " AS TEXT)";
  const std::string question =
      "SELECT " + listed + " FROM " + name + " ORDER BY " + std::string(table.key) + " LIMIT :most OFFSET :done";
  for (long long done = 0;;) {
    std::vector<std::string> values(columns.size());
    soci::statement page(store.sql());
    for (std::string& value : values) page.exchange(soci::into(value));
    page.exchange(soci::use(kRowsAtOnce));
    page.exchange(soci::use(done));
    page.alloc();
    page.prepare(question);
    page.define_and_bind();
    page.execute();
    long long found = 0;
    for (; page.fetch(); ++found) {
      Json row;
      for (std::size_t i = 0; i < values.size(); ++i) row[columns[i].name] = values[i];
      out.line(Json{{"table", name}, {"row", std::move(row)}}.dump());
    }
    done += found;
    if (found < kRowsAtOnce) return done;
  }
}

void write_file(const std::string& sha256, std::string_view bytes, LineWriter& out) {
  do {
    out.line(Json{{"file", sha256}, {"base64", base64(bytes.substr(0, kFilePiece))}}.dump());
    bytes.remove_prefix(std::min(bytes.size(), kFilePiece));
  } while (!bytes.empty());
}

}  // namespace

Answered<Check> write_backup(Store& store, int schema, const std::string& path, const results::Progress& progress) {
  Check check;
  LineWriter out(path);
  out.line(Json{{"format", "zoneproof-book"}, {"version", 1}, {"schema", schema}}.dump());
  for (const BackedUpTable& table : kBackedUpTables) {
    if (progress) progress(text(say::book_progress_table(std::string(table.name))));
    const long long rows = write_rows(store, table, out);
    if (table.name == "sites") check.sites = rows;
    if (table.name == "revisions") check.revisions = rows;
  }
  for (const FileEntry& file : file_rows(store)) {
    const auto bytes = bytes_of(store, file.sha256);
    check.problems.insert(check.problems.end(), bytes.problems.begin(), bytes.problems.end());
    if (!bytes.answer) continue;
    write_file(file.sha256, *bytes.answer, out);
    ++check.files;
  }
  const LineChain chain = out.chain();
  out.line(Json{{"lines", chain.lines()}, {"sha256", chain.sha256()}}.dump());
  if (const auto problem = out.finish()) return refused<Check>(*problem);
  return {std::move(check), {}};
}

Answered<Check> Book::backup(const std::string& path, const results::Progress& progress) {
  // On a connection of its own: nobody has to wait for it.
  const auto own = Store::connect(inside_->store->address(), Opening::existing_only);
  if (!own.answer) return refused<Check>(own.problems);
  return guarded<Check>(inside_->store->address(), [&]() -> Answered<Check> {
    const Looking looking(**own.answer);
    return write_backup(**own.answer, inside_->schema(), path, progress);
  });
}

}  // namespace zoneproof::book
