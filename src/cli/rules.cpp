#include "cli/commands.hpp"
#include "cli/reading.hpp"
#include "cli/table.hpp"
#include "messages/cli.hpp"
#include "results/field_words.hpp"
#include "results/shelf_entries.hpp"
#include "site/words.hpp"

namespace zoneproof::cli {

namespace {

using results::value_words;

/// Of entries and states alike.
template <class Entries>
long long verified_of(const Entries& entries) {
  long long count = 0;
  for (const auto& entry : entries) count += entry.second.verified.yes() ? 1 : 0;
  return count;
}

std::string verified_words(const site::Flag& verified) {
  return text(verified.yes() ? say::verified() : say::not_verified());
}

std::string source_words(const std::string& source, const std::string& clause) {
  return clause.empty() ? source : source + ", " + clause;
}

void print_books(const results::Rulebooks& books, Screen& screen) {
  Table table({{text(say::column_id()), false, 20},
               {text(say::column_name()), false, 20},
               {text(say::column_version()), false, 7},
               {text(say::column_entries()), true},
               {text(say::column_verified()), true}});
  for (const auto& [id, book] : books) {
    const std::size_t entries = book->entries.size() + book->states.size();
    table.add({{id},
               {book->name},
               {book->version},
               {std::to_string(entries)},
               {std::to_string(verified_of(book->entries) + verified_of(book->states))}});
  }
  table.print(screen);
}

std::string entry_value(const site::RuleEntry& entry) {
  if (entry.points.empty()) return value_words(entry.value, entry.unit);
  std::string out;
  for (const site::RulePoint& point : entry.points) {
    out += (out.empty() ? "" : "; ") +
           text(say::rule_point(value_words(point.value, entry.unit), value_words(point.at, entry.at_unit)));
  }
  return out;
}

void print_book(const site::Rulebook& book, Screen& screen) {
  screen.line(text(say::book_and_version(book.name, book.version)), 0, Style::heading);
  if (!book.note.empty()) screen.line(book.note);
  for (const auto& [id, entry] : book.entries) {
    screen.line();
    screen.entry(id, entry_value(entry), 40);
    screen.line(entry.meaning, 4);
    screen.line(text(say::rule_source(source_words(entry.source, entry.clause), verified_words(entry.verified))), 4,
                Style::faint);
  }
  screen.heading(text(say::heading_states()));
  for (const auto& [state, rule] : book.states) {
    screen.entry(state, rule.trigger.known() ? std::string(site::word_of(*rule.trigger.value)) : "", 20, Style::plain,
                 2);
    screen.line(text(say::rule_source(source_words(rule.source, rule.clause), verified_words(rule.verified))), 20,
                Style::faint);
  }
}

}  // namespace

int rules(const RulesOptions& asked, Screen& screen) {
  const results::RulesQuestion question = {asked.book};
  if (asked.json) return put_results(nullptr, {}, question, screen);
  const auto told = results::answer(question);
  if (!told.answer) return refuse("rules", told.problems, asked.json, screen);
  if (asked.book.empty()) {
    print_books(*told.answer, screen);
  } else {
    print_book(*told.answer->front().second, screen);
  }
  return 0;
}

}  // namespace zoneproof::cli
