#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/costs.hpp"
#include "site/model.hpp"

/// What cures what is not proven, each remedy tried by proving the changed site (docs/methods/remedies.md).
namespace zoneproof::remedies {

enum class Kind {
  other_range,       ///< another setting of the input
  other_terminal,    ///< the trigger wire on another terminal
  spare_contact,     ///< a spare contact of the detector instead of a tap
  following_output,  ///< an output of the panel that follows the zone instead of a tap
  series_resistor,   ///< in the trigger wire
  divider,           ///< a resistor in the trigger wire and one from the input to the negative
  buffer,            ///< a high-impedance buffer before all inputs of the unit
  pull_up,           ///< a resistor at the arming input
  armed_level,       ///< the level that the unit takes as armed
  more_cores,        ///< spare cores of the same cable in parallel
  thicker_cable,
  second_negative,  ///< a wire that joins the negatives
  other_output,     ///< another output of the same supply
  own_supply,       ///< a supply with a battery of its own
  larger_battery,
  new_battery,
  combined  ///< two of these together
};
const char* word(Kind kind);

/// A link of a zone's chain whose verdict the change moves.
struct LinkChange {
  std::string zone;
  chain::Link link = chain::Link::sense;
  chain::Verdict from = chain::Verdict::unanswered, to = chain::Verdict::unanswered;
};

/// A change that was tried and taken.
struct Remedy {
  Kind kind = Kind::other_range;
  Message says;
  std::string patch;                                    ///< of the site file (site/patch.hpp)
  chain::Verdict verdict = chain::Verdict::unanswered;  ///< of all checks of the problem together, after
  std::optional<chain::Evidence> decisive;              ///< the weakest of these checks, after
  std::vector<LinkChange> improves;                     ///< by zone and link
  site::Bill bill;
  site::Cost cost;
};

/// A change that would cure, but worsens something else.
struct Refused {
  Kind kind = Kind::other_range;
  Message says;
  Message because;
};

/// What is thin or broken in one link for one thing.
struct Problem {
  std::string subject;  ///< zone, unit, supply, detector, load ...
  chain::Link link = chain::Link::sense;
  chain::Verdict verdict = chain::Verdict::unanswered;  ///< the worst of `evidence`
  std::vector<chain::Evidence> evidence;                ///< thin or broken, the worst first
  std::vector<std::string> zones;                       ///< whose chains lean on it; none: a thing of no chain
  bool by_money = false;                                ///< how the remedies are put in order
  std::vector<Remedy> remedies;                         ///< what proves most first; of equals the cheapest first
  std::vector<Refused> refused;
  long long tried = 0;        ///< changed sites that were looked at
  long long pairs_tried = 0;  ///< of changes, where no single one proves all
};

struct Remedies {
  std::vector<Problem> problems;
  long long unanswered = 0;  ///< links of chains that wait for something which a person can find out
};

/// The problems of a site, the worst first, with their remedies. `zone`: only what its chain leans on; empty: all.
/// What is unanswered is no problem here, and only counted: it is cured by looking it up. A remedy is taken only where
///  - every thin or broken check of the problem is afterwards answered, none is worse and one at least is better;
///  - no link of any chain is worse, no other check of the site is worse (but for one that becomes thin in a zone's
///  link
///    that was thin before), and nothing that the change brings along is broken or unanswered.
/// Where no single change proves all, the best of those that lead towards it are tried in pairs; a pair is told where
/// it proves more than any single change. Where some remedy leaves nothing of the problem broken, those that do are
/// left out. Pure: the same for any number of threads. `progress` is called after each problem. Cost: a proof of one
/// zone, or of the supplies, a candidate; a proof of the whole site for each that cures.
Remedies find_remedies(const site::Site& site, const site::Costs& costs, const std::string& zone = "",
                       const std::function<void(std::size_t, std::size_t)>& progress = {});

}  // namespace zoneproof::remedies
