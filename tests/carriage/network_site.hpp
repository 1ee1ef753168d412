#pragma once
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// A data network small enough to compute by hand.
namespace zoneproof::carriage {

using Json = nlohmann::ordered_json;

/// A yard camera ("yard") of class 3 with 6.5 W, behind "k_yard", 50 m of 100 ohm a kilometre and two joints of 0.05
/// ohm at 20 degC, on "switch" (44 V, 60 W, 8 ports); a hall camera ("hall") of class 3 with 6.5 W beside its
/// "injector"; a "recorder" of both (4 Mb/s each, 30 days, 3000 GB), a "unit", a "router" of 12 W with a modem and the
/// uplink "line". "backup" (1400 Wh, 900 W, 15 W for itself) powers switch (9 W), injector (2 W, both 80 % efficient),
/// recorder (25 W) and router. All in one network; every number is exact. The rulebook is the European one of the
/// shelf, grade 2: 12 h.
///
///     yard == k_yard == switch --- router ~ line
///     hall -- injector --/   \--- recorder, unit
Json small_network();

/// The site that a file holds, after an RFC 6902 patch; its errors fail the test.
site::Site network_of(const Json& file, const std::string& patch = "[]");

/// The only answer to one check of one subject; its absence fails the test.
chain::Evidence only(const std::vector<chain::Evidence>& all, const std::string& check, const std::string& subject);
bool any(const std::vector<chain::Evidence>& all, const std::string& check, const std::string& subject);

/// Whether the evidence names that datum as missing for that reason.
bool lacks(const chain::Evidence& evidence, const std::string& pointer, const std::string& reason = "unknown");

/// A patch that takes one thing out of the file.
std::string without(const std::string& pointer);

/// One field left out, and the answer that it leaves open.
struct LeftOut {
  const char* pointer;
  const char* check;
  const char* subject;
  const char* gap = nullptr;  ///< null: `pointer` itself
  const char* reason = "unknown";
};
using Check = std::vector<chain::Evidence> (*)(const site::Site&);
/// Every case is proven as it stands, unanswered without its field, and names it; and a sentence says so.
void expect_unanswered(Check check, const std::vector<LeftOut>& cases, const Json& file = small_network());

}  // namespace zoneproof::carriage
