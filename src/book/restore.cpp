#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "base/json_text.hpp"
#include "base/sha256.hpp"
#include "book/backup_file.hpp"
#include "book/backup_lines.hpp"
#include "book/base64.hpp"
#include "book/check.hpp"
#include "book/file_shelf.hpp"
#include "book/forms.hpp"
#include "book/inside.hpp"
#include "messages/base.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

using Json = nlohmann::ordered_json;

namespace {

constexpr int kBackupVersion = 1;

bool is_whole(const std::string& text) {
  const std::size_t sign = text.rfind('-', 0) == 0 ? 1 : 0;
  return text.size() > sign && text.size() <= 18 && text.find_first_not_of("0123456789", sign) == std::string::npos;
}

/// Takes the lines of a backup one after the other. The first thing that is wrong ends it.
class Restoring {
 public:
  Restoring(Store& store, const std::vector<Migration>& steps, const std::string& path)
      : store_(store), steps_(steps), path_(path), lines_(path) {}

  std::optional<Message> run(const results::Progress& progress) {
    if (!lines_.is_open()) return say::file_missing(path_);
    if (auto problem = read_head()) return problem;
    drop_tables(store_);
    migrate(store_, steps_, 0, schema_);
    while (const auto line = lines_.next()) {
      if (progress && lines_.line() % 500 == 0) progress(text(say::book_progress_lines(lines_.line())));
      if (finished_) return damaged(say::book_line_after_end());
      if (auto problem = take(*line)) return problem;
    }
    if (lines_.damaged()) return damaged(say::book_line_unreadable());
    if (!finished_) return damaged(say::book_backup_cut_off());
    migrate(store_, steps_, schema_, steps_.back().number);
    return std::nullopt;
  }

  /// Number of the line that was read last.
  long long line() const { return lines_.line(); }

 private:
  Message damaged(const Message& why) const { return say::book_backup_damaged(path_, lines_.line(), text(why)); }

  static std::optional<Json> object_of(const std::string& line) {
    std::vector<Message> problems;
    Json value = parse_json(line, "", problems);
    if (any_error(problems) || !value.is_object()) return std::nullopt;
    return value;
  }
  static std::string text_in(const Json& object, const char* key) {
    const auto found = object.find(key);
    return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
  }
  static long long number_in(const Json& object, const char* key) {
    const auto found = object.find(key);
    return found != object.end() && found->is_number_integer() ? found->get<long long>() : -1;
  }

  std::optional<Message> read_head() {
    const auto line = lines_.next();
    const auto head = line ? object_of(*line) : std::nullopt;
    if (!head || text_in(*head, "format") != "zoneproof-book") return say::book_no_backup(path_);
    const long long version = number_in(*head, "version"), schema = number_in(*head, "schema");
    if (version > kBackupVersion || schema > steps_.back().number) return say::book_backup_newer(path_);
    if (version < 1 || schema < 1) return say::book_no_backup(path_);
    schema_ = static_cast<int>(schema);
    chain_.add(*line);
    return std::nullopt;
  }

  std::optional<Message> take(const std::string& line) {
    const auto object = object_of(line);
    if (!object) return damaged(say::book_line_unreadable());
    const bool piece = object->contains("file");
    if (!piece || text_in(*object, "file") != file_) {
      if (auto problem = end_file()) return problem;
    }
    if (object->contains("lines")) return take_end(*object);
    chain_.add(line);
    return piece ? take_piece(*object) : take_row(*object);
  }

  std::optional<Message> take_end(const Json& object) {
    if (number_in(object, "lines") != chain_.lines() || text_in(object, "sha256") != chain_.sha256()) {
      return damaged(say::book_chain_disagrees());
    }
    finished_ = true;
    return std::nullopt;
  }

