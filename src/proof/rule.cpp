#include "proof/rule.hpp"

#include <stdexcept>
#include <string_view>

#include "messages/proof.hpp"

namespace zoneproof::proof {

using chain::Evidence;
using chain::Verdict;

Evidence judged(const Rule& rule, Verdict verdict) {
  Evidence evidence;
  evidence.id = rule.check;
  evidence.subject = rule.zone;
  evidence.link = rule.link;
  evidence.verdict = verdict;
  evidence.quantity = "agreement";
  evidence.limit_source = text(rule.source);
  evidence.limit_verified = true;
  return evidence;
}

namespace {

struct Sentence {
  std::string_view check;
  Message (*says)();
};

/// What it means that a check holds.
constexpr Sentence kSentences[] = {
    {"trigger_present", say::trigger_present_holds},
    {"source_possible", say::source_possible_holds},
    {"right_terminal", say::right_terminal_holds},
    {"input_exists", say::input_exists_holds},
    {"input_used_once", say::input_used_once_holds},
    {"channel_as_bound", say::channel_as_bound_holds},
    {"channel_used_once", say::channel_used_once_holds},
    {"output_follows_zone", say::output_follows_zone_holds},
    {"output_used_once", say::output_used_once_holds},
    {"zone_number_agrees", say::zone_number_agrees_holds},
    {"zone_name_agrees", say::zone_name_agrees_holds},
    {"zone_number_own", say::zone_number_own_holds},
    {"zone_name_own", say::zone_name_own_holds},
    {"zone_type_agrees", say::zone_type_agrees_holds},
    {"armed_with_zone", say::armed_with_zone_holds},
    {"output_programmable", say::output_programmable_holds},
    {"works_unfed", say::works_unfed_holds},
    {"terminal_exists", say::terminal_exists_holds},
    {"terminal_own", say::terminal_own_holds},
    {"loop_contact_own", say::loop_contact_own_holds},
    {"loop_contact_role", say::loop_contact_role_holds},
    {"contact_of_zone", say::contact_of_zone_holds},
    {"contact_reports_alarm", say::contact_reports_alarm_holds},
    {"contact_used_once", say::contact_used_once_holds},
};

}  // namespace

Evidence holds(const Rule& rule) {
  Evidence evidence = judged(rule, Verdict::proven);
  for (const Sentence& sentence : kSentences) {
    if (sentence.check != rule.check) continue;
    evidence.says = sentence.says();
    return evidence;
  }
  throw std::logic_error(std::string("no sentence for the check ") + rule.check);
}

Evidence breaks(const Rule& rule, Message says) {
  Evidence evidence = judged(rule, Verdict::broken);
  evidence.says = std::move(says);
  return evidence;
}

Evidence open_question(const Rule& rule, const std::string& pointer) {
  Evidence evidence = judged(rule, Verdict::unanswered);
  evidence.gaps.push_back({pointer, "unknown"});
  evidence.says = say::pairing_not_known();
  return evidence;
}

}  // namespace zoneproof::proof
