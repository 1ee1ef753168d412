// book import, export, backup, restore and check: what goes into the book and comes out of it.
#include <chrono>
#include <ctime>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "book/book_json.hpp"
#include "book/import.hpp"
#include "cli/book_asked.hpp"
#include "cli/reading.hpp"
#include "messages/book_command.hpp"
#include "messages/cli.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

using Json = nlohmann::ordered_json;

std::string now() {
  const std::time_t time = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  ::gmtime_r(&time, &parts);
  char text[32];
  std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts);
  return text;
}

Message sentence_of(const book::Imported& imported, const std::string& file) {
  const book::SiteEntry& entry = imported.entry;
  switch (imported.outcome) {
    case book::Imported::Outcome::added: return say::book_site_added(file, entry.id, entry.revision);
    case book::Imported::Outcome::edited: return say::book_site_edited(file, entry.id, entry.revision);
    default: return say::book_site_unchanged(file, entry.id, entry.revision);
  }
}

/// Counts in words; problems as they are. 1 where there are any: the book was asked whether it is whole, and is not.
int tell_check(const book::Check& check, const Message& counted, const BookOptions& asked, Screen& screen) {
  const int exit_code = any_error(check.problems) ? 1 : 0;
  if (asked.json) {
    put_book_json(book::json_of(check), asked, screen);
    return exit_code;
  }
  screen.end_progress();
  print_notes(check.problems, screen);
  screen.line(text(counted));
  return exit_code;
}

}  // namespace

int import_file(book::Book& book, const BookOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto loaded = load(asked.what, "book", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  std::string who = asked.who;
  if (who.empty() && screen.terminal().person) who = screen.terminal().person();
  const auto imported = book::import_site(book, {asked.as, who, now(), asked.why}, loaded->site);
  if (!imported.answer) return refuse_book(imported.problems, asked, screen);
  if (asked.json) {
    put_book_json({{"changes", results::json_of(imported.answer->changes)},
                   {"outcome", book::word_of(imported.answer->outcome)},
                   {"site", book::json_of(imported.answer->entry)}},
                  asked, screen);
    return 0;
  }
  screen.line(text(sentence_of(*imported.answer, asked.what)));
  for (const results::Change& change : imported.answer->changes) screen.line(results::sentence_of(change), 2);
  return 0;
}

int export_site(book::Book& book, const BookOptions& asked, Screen& screen) {
  const WantedRevision wanted = wanted_revision(asked);
  if (!wanted.problems.empty()) return refuse_book(wanted.problems, asked, screen);
  if (const auto problem = output_problem(asked.output, {}, asked.replace))
    return refuse_book({*problem}, asked, screen);
  const auto entry = book.site(asked.what);
  if (!entry.answer) return refuse_book(entry.problems, asked, screen);
  const long long number = wanted.number.value_or(entry.answer->revision);
  const auto written = book.text(asked.what, number);
  if (!written.answer) return refuse_book(written.problems, asked, screen);
  if (!asked.output.empty()) {
    if (const auto problem = save_file(asked.output, *written.answer)) return refuse_book({*problem}, asked, screen);
  }
  if (asked.json) {
    put_book_json(
        {{"document", Json::parse(*written.answer)}, {"number", number}, {"site", book::json_of(*entry.answer)}}, asked,
        screen);
  } else if (asked.output.empty()) {
    screen.raw(*written.answer);
  } else {
    screen.line(text(say::book_exported(asked.output, entry.answer->id, number)));
  }
  return 0;
}

int back_up(book::Book& book, const BookOptions& asked, Screen& screen) {
  if (const auto problem = output_problem(asked.what, {}, asked.replace)) return refuse_book({*problem}, asked, screen);
  const auto done = book.backup(asked.what, progress_on(screen));
  if (!done.answer) return refuse_book(done.problems, asked, screen);
  const book::Check& held = *done.answer;
  return tell_check(held, say::book_backed_up(asked.what, held.sites, held.revisions, held.files), asked, screen);
}

int restore_backup(book::Book& book, const BookOptions& asked, Screen& screen) {
  const auto done = book.restore(asked.what, progress_on(screen));
  if (!done.answer) return refuse_book(done.problems, asked, screen);
  const book::Check& held = *done.answer;
  return tell_check(held, say::book_restored(asked.what, held.sites, held.revisions, held.files), asked, screen);
}

int check_book(book::Book& book, const BookOptions& asked, Screen& screen) {
  const auto done = book.check(progress_on(screen));
  if (!done.answer) return refuse_book(done.problems, asked, screen);
  const book::Check& held = *done.answer;
  const auto problems = static_cast<long long>(held.problems.size());
  const Message counted = problems == 0 ? say::book_whole(held.sites, held.revisions, held.files)
                                        : say::book_not_whole(held.sites, held.revisions, held.files, problems);
  return tell_check(held, counted, asked, screen);
}

}  // namespace zoneproof::cli
