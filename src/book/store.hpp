#pragma once
#include <soci/soci.h>

#include <memory>
#include <string>
#include <vector>

#include "book/book.hpp"

/// The database of a book, whichever it is. Only files of src/book may include this: no type of SOCI leaves the folder.
/// What goes wrong in the database is thrown as soci::soci_error and becomes a message in faults.hpp.
namespace zoneproof::book {

class Store {
 public:
  /// Connects, and sets what the promises rest on: an acknowledged commit is on the disk, references are kept.
  /// Nothing, with the reasons, where the folder, the file or the database cannot be used.
  static Answered<std::unique_ptr<Store>> connect(const Address& address, Opening opening);

  /// The connection; one that was lost is made again, unless a transaction has been lost with it.
  soci::session& sql();
  bool postgresql() const { return postgresql_; }
  const Address& address() const { return address_; }

  std::string database_path() const;  ///< of the SQLite file
  std::string files_folder() const { return address_.folder + "/files"; }
  std::string backups_folder() const { return address_.folder + "/backups"; }

  struct Column {
    std::string name;
    bool whole = false;  ///< a whole number, else a text
  };
  /// Columns of a table in their order; empty where there is no such table.
  std::vector<Column> columns(const std::string& table);
  /// Names of all tables of this book's own.
  std::vector<std::string> tables();

 private:
  friend class Writing;
  friend class Looking;
  explicit Store(Address address) : address_(std::move(address)), postgresql_(!address_.postgresql.empty()) {}
  void open();
  void settle();

  Address address_;
  bool postgresql_;
  bool in_transaction_ = false;
  std::unique_ptr<soci::session> session_;
};

/// A change of the book: all that is done while it lives, or nothing. One writer at a time, among all programs that
/// have the book open; who waits too long is told that the book is busy (BookBusy).
class Writing {
 public:
  explicit Writing(Store& store);
  ~Writing();
  Writing(const Writing&) = delete;
  Writing& operator=(const Writing&) = delete;
  void commit();

 private:
  Store& store_;
};

/// Looking at one state of the book, whatever others write meanwhile.
class Looking {
 public:
  explicit Looking(Store& store);
  ~Looking();
  Looking(const Looking&) = delete;
  Looking& operator=(const Looking&) = delete;

 private:
  Store& store_;
};

}  // namespace zoneproof::book
