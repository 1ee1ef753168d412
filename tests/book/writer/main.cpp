// Edits one site of a book as fast as it can, until it is killed. Each id of an edit is printed once the book has
// acknowledged it. Usage: book_writer FOLDER SITE NAME [POSTGRESQL]
#include <unistd.h>

#include <cstdio>
#include <exception>

#include "book/sample.hpp"

namespace zoneproof::book {

namespace {

void tell(const std::string& id) {
  const std::string line = id + "\n";
  if (::write(STDOUT_FILENO, line.data(), line.size()) < 0) throw std::runtime_error("nobody listens");
}

void edit_for_ever(Book& book, const std::string& id, const std::string& name) {
  site::Site now = site_of(good(book.text(id)));
  for (int i = 0;; ++i) {
    const std::string edit = name + "-" + std::to_string(i);
    const Made made = noted(now, id, edit, "note " + edit);
    if (good(book.append(made.edit, made.after)).fate == Appended::Fate::conflict) {
      now = site_of(good(book.text(id)));  // somebody else was first
      continue;
    }
    tell(edit);
    now = made.after;
  }
}

}  // namespace

}  // namespace zoneproof::book

int main(int count, char** arguments) {
  using namespace zoneproof::book;
  if (count < 4) return 2;
  try {
    const auto book = opened({arguments[1], count > 4 ? arguments[4] : ""}, Opening::existing_only);
    edit_for_ever(*book, arguments[2], arguments[3]);
  } catch (const std::exception& fault) {
    std::fprintf(stderr, "%s\n", fault.what());
    return 3;
  }
}
