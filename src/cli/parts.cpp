#include <algorithm>
#include <map>

#include "cli/commands.hpp"
#include "cli/reading.hpp"
#include "cli/table.hpp"
#include "cli/text_width.hpp"
#include "messages/cli.hpp"
#include "results/field_words.hpp"
#include "results/shelf_entries.hpp"
#include "site/field.hpp"
#include "site/words.hpp"

namespace zoneproof::cli {

namespace {

using results::FieldRow;
using Shelf = results::Parts;

std::string kind_words(const site::Part& part) {
  return part.kind.known() ? std::string(site::word_of(*part.kind.value)) : "";
}

std::string origin_words(const site::Part& part) { return part.origin ? std::string(site::word_of(*part.origin)) : ""; }

/// What most names of a list begin with, up to a comma ("Interface unit, "): what was asked for, and no news.
std::string usual_head(const Shelf& shelf) {
  std::map<std::string, std::size_t> heads;
  for (const auto& entry : shelf) {
    const std::size_t comma = entry.second->name.find(", ");
    if (comma != std::string::npos) ++heads[entry.second->name.substr(0, comma + 2)];
  }
  for (const auto& [head, count] : heads) {
    if (count > 1 && 2 * count > shelf.size()) return head;
  }
  return "";
}

/// A long name goes on in the next line: it is what parts are told apart by.
void print_list(const Shelf& shelf, bool one_kind, Screen& screen) {
  constexpr std::size_t between = 2;  // columns
  std::size_t others = 0, longest_kind = 0, longest_origin = text_width(text(say::column_origin()));
  for (const auto& [id, part] : shelf) {
    others = std::max(others, id.size() + between);
    longest_kind = std::max(longest_kind, kind_words(*part).size() + between);
    longest_origin = std::max(longest_origin, origin_words(*part).size());
  }
  others += (one_kind ? 0 : longest_kind) + between + longest_origin;
  std::vector<Column> columns = {{text(say::column_id()), false}};
  if (!one_kind) columns.push_back({text(say::column_kind()), false});
  columns.insert(columns.end(), {{text(say::column_name()), false, 20}, {text(say::column_origin()), false}});
  Table table(std::move(columns));
  const std::string head = one_kind ? usual_head(shelf) : "";
  for (const auto& [id, part] : shelf) {
    const bool usual = !head.empty() && part->name.rfind(head, 0) == 0;
    bool first = true;
    for (std::string& line : wrapped(usual ? part->name.substr(head.size()) : part->name, Screen::kWidth - others)) {
      std::vector<Cell> row = {{first ? id : ""}};
      if (!one_kind) row.push_back({first ? kind_words(*part) : ""});
      row.insert(row.end(), {{std::move(line)}, {first ? origin_words(*part) : ""}});
      table.add(std::move(row));
      first = false;
    }
  }
  table.print(screen);
  screen.line();
  screen.line(text(say::parts_counted(static_cast<long long>(shelf.size()))));
}

void print_part(const std::string& id, const site::Part& part, Screen& screen) {
  screen.line(id + ": " + part.name, 0, Style::heading);
  for (const FieldRow& row : results::rows_of(site::record_of<site::Part>(), &part)) {
    if (row.key == "name") continue;
    screen.entry(row.key, row.value, 44, Style::faint, 2);
    screen.line(row.field->meaning, 46, Style::faint);
  }
}

}  // namespace

int parts(const PartsOptions& asked, Screen& screen) {
  const results::PartsQuestion question = {asked.kind, asked.id};
  if (asked.json) return put_results(nullptr, {}, question, screen);
  const auto told = results::answer(question);
  if (!told.answer) return refuse("parts", told.problems, asked.json, screen);
  if (asked.id.empty()) {
    print_list(*told.answer, !asked.kind.empty(), screen);
  } else {
    print_part(told.answer->front().first, *told.answer->front().second, screen);
  }
  return 0;
}

}  // namespace zoneproof::cli
