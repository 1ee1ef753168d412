#include "proof/agreement.hpp"

#include "messages/proof.hpp"

namespace zoneproof::proof {

using chain::Evidence;
using chain::Verdict;

Evidence about(const std::string& zone, const char* check, Verdict verdict) {
  Evidence evidence;
  evidence.id = check;
  evidence.subject = zone;
  evidence.link = chain::Link::trigger;
  evidence.verdict = verdict;
  evidence.quantity = "agreement";
  evidence.limit_source = text(say::rule_of_pairing());
  evidence.limit_verified = true;
  return evidence;
}

Evidence holds(const std::string& zone, const char* check) { return about(zone, check, Verdict::proven); }

Evidence breaks(const std::string& zone, const char* check, Message says) {
  Evidence evidence = about(zone, check, Verdict::broken);
  evidence.says = std::move(says);
  return evidence;
}

Evidence open_question(const std::string& zone, const char* check, const std::string& pointer) {
  Evidence evidence = about(zone, check, Verdict::unanswered);
  evidence.gaps.push_back({pointer, "unknown"});
  evidence.says = say::pairing_not_known(pointer);
  return evidence;
}

}  // namespace zoneproof::proof
