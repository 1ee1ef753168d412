#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/field_words.hpp"
#include "cli/reading.hpp"
#include "cli/results.hpp"
#include "cli/table.hpp"
#include "messages/cli.hpp"
#include "site/record_json.hpp"
#include "site/shelf.hpp"
#include "site/words.hpp"

namespace zoneproof::cli {

namespace {

using Json = nlohmann::ordered_json;
using Shelf = std::vector<std::pair<std::string, const site::Part*>>;

std::string kind_words(const site::Part& part) {
  return part.kind.known() ? std::string(site::word_of(*part.kind.value)) : "";
}

std::string origin_words(const site::Part& part) { return part.origin ? std::string(site::word_of(*part.origin)) : ""; }

void print_list(const Shelf& shelf, Screen& screen) {
  Table table({{text(say::column_id()), false, 24},
               {text(say::column_kind()), false, 13},
               {text(say::column_name()), false, 20},
               {text(say::column_origin()), false, 10}});
  for (const auto& [id, part] : shelf) table.add({{id}, {kind_words(*part)}, {part->name}, {origin_words(*part)}});
  table.print(screen);
  screen.line();
  screen.line(text(say::parts_counted(static_cast<long long>(shelf.size()))));
}

void print_part(const std::string& id, const site::Part& part, Screen& screen) {
  screen.line(id + ": " + part.name, 0, Style::heading);
  for (const FieldRow& row : rows_of(site::record_of<site::Part>(), &part)) {
    if (row.key == "name") continue;
    screen.entry(row.key, row.value, 44, Style::faint, 2);
    screen.line(row.field->meaning, 46, Style::faint);
  }
}

}  // namespace

int parts(const PartsOptions& asked, Screen& screen) {
  const auto kind = site::from_word<site::PartKind>(asked.kind);
  if (!asked.kind.empty() && !kind) {
    std::vector<std::string> known(site::Words<site::PartKind>::all.begin(), site::Words<site::PartKind>::all.end());
    return refuse("parts", {say::no_such_word(asked.kind, "KIND", known)}, asked.json, screen);
  }
  Shelf shelf;
  for (const auto& [id, part] : site::parts_shelf()) {
    if ((!kind || part.kind.is(*kind)) && (asked.id.empty() || asked.id == id)) shelf.emplace_back(id, &part);
  }
  if (shelf.empty()) return refuse("parts", {say::no_such_part(asked.id)}, asked.json, screen);
  if (asked.json) {
    Json list = Json::object();
    for (const auto& [id, part] : shelf) {  // as it is copied into a site: with version and hash
      const std::optional<site::Part> copy = site::part_for_site(id);
      list[id] = site::write_record(site::record_of<site::Part>(), &*copy);
    }
    screen.raw(results_text("parts", std::nullopt, {{"parts", std::move(list)}}));
  } else if (asked.id.empty()) {
    print_list(shelf, screen);
  } else {
    print_part(shelf.front().first, *shelf.front().second, screen);
  }
  return 0;
}

}  // namespace zoneproof::cli
