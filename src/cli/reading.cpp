#include "cli/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <ostream>

#include "base/utf8.hpp"
#include "cli/results.hpp"
#include "cli/text_width.hpp"
#include "messages/cli.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

void print_problem(std::ostream& stream, const Message& message) {
  const Place& place = message.place;
  std::string where = printable(place.file);
  if (place.line > 0) where += fmt::format(":{}:{}", place.line, place.column);
  if (!place.pointer.empty()) where += (where.empty() ? "" : ": ") + printable(place.pointer);
  const std::size_t indent = where.empty() ? 0 : 2;
  if (!where.empty()) stream << where << '\n';
  for (const std::string& sentence : {text(message), remedy(message)}) {
    for (const std::string& line : wrapped(sentence, Screen::kWidth - indent)) {
      stream << std::string(indent, ' ') << line << '\n';
    }
  }
}

int refuse(const std::string& command, const std::vector<Message>& messages, bool json, Screen& screen) {
  int exit_code = 0;
  for (const Message& message : messages) exit_code = std::max(exit_code, kind_of(message.code).exit_status);
  screen.end_progress();
  if (json) {
    screen.raw(results_text(command, std::nullopt, {{"problems", json_of(messages)}}));
  } else {
    for (const Message& message : messages) print_problem(screen.err(), message);
  }
  return exit_code;
}

void print_notes(const std::vector<Message>& messages, Screen& screen) {
  for (const Message& message : messages) print_problem(screen.err(), message);
}

std::optional<site::Site> load(const std::string& path, const std::string& command, bool json, Screen& screen,
                               int& exit_code) {
  site::ReadResult read = site::load_site(path);
  if (!read.site) {
    exit_code = refuse(command, read.messages, json, screen);
    return std::nullopt;
  }
  print_notes(read.messages, screen);
  return std::move(read.site);
}

std::optional<Message> output_problem(const std::string& output, const std::string& input, bool replace) {
  std::error_code ignored;  // what cannot be looked at is told when it is written
  if (!std::filesystem::is_regular_file(output, ignored)) return std::nullopt;
  if (std::filesystem::equivalent(output, input, ignored)) return say::output_is_input(output);
  if (!replace) return say::output_is_there(output);
  return std::nullopt;
}

ZoneFound find_zone(const site::Site& site, const std::string& named) {
  if (site.zones.count(named) != 0) return {named, std::nullopt};
  std::vector<std::string> found;
  for (const auto& [id, zone] : site.zones) {
    if (zone.number.known() && std::to_string(*zone.number.value) == named) found.push_back(id);
  }
  if (found.size() == 1) return {found.front(), std::nullopt};
  if (found.empty()) return {"", say::no_such_zone(named)};
  return {"", say::zone_number_twice(named, found)};
}

}  // namespace zoneproof::cli
