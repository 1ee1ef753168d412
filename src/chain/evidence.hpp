#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "site/value.hpp"

/// The words in which every engine answers: link, verdict, evidence.
namespace zoneproof::chain {

enum class Link { sense, loop, trigger, view, deliver };
enum class Verdict { proven, thin, broken, unanswered };
enum class BoundKind { exact, bounded };

const char* word(Link link);
const char* word(Verdict verdict);

/// One parameter of the corner that makes the value: its pointer in the site file and what it is there.
struct CornerValue {
  std::string pointer;
  double value = 0.0;
  std::string unit;
};

/// A datum that is missing, or only typical or assumed, and on which the answer rests.
struct Gap {
  std::string pointer;
  std::string reason;  ///< closed set: "unknown", "typical", "assumed", "incomplete_list", "no_rule", "later_issue",
                       ///< "undecided"; of a terminal known by readings alone the one that is missing, "reading_open",
                       ///< "reading_loaded", "reading_shorted", or the one that
                       ///< contradicts all others, "reading_disagrees", or all of them, "readings_disagree", or a value
                       ///< of its sheet that they contradict, "sheet_disagrees"; of one that no meter at rest tells,
                       ///< "not_by_meter"; of a lens whose terms turn back before the sensor's corner, "lens_turns";
                       ///< of a number that views are computed with as nominal though it may be another, "has_range"
};

/// Whether the reason means that nothing at all is known of the datum, so that no number may rest on it.
bool nothing_known(const std::string& reason);

/// Adds a gap where it is not named yet: one pointer may be missing for one reason once.
void add_gap(std::vector<Gap>& gaps, const Gap& gap);

/// Why nothing is proven on a datum: "unknown", "typical" or "assumed"; null where its origin bears a proof.
const char* weakness(bool unknown, site::Origin origin);

/// Names a datum that is unknown, typical or assumed, once. "None" is an answer.
void add_if_weak(std::vector<Gap>& gaps, const site::Value& value);

/// One check with its numbers. Absent numbers are std::nullopt, never NaN.
struct Evidence {
  std::string id;       ///< check name, closed set per engine, e.g. "loop_window", "trigger_level", "autonomy"
  std::string subject;  ///< id of the object it is about: a zone, unit, supply, detector ...
  Link link = Link::loop;
  Verdict verdict = Verdict::unanswered;
  std::string quantity;         ///< e.g. "terminal_voltage"
  std::string unit;             ///< e.g. "V"
  std::optional<double> value;  ///< worst attained
  std::optional<double> bound;  ///< guaranteed bound; the verdict uses it
  std::optional<double> nominal;
  std::optional<double> limit;
  std::optional<double> margin;  ///< signed distance from bound to limit, positive is good
  std::optional<double> required_margin;
  BoundKind kind = BoundKind::exact;
  std::string condition;  ///< e.g. "battery_cutoff/unit_powered/alarm"
  std::vector<CornerValue> corner;
  std::string limit_source;
  bool limit_verified = false;
  std::string margin_source;                     ///< of the required margin; empty: none is asked for beyond the limit
  bool margin_verified = false;                  ///< with `margin_source`
  site::Origin origin = site::Origin::measured;  ///< the weakest origin it rests on
  std::vector<Gap> gaps;
  std::optional<Message> says;  ///< the sentence: thing, number, limit
  std::vector<Message> remedies;
};

/// Adds all of `more` behind what is there.
void append(std::vector<Evidence>& all, std::vector<Evidence> more);

/// Verdict of numbers alone: margin >= required proven, >= 0 thin, else broken.
Verdict judge(double margin, double required_margin);

/// 0 broken, 1 unanswered, 2 thin, 3 proven: the order in which verdicts weigh and are read.
int rank(Verdict verdict);

/// The verdict of several together, in the order broken, unanswered, thin, proven. Nothing to join is unanswered.
Verdict together(const std::vector<Verdict>& verdicts);

}  // namespace zoneproof::chain
