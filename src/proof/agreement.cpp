#include "proof/agreement.hpp"

#include "messages/proof.hpp"
#include "proof/rule.hpp"

namespace zoneproof::proof {

using chain::Evidence;
using chain::Verdict;

namespace {

Rule pairing(const std::string& zone, const char* check) {
  return {zone, chain::Link::trigger, check, say::rule_of_pairing()};
}

}  // namespace

Evidence about(const std::string& zone, const char* check, Verdict verdict) {
  return judged(pairing(zone, check), verdict);
}

Evidence holds(const std::string& zone, const char* check) { return holds(pairing(zone, check)); }

Evidence breaks(const std::string& zone, const char* check, Message says) {
  return breaks(pairing(zone, check), std::move(says));
}

Evidence open_question(const std::string& zone, const char* check, const std::string& pointer) {
  return open_question(pairing(zone, check), pointer);
}

}  // namespace zoneproof::proof
