#include "book/store.hpp"

#include <fcntl.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <thread>

#include "base/file.hpp"
#include "book/connection_string.hpp"
#include "book/faults.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

using namespace std::chrono_literals;

constexpr int kPatienceSeconds = 5;
/// "zone" as SQLite keeps it in the file's head, so that other programs see whose file it is.
constexpr int kApplicationId = 0x7a6f6e65;
/// What programs that write into a PostgreSQL book hold in turn.
constexpr long long kWriterLock = 0x7a6f6e6570726f6fLL;

std::optional<Message> make_folder(const std::string& folder) {
  std::error_code error;
  if (std::filesystem::is_directory(folder, error)) return std::nullopt;
  error.clear();
  const std::filesystem::path parent = std::filesystem::path(folder).parent_path();
  if (!parent.empty()) std::filesystem::create_directories(parent, error);
  // Password hashes are in it: nobody else looks inside.
  if (!error && ::mkdir(folder.c_str(), 0700) == 0) return std::nullopt;
  if (!error && errno == EEXIST && std::filesystem::is_directory(folder, error)) return std::nullopt;  // just now
  return say::book_folder_not_made(folder, error ? error.message() : std::strerror(errno));
}

/// An empty file is a book that was never finished; one that begins otherwise than a database does is something else.
bool begins_as_database(const std::string& path) {
  constexpr std::string_view beginning = "SQLite format 3";
  std::ifstream file(path, std::ios::binary);
  std::string head(beginning.size(), '\0');
  file.read(head.data(), static_cast<std::streamsize>(head.size()));
  return file.gcount() == 0 || head == beginning;
}

std::optional<Message> prepare_sqlite(const Store& store, Opening opening) {
  const std::string& folder = store.address().folder;
  const std::string path = store.database_path();
  if (folder.find('"') != std::string::npos) return say::book_quote_in_folder(folder);
  std::error_code error;
  if (!std::filesystem::exists(path, error)) {
    if (opening == Opening::existing_only) return say::book_missing(folder);
    const int made = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    if (made < 0 && errno != EEXIST) return say::book_not_writable(folder, std::strerror(errno));
    if (made >= 0) ::close(made);
    sync_folder(folder);
  } else if (!begins_as_database(path)) {
    return say::book_not_a_book(path);
  }
  return std::nullopt;
}

/// Asks again and again for the right to write. A database's own waiting would do less: SQLite's sleeps longer and
/// longer, and a program that writes all the time is then always first; PostgreSQL's ends in words of the server's
/// language.
template <class Attempt>
void wait_for_turn(Attempt attempt) {
  const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(kPatienceSeconds);
  while (!attempt()) {
    if (std::chrono::steady_clock::now() > until) throw BookBusy();
    std::this_thread::sleep_for(1ms);
  }
}

/// Whether SQLite did it; not where somebody else has the file just now.
template <class Statement>
bool done_by_sqlite(Statement statement) {
  try {
    statement();
    return true;
  } catch (const soci::sqlite3_soci_error& error) {
    if ((error.result() & 0xff) != SQLITE_BUSY) throw;
    return false;
  }
}

int number_said(soci::session& sql, const std::string& question) {
  int number = 0;
  sql << question, soci::into(number);
  return number;
}

/// Whose file it is and whether there is anything in it are read of one moment: between two, another program that makes
/// the same book would have claimed it and laid its tables, and they would look like a stranger's.
std::optional<Message> claim_sqlite(Store& store) {
  {
    const Looking look(store);
    const int whose = number_said(store.sql(), "PRAGMA application_id");
    if (whose == kApplicationId) return std::nullopt;
    if (whose != 0 || !store.tables().empty()) return say::book_not_a_book(store.database_path());
  }
  wait_for_turn([&] {
    return done_by_sqlite([&] { store.sql() << "PRAGMA application_id = " + std::to_string(kApplicationId); });
  });
  return std::nullopt;
}

std::optional<Message> claim_postgresql(Store& store) {
  std::string encoding;
  store.sql() << "SELECT pg_encoding_to_char(encoding) FROM pg_database WHERE datname = current_database()",
      soci::into(encoding);
  if (encoding != "UTF8") return say::book_encoding(encoding);
  return std::nullopt;
}

void be_patient(soci::session& sql, int seconds) { sql << "PRAGMA busy_timeout = " + std::to_string(1000 * seconds); }

void take_turn_sqlite(soci::session& sql) {
  be_patient(sql, 0);
  try {
    wait_for_turn([&] { return done_by_sqlite([&] { sql << "BEGIN IMMEDIATE"; }); });
  } catch (...) {
    be_patient(sql, kPatienceSeconds);
    throw;
  }
  be_patient(sql, kPatienceSeconds);
}

void take_turn_postgresql(soci::session& sql) {
  sql << "BEGIN";
  wait_for_turn([&] {
    int held = 0;
    sql << "SELECT CASE WHEN pg_try_advisory_xact_lock(" + std::to_string(kWriterLock) + ") THEN 1 ELSE 0 END",
        soci::into(held);
    return held == 1;
  });
}

/// Ends a transaction on the way out of something that has failed: what fails here has failed already.
void roll_back(soci::session& sql) noexcept {
  try {
    sql << "ROLLBACK";
  } catch (...) {  // NOLINT(bugprone-empty-catch): the connection is gone, and the transaction with it
  }
}

