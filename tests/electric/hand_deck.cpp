#include "electric/hand_deck.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "site/file.hpp"

namespace zoneproof::electric {
namespace {

std::string deck_folder() { return std::string(ZONEPROOF_SOURCE_DIR) + "/tests/electric/decks/"; }

/// The deck's instructions: lines "*: NAME = EXPRESSION" and "*: STATE CLAIM ELEMENT=VALUE ...".
struct Instructions {
  std::vector<std::pair<std::string, std::string>> quantities;
  std::vector<HandPoint> points;
  std::vector<std::vector<std::string>> changes;  ///< of each point
};

Claim claim_of(const std::string& word) {
  if (word == "nominal") return Claim::nominal;
  if (word == "corner") return Claim::corner;
  if (word == "middle") return Claim::middle;
  if (word == "within") return Claim::within;
  throw std::runtime_error("a deck claims '" + word + "'");
}

Instructions instructions_of(const std::string& name) {
  std::ifstream file(deck_folder() + name + ".cir");
  Instructions found;
  for (std::string line; std::getline(file, line);) {
    if (line.rfind("*: ", 0) != 0) continue;
    std::istringstream words(line.substr(3));
    std::string first;
    std::string second;
    words >> first >> second;
    std::string rest;
    if (second == "=") {
      words >> rest;
      found.quantities.emplace_back(first, rest);
      continue;
    }
    found.points.push_back({first, claim_of(second), {}});
    found.changes.emplace_back();
    while (words >> rest) found.changes.back().push_back(rest);
  }
  if (found.quantities.empty() || found.points.empty()) throw std::runtime_error("nothing to do in deck " + name);
  return found;
}

void write_control(const Instructions& todo, const std::string& name, const std::string& path) {
  std::ofstream out(path);
  out << "points of a deck\n.control\nset numdgt=15\n";
  for (std::size_t i = 0; i < todo.points.size(); ++i) {
    out << "source " << deck_folder() << name << ".cir\n";
    for (const std::string& change : todo.changes[i]) out << "alter " << change << "\n";
    out << "op\necho point " << i << "\n";
    for (const auto& [quantity, expression] : todo.quantities) {
      out << "let " << quantity << "=" << expression << "\nprint " << quantity << "\n";
    }
    out << "remcirc\n";
  }
  out << "quit\n.endc\n.end\n";
}

}  // namespace

std::vector<HandPoint> run_deck(const std::string& name) {
  Instructions todo = instructions_of(name);
  const std::string folder = std::string(ZONEPROOF_BINARY_DIR) + "/decks/" + name;
  std::filesystem::create_directories(folder);
  write_control(todo, name, folder + "/control.cir");
  const std::string command =
      "ngspice -b " + folder + "/control.cir > " + folder + "/output.txt 2> " + folder + "/errors.txt";
  if (std::system(command.c_str()) == -1) throw std::runtime_error("ngspice does not start");
  std::ifstream in(folder + "/output.txt");
  HandPoint* point = nullptr;
  for (std::string line; std::getline(in, line);) {
    std::istringstream words(line);
    std::string key;
    std::string sign;
    double value = 0.0;
    words >> key >> sign;
    if (key == "point") point = &todo.points.at(std::stoul(sign));
    if (point != nullptr && sign == "=" && words >> value) point->values[key] = value;
  }
  for (const HandPoint& solved : todo.points) {
    if (solved.values.size() != todo.quantities.size()) {
      throw std::runtime_error("ngspice has no answer for " + solved.state + " of deck " + name);
    }
  }
  return todo.points;
}

namespace {

std::string patch_of(const std::string& name) {
  std::ifstream file(deck_folder() + name + ".patch.json");
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

}  // namespace

site::Site base_site_with(const std::string& patch, const std::string& more) {
  nlohmann::json base = nlohmann::json::parse(std::ifstream(deck_folder() + "base.site.json"));
  base.merge_patch(nlohmann::json::parse(patch));
  base.merge_patch(nlohmann::json::parse(more));
  const site::ReadResult read = site::read_site(base.dump(1), "site");
  if (!read.site) {
    std::string said;
    for (const Message& message : read.messages) said += full_text(message) + "\n";
    throw std::runtime_error(said);
  }
  return *read.site;
}

site::Site deck_site(const std::string& name, const std::string& more) { return base_site_with(patch_of(name), more); }

}  // namespace zoneproof::electric
