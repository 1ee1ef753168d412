#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/answer.hpp"

namespace zoneproof::electric {

/// What a piece of evidence is about, in all words that results and sentences need.
struct Subject {
  std::string id;     ///< of the object
  std::string check;  ///< evidence id, e.g. "panel_reads_alarm"
  chain::Link link = chain::Link::loop;
  std::string quantity;   ///< e.g. "terminal_voltage"
  std::string unit;       ///< e.g. "V"
  std::string condition;  ///< e.g. "battery_cutoff/powered/alarm_pir"
  std::string thing;      ///< for the sentence: "Zone 6 (Store) at the panel, in alarm"
};

/// Judges a band and says it: numbers, limit and margin in one sentence, or what floats, collapses or is missing.
chain::Evidence finding(const Subject& subject, const Wiring& wiring, const std::vector<circuit::Quantity>& quantities,
                        const Solved& solved, const Band& band);

/// The worst answer so far to one question, with the way to tell its corner once it is known to be the one that stays.
class Worst {
 public:
  void offer(chain::Evidence candidate, std::function<std::vector<chain::CornerValue>()> corner = {});
  bool any() const { return evidence_.has_value(); }
  /// The evidence with its corner told; `any()` must hold.
  chain::Evidence take();

 private:
  std::optional<chain::Evidence> evidence_;
  std::function<std::vector<chain::CornerValue>()> corner_;
};

/// Of two answers to the same question in different conditions, the one that a person must hear of. Supplies apart,
/// which enclose all conditions in common, count as worse only where they change the verdict or lessen the margin by
/// more than a thousandth of itself.
bool worse(const chain::Evidence& a, const chain::Evidence& b);

/// Unanswered for want of the data at `pointers` (each with its reason).
chain::Evidence unanswered(const Subject& subject, std::vector<chain::Gap> gaps);

/// "between 1.1 V and 4.1 V", "at least 9 V", "at most 0.2 V".
std::string band_words(const Band& band, const std::string& unit);

}  // namespace zoneproof::electric
