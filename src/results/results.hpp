#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"

/// Results for programs: one JSON object a command, documented in docs/guide/json.md and described by
/// data/schema/results.schema.json. Words are closed sets, absent numbers are null, ids are sorted.
namespace zoneproof::results {

inline constexpr int kResultsVersion = 1;

/// Version of the engine that computed the results.
std::string engine_version();

/// The whole text: {"engine", "format", "results", "site_hash", "version"}; `results` gets the command's name as
/// "command". `site_hash` is null where no site was read.
std::string results_text(const std::string& command, const std::optional<std::string>& site_hash,
                         nlohmann::ordered_json results);

nlohmann::ordered_json json_of(const chain::Evidence& evidence);
nlohmann::ordered_json json_of(const std::vector<chain::Evidence>& evidence);
/// With the sentence, so that a program can show it without the catalogue.
nlohmann::ordered_json json_of(const Message& message);
nlohmann::ordered_json json_of(const std::vector<Message>& messages);
nlohmann::ordered_json json_of(const std::vector<chain::Gap>& gaps);
/// Null for what is no finite number.
nlohmann::ordered_json json_of_number(std::optional<double> number);

}  // namespace zoneproof::results
