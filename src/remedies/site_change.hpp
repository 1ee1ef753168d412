#pragma once
#include <optional>
#include <string>
#include <vector>

#include "site/model.hpp"

/// What changes of a site have in common: parts of the shelf, ids, cores, settings.
namespace zoneproof::remedies {

/// The output of a panel's inner supply that feeds its own board, as the shelf calls it.
inline constexpr const char* kBoard = "board";

/// With its origin beside it: for a number that goes to where others speak for the numbers.
site::Value stated(site::Value value);
/// Both together; what is none adds nothing, what is unknown leaves the sum unknown.
site::Value sum(const site::Value& a, const site::Value& b);

/// Copies a part of the shelf into the site where it is not there yet. False where the site has another of that id.
bool take_part(site::Site& site, const std::string& id);

/// An id that is nowhere in the site: the stem, or stem_2, stem_3 ...
std::string fresh_id(const site::Site& site, const std::string& stem);

site::Ref to(const std::string& id);

/// Resistors of the shelf by rising resistance, of equal ones the closest tolerance.
struct ShelfResistor {
  std::string part;
  site::Value ohm;
};
const std::vector<ShelfResistor>& shelf_resistors();

/// Batteries of the shelf that have a data sheet, by rising capacity.
const std::vector<std::string>& shelf_batteries();

/// Copper cables of the shelf that have a standard behind them, by falling resistance, then cores, then id.
const std::vector<std::string>& shelf_cables();

/// Cores of a cable that the file gives a use to; what hangs on it twice counts twice.
long long used_cores(const site::Site& site, const std::string& cable);
/// Cores that are left; nothing where the cable's part or its cores in parallel are unknown.
std::optional<long long> spare_cores(const site::Site& site, const std::string& cable);

/// Takes a tap's wire off the zone's terminal, and the resistors with it.
void take_off_loop(site::Trigger& trigger);

/// A wire over one conductor of `cable` between the negatives of `a` and `b`, that is called after `unit`.
void join_negatives(site::Site& site, const std::string& unit, const std::string& a, const std::string& b,
                    const std::string& cable);

/// Sets the trigger's input to the best range or preset for the levels that the site gives. False where none tells rest
/// from alarm.
bool fit_setting(site::Site& site, const std::string& trigger);

}  // namespace zoneproof::remedies