bool has_schema(soci::session& sql) {
  return number_said(sql, "SELECT COUNT(*) FROM pg_namespace WHERE nspname = 'zoneproof_book'") > 0;
}

/// Only where it is missing: to make one that is there would need a right that nobody has to have.
void make_schema(soci::session& sql) {
  take_turn_postgresql(sql);
  try {
    if (!has_schema(sql)) sql << "CREATE SCHEMA zoneproof_book";
    sql << "COMMIT";
  } catch (...) {
    roll_back(sql);
    throw;
  }
}

/// SOCI tells only that there is no connection; the reason is the line below.
void open_postgresql(soci::session& session, const std::string& connection) {
  try {
    session.open("postgresql", with_timeout(connection, kPatienceSeconds));
  } catch (const soci::soci_error& error) {
    const std::string said = error.get_error_message();
    const std::size_t second = said.find('\n');
    throw BookUnreachable(second == std::string::npos ? said : said.substr(second + 1));
  }
}

}  // namespace

std::string Store::database_path() const { return address_.folder + "/book.sqlite"; }

void Store::open() {
  session_ = std::make_unique<soci::session>();
  if (postgresql_) {
    // By its name: the library and libpq behind it are loaded now, by whoever has such a book, and by nobody else.
    open_postgresql(*session_, address_.postgresql);
  } else {
    session_->open(soci::sqlite3, "db=\"" + database_path() + "\" timeout=" + std::to_string(kPatienceSeconds));
  }
  settle();
}

void Store::settle() {
  soci::session& sql = *session_;
  if (postgresql_) {
    sql << "SET client_encoding TO 'UTF8'";
    sql << "SET client_min_messages TO warning";
    sql << "SET synchronous_commit TO on";
    if (!has_schema(sql)) make_schema(sql);
    sql << "SET search_path TO zoneproof_book";
    return;
  }
  std::string mode;
  // Where a file system cannot, the older journal is as safe. SQLite does not wait for others before it changes.
  wait_for_turn([&] { return done_by_sqlite([&] { sql << "PRAGMA journal_mode = WAL", soci::into(mode); }); });
  sql << "PRAGMA synchronous = FULL";
  sql << "PRAGMA foreign_keys = ON";
  sql << "PRAGMA trusted_schema = OFF";  // a book may come from a stranger
  sql << "PRAGMA cell_size_check = ON";
}

soci::session& Store::sql() {
  if (!in_transaction_ && (session_ == nullptr || !session_->is_connected())) open();
  return *session_;
}

Answered<std::unique_ptr<Store>> Store::connect(const Address& address, Opening opening) {
  using Opened = std::unique_ptr<Store>;
  if (const auto problem = address_problem(address)) return refused<Opened>(*problem);
  Opened store(new Store(address));
  std::error_code error;
  if (opening == Opening::existing_only && !std::filesystem::is_directory(address.folder, error)) {
    return refused<Opened>(say::book_missing(address.folder));
  }
  if (const auto problem = make_folder(address.folder)) return refused<Opened>(*problem);
  if (!store->postgresql()) {
    if (const auto problem = prepare_sqlite(*store, opening)) return refused<Opened>(*problem);
  }
  return guarded<Opened>(address, [&]() -> Answered<Opened> {
    store->open();
    const auto problem = store->postgresql() ? claim_postgresql(*store) : claim_sqlite(*store);
    if (problem) return refused<Opened>(*problem);
    return {std::move(store), {}};
  });
}

std::vector<std::string> Store::tables() {
  std::vector<std::string> found;
  const soci::rowset<std::string> rows =
      sql().prepare << (postgresql_ ? "SELECT table_name FROM information_schema.tables WHERE table_schema = "
                                      "'zoneproof_book' ORDER BY table_name"
                                    : "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE "
                                      "'sqlite%' ORDER BY name");
  found.assign(rows.begin(), rows.end());
  return found;
}

std::vector<Store::Column> Store::columns(const std::string& table) {
  std::vector<Column> found;
  std::string name, type;
  soci::statement asked =
      (sql().prepare << (postgresql_
                             ? "SELECT column_name, data_type FROM information_schema.columns WHERE table_schema "
                               "= 'zoneproof_book' AND table_name = :t ORDER BY ordinal_position"
                             : "SELECT name, type FROM pragma_table_info(:t) ORDER BY cid"),
       soci::use(table), soci::into(name), soci::into(type));
  asked.execute();
  while (asked.fetch()) found.push_back({name, type == "bigint" || type == "INTEGER"});
  return found;
}

Writing::Writing(Store& store) : store_(store) {
  soci::session& sql = store.sql();
  try {
    store.postgresql() ? take_turn_postgresql(sql) : take_turn_sqlite(sql);
  } catch (...) {
    roll_back(sql);
    throw;
  }
  store.in_transaction_ = true;
}

Writing::~Writing() {
  if (!store_.in_transaction_) return;
  roll_back(*store_.session_);
  store_.in_transaction_ = false;
}

void Writing::commit() {
  *store_.session_ << "COMMIT";
  store_.in_transaction_ = false;
}

Looking::Looking(Store& store) : store_(store) {
  store.sql() << (store.postgresql() ? "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY" : "BEGIN");
  store.in_transaction_ = true;
}

Looking::~Looking() {
  roll_back(*store_.session_);
  store_.in_transaction_ = false;
}

}  // namespace zoneproof::book
