#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "results/questions.hpp"
#include "site/costs.hpp"

namespace zoneproof::results {

/// The costs of the program, over them those of a person's own file, given as its text; empty: none.
Answered<site::Costs> costs_in_force(const std::string& own_text);

/// {"parts", "work", "minutes", "money", "currency", "missing", "verified"}.
nlohmann::ordered_json json_of(const site::Bill& bill, const site::Cost& cost);

}  // namespace zoneproof::results
