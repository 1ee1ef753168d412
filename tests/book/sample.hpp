#pragma once
#include <memory>
#include <string>

#include "book/book.hpp"
#include "site/model.hpp"

/// Books to test with: each in a folder of its own, in SQLite and, where tests/book/on_postgresql.py has started a
/// server, in PostgreSQL.
namespace zoneproof::book {

inline constexpr const char* kNow = "2026-03-01T12:34:56Z";

/// A folder that is removed with what is in it.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

/// The bytes of a file; none where it cannot be read.
std::string bytes_of(const std::string& path);

/// The server's connection string; empty where there is none.
std::string postgresql_of_tests();
/// Removes the tables that a test before has left there, with everything in them.
void clear_postgresql();
/// Ends every other connection to the server, as a restart of it does.
void cut_postgresql();
/// Runs a statement in a book's database behind its back, as damage or another program would.
void behind_its_back(const Address& address, const std::string& statement);
/// A number that a book's database says.
long long number_in(const Address& address, const std::string& question);

/// Opens, and throws what stands in the way.
std::unique_ptr<Book> opened(const Address& address, Opening opening = Opening::make_missing);

/// "code, code" of the problems; empty where there are none.
std::string codes(const std::vector<Message>& messages);

/// The answer; throws the problems in words where there is none.
template <class Answer>
Answer good(Answered<Answer> told) {
  if (!told.answer) throw std::runtime_error("refused: " + codes(told.problems));
  return *std::move(told.answer);
}

site::Site site_of(std::string_view text);
site::Site small_site(const std::string& name = "Small yard");
site::Site demo_site(const std::string& name);
NewSite new_site(const std::string& id, const std::string& edit = "first");

/// An edit and the site after it.
struct Made {
  Edit edit;
  site::Site after;
};
/// `operations` (RFC 6902) on a site that stands in the book as `id`.
Made made_on(const site::Site& base, const std::string& id, const std::string& edit, const std::string& operations);
/// The site's note becomes that text.
Made noted(const site::Site& base, const std::string& id, const std::string& edit, const std::string& note);

}  // namespace zoneproof::book
