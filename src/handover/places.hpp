#pragma once
#include <string>
#include <vector>

#include "handover/answers.hpp"
#include "paper/table.hpp"
#include "site/model.hpp"
#include "wiring/names.hpp"

/// Screws, cables, resistors and cameras in words. What the site does not say is empty words: a blank on paper.
namespace zoneproof::handover {

/// The name of a thing; empty where the reference is unknown or leads nowhere.
std::string called(const site::Site& site, const site::Ref& thing);

/// "Panel, input 6"; "Unit A, input 3"; "Panel, output 2".
std::string panel_input(const site::Site& site, const site::Ref& panel, const site::Count& input);
std::string unit_input(const site::Site& site, const site::Trigger& trigger);
std::string output_screw(const site::Site& site, const site::Ref& output);

/// The cable by its mark on the drawings and its name, "W9 Triggers of unit A"; "same enclosure" where there certainly
/// is none. The marks are given once, at the cost of one pass over the site.
class CableNames {
 public:
  explicit CableNames(const site::Site& site);
  std::string operator()(const site::Ref& cable) const;

 private:
  const site::Site& site_;
  wiring::Marks marks_;
};

/// Cores joined to one conductor, where there are several; a blank where that is not known.
paper::Cell cores(const site::Site& site, const site::Ref& cable);

/// "5.6 kohm in the wire; 10 kohm to the supply positive"; "none" where none is fitted, empty where one of them is not
/// known.
std::string resistors_of(const site::Trigger& trigger);

/// Channels of which a clip is kept when the trigger comes, and their cameras: "3, 4".
std::string channels_of(const site::Site& site, const std::string& trigger);
std::string cameras_of(const site::Site& site, const std::string& trigger);

/// Two cells: lowest and highest, in volts to the millivolt; blanks where not known.
void add_range(std::vector<paper::Cell>& cells, const Volts& volts);
/// Three columns under one heading: lowest, highest, measured.
void add_range_columns(std::vector<paper::Column>& columns, const std::string& id, const std::string& over);

/// A known number as it was typed, with its unit; "none" where it is known to be none; else a blank.
paper::Cell figure(const site::Value& value, const std::string& unit);
paper::Cell figure(const site::Count& count);

}  // namespace zoneproof::handover
