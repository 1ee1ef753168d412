#include <filesystem>

#include "base/file.hpp"
#include "base/sha256.hpp"
#include "book/file_shelf.hpp"
#include "book/forms.hpp"
#include "book/inside.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

constexpr std::size_t kLongestKind = 100;

std::vector<FileEntry> rows_of(Store& store, const std::string& sha256) {
  FileEntry row;
  soci::statement statement(store.sql());
  if (!sha256.empty()) statement.exchange(soci::use(sha256));
  statement.exchange(soci::into(row.sha256));
  statement.exchange(soci::into(row.kind));
  statement.exchange(soci::into(row.bytes));
  statement.exchange(soci::into(row.who));
  statement.exchange(soci::into(row.when));
  statement.alloc();
  statement.prepare(std::string("SELECT sha256, kind, bytes, who, made_at FROM files ") +
                    (sha256.empty() ? "ORDER BY sha256" : "WHERE sha256 = :s"));
  statement.define_and_bind();
  statement.execute();
  std::vector<FileEntry> rows;
  while (statement.fetch()) rows.push_back(row);
  return rows;
}

/// Whether the whole file is on the disk: one that a full disk or a damaged one has spoilt is written again.
bool is_there(const std::string& path, const std::string& sha256) {
  std::vector<Message> ignored;
  const auto bytes = read_file(path, ignored, kLongestFile);
  return bytes && sha256_hex(*bytes) == sha256;
}

}  // namespace

std::string file_path(const Store& store, const std::string& sha256) {
  return store.files_folder() + "/" + sha256.substr(0, 2) + "/" + sha256.substr(2);
}

std::optional<Message> save_bytes(const Store& store, const std::string& sha256, std::string_view bytes) {
  const std::string path = file_path(store, sha256);
  if (is_there(path, sha256)) return std::nullopt;
  const std::string folder = std::filesystem::path(path).parent_path();
  std::error_code error;
  if (std::filesystem::create_directories(folder, error)) {  // what they stand in must keep their names, too
    sync_folder(store.files_folder());
    sync_folder(store.address().folder);
  }
  if (error) return say::book_folder_not_made(folder, error.message());
  return save_file(path, bytes);
}

Answered<std::string> bytes_of(const Store& store, const std::string& sha256) {
  std::vector<Message> problems;
  auto bytes = read_file(file_path(store, sha256), problems, kLongestFile);
  if (!bytes) return refused<std::string>(say::book_file_lost(sha256, text(problems.front())));
  if (sha256_hex(*bytes) != sha256) return refused<std::string>(say::book_file_damaged(sha256));
  return {std::move(bytes), {}};
}

std::optional<FileEntry> file_row(Store& store, const std::string& sha256) {
  std::vector<FileEntry> rows = rows_of(store, sha256);
  if (rows.empty()) return std::nullopt;
  return std::move(rows.front());
}

std::vector<FileEntry> file_rows(Store& store) { return rows_of(store, ""); }

Answered<FileEntry> Book::keep_file(std::string_view bytes, const std::string& kind, const std::string& who,
                                    const std::string& when) {
  const Forms forms = Forms().text("kind", kind, kLongestKind).person("who", who).time("when", when);
  if (!forms.good()) return refused<FileEntry>(forms.problems());
  if (bytes.size() > kLongestFile) {
    return refused<FileEntry>(
        say::book_text_too_long("file", static_cast<long long>(bytes.size()), static_cast<long long>(kLongestFile)));
  }
  const FileEntry made = {sha256_hex(bytes), kind, static_cast<long long>(bytes.size()), who, when};
  return inside_->in_turn<FileEntry>([&](Store& store) -> Answered<FileEntry> {
    // The bytes first: a row without its file would be a loss, a file without a row is only found again.
    if (auto problem = save_bytes(store, made.sha256, bytes);
        problem && kind_of(problem->code).severity == Severity::error) {
      return refused<FileEntry>(*problem);
    }
    Writing writing(store);
    if (auto before = file_row(store, made.sha256)) return {std::move(before), {}};
    store.sql() << "INSERT INTO files (sha256, kind, bytes, who, made_at) VALUES (:s, :k, :b, :w, :m)",
        soci::use(made.sha256), soci::use(made.kind), soci::use(made.bytes), soci::use(made.who), soci::use(made.when);
    writing.commit();
    return {made, {}};
  });
}

Answered<FileEntry> Book::file(const std::string& sha256) {
  if (!is_sha256(sha256)) return refused<FileEntry>(say::book_bad_sha256(sha256));
  return inside_->in_turn<FileEntry>([&](Store& store) {
    auto found = file_row(store, sha256);
    return found ? Answered<FileEntry>{std::move(found), {}} : refused<FileEntry>(say::book_no_file(sha256));
  });
}

Answered<std::string> Book::file_bytes(const std::string& sha256) {
  const auto entry = file(sha256);
  if (!entry.answer) return refused<std::string>(entry.problems);
  return bytes_of(*inside_->store, sha256);
}

}  // namespace zoneproof::book
