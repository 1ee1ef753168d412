#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <utility>
#include <vector>

#include "results/questions.hpp"
#include "site/parts.hpp"
#include "site/rulebook.hpp"

/// The questions parts and rules.
namespace zoneproof::results {

using Parts = std::vector<std::pair<std::string, const site::Part*>>;
using Rulebooks = std::vector<std::pair<std::string, const site::Rulebook*>>;

/// By id; they live as long as the program.
Answered<Parts> answer(const PartsQuestion& question);
Answered<Rulebooks> answer(const RulesQuestion& question);

/// As they are copied into a site: with version and hash.
nlohmann::ordered_json json_of(const Parts& parts);
nlohmann::ordered_json json_of(const Rulebooks& books);

}  // namespace zoneproof::results
