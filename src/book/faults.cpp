#include "book/faults.hpp"

#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

/// The first line of what a database says, without the space around it: the rest repeats the statement.
std::string first_line(const std::string& said) {
  const std::size_t from = said.find_first_not_of(" \n\t");
  if (from == std::string::npos) return said;
  std::string line = said.substr(from, said.find('\n', from) - from);
  while (!line.empty() && (line.back() == ' ' || line.back() == '.')) line.pop_back();
  return line;
}

Message of_sqlite(const soci::sqlite3_soci_error& error, const Address& address) {
  const std::string said = first_line(error.get_error_message());
  switch (error.result() & 0xff) {  // the lower byte is the kind, the rest refines it
    case SQLITE_BUSY:
    case SQLITE_LOCKED: return say::book_busy();
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB: return say::book_damaged(address.folder, said);
    case SQLITE_FULL: return say::book_disk_full(address.folder);
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN: return say::book_not_writable(address.folder, said);
    default: return say::book_database(said);
  }
}

}  // namespace

bool is_contradiction() {
  try {
    throw;
  } catch (const soci::sqlite3_soci_error& error) {
    return (error.result() & 0xff) == SQLITE_CONSTRAINT;
  } catch (const soci::soci_error& error) {
    return error.get_error_category() == soci::soci_error::constraint_violation;
  }
}

Message database_fault(const Address& address) {
  try {
    throw;
  } catch (const BookBusy&) {
    return say::book_busy();
  } catch (const BookUnreachable& away) {
    return say::book_unreachable(first_line(away.what()));
  } catch (const soci::sqlite3_soci_error& error) {
    return of_sqlite(error, address);
  } catch (const soci::soci_error& error) {
    const std::string said = first_line(error.get_error_message());
    if (error.get_error_category() == soci::soci_error::connection_error) return say::book_unreachable(said);
    return say::book_database(said);
  }
}

}  // namespace zoneproof::book
