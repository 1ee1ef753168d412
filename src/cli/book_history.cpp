// book list, log and show: what is in the book.
#include <nlohmann/json.hpp>

#include "book/book_json.hpp"
#include "cli/book_asked.hpp"
#include "cli/table.hpp"
#include "messages/book_command.hpp"
#include "messages/cli.hpp"
#include "results/changes.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kRevisionsShown = 50;

std::string heading_of(const book::SiteEntry& entry) {
  return entry.name.empty() ? entry.id : text(say::book_site_heading(entry.name, entry.id));
}

/// A revision's site as this program reads it; nothing, with the reasons, where it is damaged or of a newer format.
book::Answered<site::Site> site_at(book::Book& book, const std::string& id, long long number) {
  const auto text = book.text(id, number);
  if (!text.answer) return {std::nullopt, text.problems};
  site::ReadResult read = site::read_site(*text.answer, id);
  if (!read.site) return {std::nullopt, read.messages};
  return {std::move(read.site), {}};
}

/// What a revision changed; nothing of the first one, which has nothing before it.
book::Answered<std::vector<results::Change>> changes_of(book::Book& book, const std::string& id,
                                                        const book::Revision& revision) {
  if (revision.patch.empty()) return {std::vector<results::Change>(), {}};
  const auto before = site_at(book, id, revision.number - 1), after = site_at(book, id, revision.number);
  if (!before.answer) return {std::nullopt, before.problems};
  if (!after.answer) return {std::nullopt, after.problems};
  return {results::changes_between(*before.answer, *after.answer), {}};
}

void print_revision(const book::SiteEntry& entry, const book::Revision& revision,
                    const std::vector<results::Change>& changes, Screen& screen) {
  screen.line(text(say::book_revision_heading(heading_of(entry), revision.number)), 0, Style::heading);
  screen.line(text(say::book_made_by(shown_time(revision.when), revision.who)));
  if (!revision.why.empty()) screen.line(text(say::book_made_because(revision.why)));
  screen.line();
  if (revision.patch.empty()) screen.line(text(say::book_first_revision()));
  for (const results::Change& change : changes) screen.line(results::sentence_of(change));
}

}  // namespace

int list_sites(book::Book& book, const BookOptions& asked, Screen& screen) {
  const auto sites = book.sites();
  if (!sites.answer) return refuse_book(sites.problems, asked, screen);
  if (asked.json) {
    put_book_json({{"sites", book::json_of(*sites.answer)}}, asked, screen);
    return 0;
  }
  if (sites.answer->empty()) {
    screen.line(text(say::book_no_sites()));
    return 0;
  }
  Table table({{text(say::column_id()), false, 12},
               {text(say::column_name()), false, 16},
               {text(say::book_column_revision()), true},
               {text(say::book_column_when()), false, 20},
               {text(say::book_column_who()), false}});
  for (const book::SiteEntry& entry : *sites.answer) {
    table.add({{entry.id}, {entry.name}, {std::to_string(entry.revision)}, {shown_time(entry.when)}, {entry.who}});
  }
  table.print(screen);
  return 0;
}

int log_site(book::Book& book, const BookOptions& asked, Screen& screen) {
  const auto entry = book.site(asked.what);
  if (!entry.answer) return refuse_book(entry.problems, asked, screen);
  const auto revisions = book.revisions(asked.what, std::nullopt, asked.all ? SIZE_MAX : kRevisionsShown);
  if (!revisions.answer) return refuse_book(revisions.problems, asked, screen);
  if (asked.json) {
    put_book_json({{"revisions", book::json_of(*revisions.answer)}, {"site", book::json_of(*entry.answer)}}, asked,
                  screen);
    return 0;
  }
  screen.line(heading_of(*entry.answer), 0, Style::heading);
  Table table({{text(say::book_column_revision()), true},
               {text(say::book_column_when()), false, 20},
               {text(say::book_column_who()), false, 10},
               {text(say::book_column_why()), false, 20}});
  for (const book::Revision& one : *revisions.answer) {
    table.add({{std::to_string(one.number)}, {shown_time(one.when)}, {one.who}, {one.why}});
  }
  table.print(screen);
  const bool more = !revisions.answer->back().patch.empty();
  if (more && !asked.all) screen.line(text(say::book_older_revisions()));
  return 0;
}

int show_revision(book::Book& book, const BookOptions& asked, Screen& screen) {
  const WantedRevision wanted = wanted_revision(asked);
  if (!wanted.problems.empty()) return refuse_book(wanted.problems, asked, screen);
  const auto entry = book.site(asked.what);
  if (!entry.answer) return refuse_book(entry.problems, asked, screen);
  const auto revision = book.revision(asked.what, wanted.number.value_or(entry.answer->revision));
  if (!revision.answer) return refuse_book(revision.problems, asked, screen);
  const auto changes = changes_of(book, asked.what, *revision.answer);
  if (!changes.answer) return refuse_book(changes.problems, asked, screen);
  if (asked.json) {
    put_book_json({{"changes", results::json_of(*changes.answer)},
                   {"revision", book::json_with_patches(*revision.answer)},
                   {"site", book::json_of(*entry.answer)}},
                  asked, screen);
  } else {
    print_revision(*entry.answer, *revision.answer, *changes.answer, screen);
  }
  return 0;
}

}  // namespace zoneproof::cli
