#pragma once
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "site/model.hpp"

/// Small random sites for properties: one zone of any arrangement on a tapped terminal, everything measured and with
/// tolerances, and rules by which verdicts of every kind come out.
namespace zoneproof::electric {

/// The whole site file. Equal seeds give equal sites.
nlohmann::json random_site(unsigned seed);

/// Pointers of numbers on which the levels of its zone rest.
std::vector<std::string> telling_numbers(const nlohmann::json& site);

/// Reads it; throws std::runtime_error with the messages where it is no site.
site::Site read(const nlohmann::json& site);

}  // namespace zoneproof::electric
