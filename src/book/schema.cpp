#include "book/schema.hpp"

#include <algorithm>
#include <stdexcept>

#include "base/embedded.hpp"

namespace zoneproof::book {

namespace {

constexpr std::string_view kFolder = "book/";

std::vector<Migration> embedded_migrations() {
  std::vector<Migration> found;
  for (const EmbeddedFile& file : embedded_files()) {
    if (file.path.rfind(kFolder, 0) != 0) continue;
    const int number = std::stoi(std::string(file.path.substr(kFolder.size(), 3)));
    found.push_back({number, file.bytes});
    if (number != static_cast<int>(found.size())) throw std::logic_error("the steps of data/book have a gap");
  }
  return found;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

std::string in_dialect(std::string_view sql, bool postgresql) {
  std::string out(sql);
  replace_all(out, "{text}", postgresql ? "TEXT COLLATE \"C\"" : "TEXT");
  replace_all(out, "{whole}", postgresql ? "BIGINT" : "INTEGER");
  replace_all(out, "{strict}", postgresql ? "" : "STRICT");
  return out;
}

/// Lines of comment are left out: what stands in them is no parameter of a statement.
std::vector<std::string> statements_of(const std::string& sql) {
  std::vector<std::string> statements;
  std::string one;
  for (std::size_t at = 0; at < sql.size();) {
    const std::size_t end = std::min(sql.find('\n', at), sql.size());
    const std::string_view line(sql.data() + at, end - at);
    at = end + 1;
    if (line.empty() || line.rfind("--", 0) == 0) continue;
    one += std::string(line) + "\n";
    if (line.back() != ';') continue;
    one.resize(one.size() - 2);
    statements.push_back(std::move(one));
    one.clear();
  }
  if (!one.empty()) throw std::logic_error("a statement of data/book does not end");
  return statements;
}

}  // namespace

const std::vector<Migration>& migrations() {
  static const std::vector<Migration> all = embedded_migrations();
  return all;
}

std::optional<int> schema_of(Store& store) {
  if (store.columns("book_schema").empty()) return store.tables().empty() ? std::optional(0) : std::nullopt;
  int number = 0;
  soci::indicator found = soci::i_null;
  store.sql() << "SELECT MAX(number) FROM book_schema", soci::into(number, found);
  if (found != soci::i_ok) return std::nullopt;
  return number;
}

void migrate(Store& store, const std::vector<Migration>& steps, int from, int to) {
  soci::session& sql = store.sql();
  if (from == 0) {
    sql << in_dialect("CREATE TABLE book_schema (number {whole} NOT NULL PRIMARY KEY) {strict}", store.postgresql());
  }
  for (const Migration& step : steps) {
    if (step.number <= from || step.number > to) continue;
    for (const std::string& statement : statements_of(in_dialect(step.sql, store.postgresql()))) sql << statement;
    sql << "INSERT INTO book_schema (number) VALUES (:n)", soci::use(step.number);
  }
}

void drop_tables(Store& store) {
  for (const std::string& table : store.tables()) {
    store.sql() << "DROP TABLE \"" + table + "\"" + (store.postgresql() ? " CASCADE" : "");
  }
}

}  // namespace zoneproof::book
