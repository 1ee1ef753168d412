#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "chain/limit.hpp"
#include "circuit/worst_case.hpp"
#include "electric/wiring.hpp"

namespace zoneproof::electric {

/// The extremes of some quantities in one wiring, with what they rest on.
struct Solved {
  std::vector<circuit::WorstCase> cases;  ///< one a quantity
  std::vector<bool> low_exact,
      high_exact;                ///< bound attained by a corner that a real site can have (shared data agree)
  std::vector<chain::Gap> gaps;  ///< data that are missing, typical or assumed and that move a quantity
  site::Origin weakest = site::Origin::measured;
  /// A datum that moves a quantity is not known at all, or the structure is not: the cases hold nominal values of a
  /// guess, without bounds, and are not to be shown.
  bool unknown = false;

  bool troubled() const;
  /// Whether quantity `which` has numbers to show: solved in every corner, and nothing unknown behind it.
  bool has_numbers(std::size_t which) const { return !unknown && cases.at(which).trouble == circuit::Trouble::none; }
};

/// Worst case over all tolerances, unless something that matters is unknown. A corner in which one datum (a cable's
/// length, an area's temperature) would have to be at both ends of its tolerance is safe but not real: then the result
/// is bounded, not exact.
Solved solve_wiring(const Wiring& wiring, const std::vector<circuit::Quantity>& quantities);

/// The numbers of a solution that an answer rests on.
using Seen = std::function<std::vector<double>(const circuit::Solution&)>;

/// What is missing in the structure, and every unknown, typical or assumed datum that moves one of the numbers seen
/// when it alone is moved far from its nominal value: with all else nominal, and at each of `corners` (a clamp may
/// conduct, and so matter, only there). Two guesses that matter only together, and at none of these, are not found.
std::vector<chain::Gap> weak_data(const Wiring& wiring, const Seen& seen,
                                  const std::vector<circuit::Corner>& corners = {});

/// Every unknown, typical or assumed datum that one element rests on: for numbers that are read off the element itself.
std::vector<chain::Gap> weak_bases(const Wiring& wiring, circuit::ElementIndex element);

/// The weakest origin of everything that the network is made of.
site::Origin weakest_of(const Wiring& wiring);

/// One side of a band: quantity `which` of the solved ones against `limit`. A limit that is only guessed is not firm.
struct Side {
  std::size_t which = 0;
  double limit = 0.0;
  bool firm = true;
};

/// What is asked of a level: its quantity at or above one side and at or below the other; an absent side is unlimited.
/// The two sides may look at different quantities (a window given as shares of a source).
struct Band {
  std::optional<Side> min, max;
  double required_margin = 0.0;
  std::string margin_source;  ///< of the rulebook's margin; empty: none is asked for
  bool margin_verified = false;
  std::string limit_source;
  bool limit_verified = false;
  std::vector<chain::Gap> gaps;  ///< limits that are unknown, typical or assumed

  /// A side from the file: the end of its tolerance that asks for more, moved inward by `inward`. None: no side.
  /// Unknown: no side, and a gap. Typical or assumed: a side, and a gap.
  void at_least(std::size_t which, const site::Value& limit, double inward = 0.0);
  void at_most(std::size_t which, const site::Value& limit, double inward = 0.0);
  /// Asks for the rulebook's margin; an absent entry asks for none here and is the caller's gap (`lacks_rule`).
  void ask(const chain::Limit& margin);
};

/// Evidence for a band: verdict by the bound, numbers, gaps. The corner is told apart (`telling_corner`); what it is
/// about (id, subject, link, quantity, unit, condition, sentence) is the caller's to fill in.
chain::Evidence judged(const Wiring& wiring, const std::vector<circuit::Quantity>& quantities, const Solved& solved,
                       const Band& band);

/// The smaller of the two guaranteed distances to the sides of a band; negative where a side is crossed.
double guaranteed_margin(const Solved& solved, const Band& band);

/// Whether a band is missed for every possible value of what is not known: then it is broken whatever will be found.
bool fails_whatever_is_missing(const Wiring& wiring, const std::vector<circuit::Quantity>& quantities,
                               const Band& band);

/// The parts of an extreme's corner that make up most of its deviation from nominal, largest first.
std::vector<chain::CornerValue> telling_corner(const Wiring& wiring, const circuit::Quantity& quantity,
                                               const circuit::Extreme& extreme);

/// The same for the extreme behind a judged band.
/// Cost: a batch with one set for each element of the corner (circuit/batch.hpp), so it is asked for the evidence that
/// is kept, not for every candidate.
std::vector<chain::CornerValue> telling_corner(const Wiring& wiring, const std::vector<circuit::Quantity>& quantities,
                                               const Solved& solved, const Band& band);

}  // namespace zoneproof::electric
