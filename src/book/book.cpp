#include "book/book.hpp"

#include <filesystem>

#include "book/backup_file.hpp"
#include "book/inside.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

/// A name that no file has yet: a backup never replaces another.
std::string free_backup_path(const Store& store, int schema) {
  std::error_code error;
  std::filesystem::create_directories(store.backups_folder(), error);  // what fails is told when the file is written
  const std::string stem = store.backups_folder() + "/before-schema-" + std::to_string(schema);
  std::string path = stem + ".zpbook";
  for (int i = 2; std::filesystem::exists(path, error); ++i) path = stem + "-" + std::to_string(i) + ".zpbook";
  return path;
}

/// Read of one moment: tables that another program makes between two questions are no stranger's.
std::optional<int> schema_now(Store& store) {
  const Looking look(store);
  return schema_of(store);
}

/// Brings the tables to the schema of this program. Whoever comes second finds it done: the schema is read once more
/// when nobody else can write.
std::vector<Message> bring_to_schema(Store& store, const std::vector<Migration>& steps, Opening opening,
                                     std::vector<Message>& notes) {
  const int wanted = steps.back().number;
  const auto problem_of = [&](std::optional<int> found) -> std::optional<Message> {
    if (!found) return say::book_not_a_book(store.address().folder);
    if (*found > wanted) return say::book_newer(store.address().folder, *found, wanted);
    if (*found == 0 && opening == Opening::existing_only) return say::book_missing(store.address().folder);
    return std::nullopt;
  };
  const auto before = schema_now(store);
  if (const auto problem = problem_of(before)) return {*problem};
  if (*before == wanted) return {};

  Writing writing(store);
  const auto found = schema_of(store);
  if (const auto problem = problem_of(found)) return {*problem};
  if (*found == wanted) return {};
  std::string backup;
  if (*found > 0) {
    backup = free_backup_path(store, wanted);
    if (auto problems = write_backup(store, *found, backup, {}).problems; !problems.empty()) return problems;
  }
  migrate(store, steps, *found, wanted);
  writing.commit();
  notes.push_back(*found == 0 ? say::book_made(store.address().folder) : say::book_migrated(*found, wanted, backup));
  return {};
}

}  // namespace

Answered<std::unique_ptr<Book::Inside>> Book::Inside::open(const Address& address, Opening opening,
                                                           std::vector<Migration> steps) {
  using Opened = std::unique_ptr<Inside>;
  auto store = Store::connect(address, opening);
  if (!store.answer) return refused<Opened>(std::move(store.problems));
  auto inside = std::make_unique<Inside>(*std::move(store.answer), std::move(steps));
  return guarded<Opened>(address, [&]() -> Answered<Opened> {
    auto problems = bring_to_schema(*inside->store, inside->steps, opening, inside->notes);
    if (!problems.empty()) return refused<Opened>(std::move(problems));
    return {std::move(inside), {}};
  });
}

Book::Book(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Book::~Book() = default;

Answered<std::unique_ptr<Book>> Book::open(const Address& address, Opening opening) {
  using Opened = std::unique_ptr<Book>;
  auto inside = Inside::open(address, opening, migrations());
  if (!inside.answer) return refused<Opened>(std::move(inside.problems));
  return {std::make_unique<Book>(*std::move(inside.answer)), {}};
}

const std::vector<Message>& Book::notes() const { return inside_->notes; }

}  // namespace zoneproof::book
