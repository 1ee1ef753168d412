#pragma once
#include <optional>
#include <string>

#include "cli/screen.hpp"
#include "site/costs.hpp"

namespace zoneproof::cli {

/// The text of a person's own costs for a site: of the file `named`, else of NAME.costs.json beside NAME.site.json
/// where there is one, else empty. Notes go to standard error; nothing where the file has errors, which are then told,
/// and `exit_code` set.
std::optional<std::string> own_costs(const std::string& site_path, const std::string& named, const std::string& command,
                                     bool json, Screen& screen, int& exit_code);

/// "Resistor, 10 kohm, 1 %; 12 m of Cable, 2 x 0.5 mm2": what has to be bought. Empty where nothing has.
std::string parts_words(const site::Bill& bill);
/// "18 min of work; 42 EUR in all"; that the price is not known is said.
std::string cost_words(const site::Cost& cost);

}  // namespace zoneproof::cli
