#include "cli/costs_file.hpp"

#include <filesystem>

#include "base/file.hpp"
#include "cli/reading.hpp"
#include "messages/cli.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"

namespace zoneproof::cli {

namespace {

/// The file beside the site; empty where there is none.
std::string beside(const std::string& site_path) {
  const std::string path = site::file_beside(site_path, site::kCostsEnding);
  std::error_code none;
  return std::filesystem::exists(path, none) ? path : std::string();
}

std::string part_name(const std::string& id) {
  const auto found = site::parts_shelf().find(id);
  return found == site::parts_shelf().end() || found->second.name.empty() ? id : found->second.name;
}

}  // namespace

std::optional<std::string> own_costs(const std::string& site_path, const std::string& named, const std::string& command,
                                     bool json, Screen& screen, int& exit_code) {
  const std::string path = named.empty() ? beside(site_path) : named;
  if (path.empty()) return std::string();
  std::vector<Message> messages;
  std::optional<std::string> text = read_file(path, messages);
  if (text) {
    const site::CostsResult read = site::read_costs(*text, path);
    messages.insert(messages.end(), read.messages.begin(), read.messages.end());
  }
  if (any_error(messages)) {
    exit_code = refuse(command, messages, json, screen);
    return std::nullopt;
  }
  print_notes(messages, screen);
  return text;
}

std::string parts_words(const site::Bill& bill) {
  std::string words;
  for (const site::PartNeed& need : bill.parts) {
    const std::string name = part_name(need.part);
    const std::string one = need.metres        ? text(say::metres_of(Measure{need.count, "m"}, name))
                            : need.count > 1.0 ? text(say::pieces_of(Measure{need.count, ""}, name))
                                               : name;
    words += (words.empty() ? "" : "; ") + one;
  }
  return words;
}

std::string cost_words(const site::Cost& cost) {
  std::string words;
  if (cost.minutes) words = text(say::minutes_of_work(Measure{*cost.minutes, "min"}));
  if (cost.money) {
    const std::string money = text(say::money_in_all(Measure{*cost.money, cost.currency, 4}));
    words += (words.empty() ? "" : "; ") + money;
  } else {
    words += (words.empty() ? "" : "; ") + text(say::money_not_known());
  }
  return words;
}

}  // namespace zoneproof::cli