  std::optional<Message> take_piece(const Json& object) {
    file_ = text_in(object, "file");
    const auto bytes = from_base64(text_in(object, "base64"));
    if (!is_sha256(file_) || !bytes || bytes_.size() + bytes->size() > kLongestFile) {
      return damaged(say::book_line_unreadable());
    }
    bytes_ += *bytes;
    return std::nullopt;
  }

  std::optional<Message> end_file() {
    if (file_.empty()) return std::nullopt;
    if (sha256_hex(bytes_) != file_) return damaged(say::book_file_other_bytes());
    auto problem = save_bytes(store_, file_, bytes_);
    file_.clear();
    bytes_.clear();
    return problem && kind_of(problem->code).severity == Severity::error ? problem : std::nullopt;
  }

  std::optional<Message> take_row(const Json& object) {
    const std::string table = text_in(object, "table");
    const bool known = std::any_of(kBackedUpTables.begin(), kBackedUpTables.end(),
                                   [&](const BackedUpTable& one) { return one.name == table; });
    if (!known || !object.contains("row")) return damaged(say::book_line_unreadable());
    if (table != table_) {
      table_ = table;
      columns_ = store_.columns(table);
    }
    std::vector<std::string> values;
    const Json& row = object["row"];
    if (columns_.empty() || !row.is_object() || row.size() != columns_.size()) {
      return damaged(say::book_line_unreadable());
    }
    for (const auto& column : columns_) {
      const auto found = row.find(column.name);
      if (found == row.end() || !found->is_string()) return damaged(say::book_line_unreadable());
      values.push_back(found->get<std::string>());
      const bool good = column.whole ? is_whole(values.back()) : values.back().find('\0') == std::string::npos;
      if (!good) return damaged(say::book_line_unreadable());
    }
    insert(values);
    return std::nullopt;
  }

  /// Names of columns are those of the table, never the file's.
  void insert(const std::vector<std::string>& values) {
    std::string names, places;
    for (const auto& column : columns_) {
      const std::string place = ":" + column.name;
      names += (names.empty() ? "" : ", ") + column.name;
      places += (places.empty() ? "" : ", ") + (column.whole ? "CAST(" + place + " AS BIGINT)" : place);
    }
    soci::statement row(store_.sql());
    for (const std::string& value : values) row.exchange(soci::use(value));
    row.alloc();
    row.prepare("INSERT INTO " + table_ + " (" + names + ") VALUES (" + places + ")");
    row.define_and_bind();
    row.execute(true);
  }

  Store& store_;
  const std::vector<Migration>& steps_;
  std::string path_;
  LineReader lines_;
  LineChain chain_;
  int schema_ = 0;
  bool finished_ = false;
  std::string table_;
  std::vector<Store::Column> columns_;
  std::string file_, bytes_;  ///< a file whose pieces are coming in
};

bool is_empty(Store& store) {
  for (const BackedUpTable& table : kBackedUpTables) {
    int count = 0;
    store.sql() << "SELECT COUNT(*) FROM " + std::string(table.name), soci::into(count);
    if (count > 0) return false;
  }
  return true;
}

}  // namespace

Answered<Check> read_backup(Store& store, const std::vector<Migration>& steps, const std::string& path,
                            const results::Progress& progress) {
  Writing writing(store);
  if (!is_empty(store)) return refused<Check>(say::book_not_empty(store.address().folder));
  Restoring restoring(store, steps, path);
  try {
    if (const auto problem = restoring.run(progress)) return refused<Check>(*problem);
  } catch (const soci::soci_error&) {
    if (!is_contradiction()) throw;
    return refused<Check>(say::book_backup_damaged(path, restoring.line(), text(say::book_row_refused())));
  }
  Check check = check_book(store, Depth::texts, progress);
  writing.commit();
  return {std::move(check), {}};
}

Answered<Check> Book::restore(const std::string& path, const results::Progress& progress) {
  return inside_->in_turn<Check>([&](Store& store) { return read_backup(store, inside_->steps, path, progress); });
}

}  // namespace zoneproof::book
