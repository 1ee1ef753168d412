#pragma once
#include <string>
#include <vector>

#include "field/touched.hpp"
#include "handover/answers.hpp"
#include "handover/places.hpp"
#include "paper/table.hpp"

/// The tables of the termination schedule. Each has its rows by unit: columns without rows, and the rows of one unit.
namespace zoneproof::handover {

/// What the rows of all units are made from, computed once.
struct WiringFacts {
  WiringFacts(const site::Site& of, const Answers& told) : site(of), answers(told), cables(of), touched(of) {}
  const site::Site& site;
  const Answers& answers;
  const CableNames cables;
  const field::Touched touched;
};

/// From the panel's terminal, a contact or an output to the unit's input: one row a core.
std::vector<paper::Column> trigger_columns();
std::vector<paper::Row> trigger_rows(const WiringFacts& facts, const std::string& unit);

/// The panel's terminals that a trigger wire is on: as found, and with the wire.
std::vector<paper::Column> panel_columns();
std::vector<paper::Row> panel_rows(const site::Site& site, const Answers& answers, const std::string& unit);

/// From the output that tells whether the system is armed to the unit's arming input.
std::vector<paper::Column> arming_columns();
std::vector<paper::Row> arming_rows(const WiringFacts& facts, const std::string& unit);

/// The unit's supply, positive and negative, and what joins its negative or that of its supply with others.
std::vector<paper::Column> supply_columns();
std::vector<paper::Row> supply_rows(const WiringFacts& facts, const std::string& unit);
/// Joins of negatives that no unit's rows have.
std::vector<paper::Row> other_join_rows(const WiringFacts& facts);

/// On test and quiet, what is made dead, what comes off (the negative last), what is put back, what lives again, what
/// is then read (just after mains are back, with every other unit), closed and off test: in that order, a row each.
std::vector<paper::Column> way_back_columns();
std::vector<paper::Row> way_back_rows(const WiringFacts& facts, const std::string& unit);

/// Triggers of a unit by their input, those without one last; all, or those that are wires.
std::vector<std::string> triggers_in_order(const site::Site& site, const std::string& unit, bool wires_only);

/// Whether a figure of any of the unit's zones is what a direct-current meter shows of a terminal that comes and goes.
bool any_by_meter(const site::Site& site, const Answers& answers, const std::string& unit);

}  // namespace zoneproof::handover
