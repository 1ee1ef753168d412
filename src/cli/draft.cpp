#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "cli/commands.hpp"
#include "cli/reading.hpp"
#include "messages/cli.hpp"
#include "results/results.hpp"
#include "site/draft.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"
#include "site/site_record.hpp"

namespace zoneproof::cli {

namespace {

using Json = nlohmann::ordered_json;

constexpr long long kMostUnitsOfDraft = static_cast<long long>(site::kMostUnits);
constexpr long long kMostGrade = 9;

/// The request with its numbers read, and the name of the table where none was given.
std::vector<Message> complete(site::DraftRequest& request, const DraftOptions& asked) {
  std::vector<Message> problems;
  if (!asked.units.empty()) {
    long long units = 0;
    if (auto problem = read_whole(asked.units, "--units", kMostUnitsOfDraft, units)) problems.push_back(*problem);
    request.units = units;
  }
  if (!asked.grade.empty()) {
    long long grade = 0;
    if (auto problem = read_whole(asked.grade, "--grade", kMostGrade, grade)) problems.push_back(*problem);
    request.grade = grade;
  }
  if (request.name.empty()) request.name = std::filesystem::path(asked.zones).stem().string();
  return problems;
}

/// The person's own parts: of the file that was named, else of NAME.parts.json beside NAME.csv where there is one.
/// What is wrong with them, or worth saying, goes to `messages`.
site::Map<site::Part> own_parts(const DraftOptions& asked, std::vector<Message>& messages) {
  std::string path = asked.parts;
  if (path.empty()) {
    path = std::filesystem::path(asked.zones).replace_extension(".parts.json").string();
    std::error_code none;
    if (path == asked.zones || !std::filesystem::exists(path, none)) return {};
  }
  const auto text = read_file(path, messages);
  if (!text) return {};
  site::PartsResult read = site::read_parts(*text, path);
  messages.insert(messages.end(), read.messages.begin(), read.messages.end());
  return std::move(read.parts);
}

}  // namespace

int draft(const DraftOptions& asked, Screen& screen) {
  site::DraftRequest request = asked.request;
  std::vector<Message> problems = complete(request, asked);
  if (auto problem = output_problem(asked.output, {asked.zones}, asked.replace))
    problems.push_back(std::move(*problem));
  const auto table = read_file(asked.zones, problems);
  request.own_parts = own_parts(asked, problems);
  if (any_error(problems)) return refuse("draft", problems, asked.json, screen);
  site::DraftResult drafted = site::draft_site(*table, asked.zones, request);
  drafted.messages.insert(drafted.messages.begin(), problems.begin(), problems.end());
  if (!drafted.site) return refuse("draft", drafted.messages, asked.json, screen);
  if (!asked.output.empty()) {
    const std::vector<Message> failed = site::save_site(*drafted.site, asked.output);
    if (any_error(failed)) return refuse("draft", failed, asked.json, screen);
  }
  const std::string written = site::write_site(*drafted.site);
  if (asked.json) {
    screen.raw(results::results_text("draft", site::site_hash(*drafted.site),
                                     {{"site", Json::parse(written)}, {"notes", results::json_of(drafted.messages)}}));
    return 0;
  }
  print_notes(drafted.messages, screen);
  if (asked.output.empty()) {
    screen.raw(written);
  } else {
    const auto zones = static_cast<long long>(drafted.site->zones.size());
    screen.line(text(say::draft_written(asked.output, zones, static_cast<long long>(drafted.site->triggers.size()))));
  }
  return 0;
}

}  // namespace zoneproof::cli
