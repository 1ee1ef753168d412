// Instead of the command book where there is no database: in the program that Node runs.
#include "cli/commands.hpp"
#include "cli/reading.hpp"
#include "messages/book_command.hpp"

namespace zoneproof::cli {

int book(const BookOptions& asked, Screen& screen) { return refuse("book", {say::no_book_here()}, asked.json, screen); }

}  // namespace zoneproof::cli
