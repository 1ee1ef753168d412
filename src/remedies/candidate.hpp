#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "remedies/remedy.hpp"

namespace zoneproof::remedies {

/// A changed site that may be a remedy.
struct Candidate {
  Kind kind = Kind::other_range;
  Message says;
  site::Site changed;
  site::Bill bill;
  bool takes_wire_off = false;           ///< what was asked of the tap alone is asked no more
  std::vector<std::string> to_fit = {};  ///< triggers whose inputs are to be set anew for the changed levels
};

/// Which sizes of a ladder may work: those that lie side by side somewhere, or all from some size up.
enum class Works { somewhere, from_some_size_up };

/// The same change in rising sizes, of which the smallest that proves most is wanted. `make` gives nothing for a size
/// that is not possible.
struct Ladder {
  std::string name;  ///< what is changed, and of which thing: the same for the same change of another site
  std::size_t count = 1;
  std::function<std::optional<Candidate>(std::size_t size)> make;
  Works works = Works::somewhere;
  bool last_resort = false;  ///< not tried where anything else proves all
  bool climbs_on = false;    ///< where the size that cures does harm elsewhere, a larger one may not
};

/// Everything that is worth trying for a problem. The site must outlive the ladders.
std::vector<Ladder> ladders_for(const site::Site& site, const Problem& problem);

/// By kind of thing: what a zone's loop and trigger can be given, a unit's arming, whatever is fed, a supply.
void trigger_ladders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all);
/// Instead of the tap `trigger`: an output of the panel that follows the zone. Before all inputs of `unit`: a buffer.
void following_output_ladders(const site::Site& site, const std::string& trigger, std::vector<Ladder>& all);
void buffer_ladders(const site::Site& site, const std::string& unit, std::vector<Ladder>& all);
void arming_ladders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all);
void feed_ladders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all);
void negative_ladders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all);
void supply_ladders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all);

/// A ladder of one size.
Ladder one_size(std::string name, std::function<std::optional<Candidate>()> make);

/// Whether any thin or broken check of the problem has an id that begins like this.
bool fails(const Problem& problem, const char* beginning);

}  // namespace zoneproof::remedies
