#include "handover/operator_words.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "base/message.hpp"
#include "base/outward.hpp"
#include "messages/handover_chapters.hpp"

namespace zoneproof::handover {

using chain::Evidence;
using chain::Link;
using chain::Verdict;

namespace {

template <std::size_t N>
bool is_one_of(const std::string& id, const std::array<std::string_view, N>& ids) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

bool begins(const std::string& id, std::string_view with) { return id.rfind(with, 0) == 0; }

constexpr std::array<std::string_view, 8> kWithoutMains = {
    "autonomy",   "battery_age",  "backup_hold", "backup_load", "battery_temperature",
    "mains_hold", "carrier_hold", "recharge"};
constexpr std::array<std::string_view, 7> kOfAnother = {"channel_as_bound", "channel_used_once",  "zone_name_agrees",
                                                        "zone_name_own",    "zone_number_agrees", "zone_number_own",
                                                        "zone_type_agrees"};

Message trigger_line(const Evidence& one) {
  if (is_one_of(one.id, kOfAnother)) return say::operator_other_zone();
  if (begins(one.id, "arming_") || begins(one.id, "armed_")) return say::operator_arming();
  if (one.id == "unit_reads_rest") return say::operator_false_picture();
  if (begins(one.id, "unit_reads_tamper")) return say::operator_tamper();
  return say::operator_no_picture();
}

Message deliver_line(const Evidence& one) {
  if (one.id == "autonomy" && one.bound) return say::operator_gone_after(lowest({*one.bound, one.unit}));
  if (is_one_of(one.id, kWithoutMains)) return say::operator_without_mains();
  if (one.id == "first_picture")
    return one.bound ? say::operator_late_by(highest({*one.bound, one.unit})) : say::operator_late();
  if (one.id == "clip_complete") return say::operator_clip_late();
  if (one.id == "clock_error") return say::operator_clock();
  return say::operator_not_delivered();
}

/// What it comes to if it goes wrong.
Message line_of(const Evidence& one) {
  switch (one.link) {
    case Link::sense: return say::operator_no_sense();
    case Link::loop: return say::operator_no_alarm();
    case Link::trigger: return trigger_line(one);
    case Link::view: return one.id == "cause_in_clip" ? say::operator_clip_short() : say::operator_not_in_view();
    case Link::deliver: break;
  }
  return deliver_line(one);
}

}  // namespace

std::vector<std::string> operator_lines(const proof::Chain& chain) {
  std::vector<const Evidence*> weak;
  for (const proof::LinkAnswer& link : chain.links)
    for (const Evidence& one : link.evidence)
      if (one.verdict != Verdict::proven) weak.push_back(&one);
  std::stable_sort(weak.begin(), weak.end(), [](const Evidence* a, const Evidence* b) {
    return chain::rank(a->verdict) < chain::rank(b->verdict);
  });
  std::vector<std::string> told, lines;
  for (const Evidence* one : weak) {
    const std::string what = text(line_of(*one));
    if (std::find(told.begin(), told.end(), what) != told.end()) continue;  // told of something worse already
    told.push_back(what);
    lines.push_back(one->verdict == Verdict::thin         ? text(say::operator_thin(what))
                    : one->verdict == Verdict::unanswered ? text(say::operator_open(what))
                                                          : what);
  }
  return lines;
}

bool only_without_mains(const proof::Chain& chain) {
  bool any = false;
  for (const proof::LinkAnswer& link : chain.links)
    for (const Evidence& one : link.evidence) {
      if (one.verdict == Verdict::proven) continue;
      if (!is_one_of(one.id, kWithoutMains)) return false;
      any = true;
    }
  return any;
}

}  // namespace zoneproof::handover
