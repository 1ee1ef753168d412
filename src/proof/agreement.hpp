#pragma once
#include <string>

#include "chain/evidence.hpp"

/// Evidence that two statements of the site file agree, as the pairing rules have it. Its link is `trigger`.
namespace zoneproof::proof {

chain::Evidence about(const std::string& zone, const char* check, chain::Verdict verdict);
chain::Evidence holds(const std::string& zone, const char* check);
chain::Evidence breaks(const std::string& zone, const char* check, Message says);
/// Not to be told before the datum at `pointer` is known.
chain::Evidence open_question(const std::string& zone, const char* check, const std::string& pointer);

}  // namespace zoneproof::proof
