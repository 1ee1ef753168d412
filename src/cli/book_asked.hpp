#pragma once
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "book/book.hpp"
#include "cli/commands.hpp"
#include "cli/screen.hpp"

/// What the actions of the command `book` share.
namespace zoneproof::cli {

/// An action: what it does with an open book.
using BookAction = int (*)(book::Book& book, const BookOptions& asked, Screen& screen);

int list_sites(book::Book& book, const BookOptions& asked, Screen& screen);
int log_site(book::Book& book, const BookOptions& asked, Screen& screen);
int show_revision(book::Book& book, const BookOptions& asked, Screen& screen);
int import_file(book::Book& book, const BookOptions& asked, Screen& screen);
int export_site(book::Book& book, const BookOptions& asked, Screen& screen);
int back_up(book::Book& book, const BookOptions& asked, Screen& screen);
int restore_backup(book::Book& book, const BookOptions& asked, Screen& screen);
int check_book(book::Book& book, const BookOptions& asked, Screen& screen);

/// Tells what was refused.
int refuse_book(const std::vector<Message>& problems, const BookOptions& asked, Screen& screen);

/// Prints results for programs: "command" and "action" are added.
void put_book_json(nlohmann::ordered_json results, const BookOptions& asked, Screen& screen);

/// "2026-03-01 12:34 UTC" of "2026-03-01T12:34:56Z".
std::string shown_time(const std::string& time);

/// The wanted revision; nothing, with a problem, where it is no number.
struct WantedRevision {
  std::optional<long long> number;  ///< nothing where none was wanted: the last
  std::vector<Message> problems;
};
WantedRevision wanted_revision(const BookOptions& asked);

}  // namespace zoneproof::cli
