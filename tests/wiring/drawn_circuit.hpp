#pragma once
#include <set>
#include <string>
#include <vector>

#include "drawing/sheet.hpp"

/// A sheet read as a person reads it: by where its lines run, not by what made them.
namespace zoneproof::wiring {

/// Something that a wire ends at: a circle of a terminal, one end of a symbol, a tag or a bar with a name.
struct DrawnPin {
  std::string name;  ///< the id of its group
  drawing::Point at;
  bool tag = false;
  std::string says;  ///< the text of a tag or bar
};

struct DrawnWire {
  std::string id;
  drawing::Line line;
};

struct DrawnSheet {
  std::vector<DrawnWire> wires;
  std::vector<drawing::Point> dots;
  std::vector<DrawnPin> pins;
};

DrawnSheet read(const drawing::Sheet& sheet);

/// The pins that each conductor joins, and what cannot be read for sure: wires that lie on each other, three ways that
/// meet without a dot, a dot where nothing meets, a wire that ends nowhere.
struct DrawnNets {
  std::vector<std::vector<DrawnPin>> nets;
  std::vector<std::string> faults;
};
DrawnNets nets_of(const DrawnSheet& sheet);

/// What makes a sheet hard to read: texts that meet, things outside of the frame, wires over texts, boxes or symbols,
/// wires of two conductors side by side nearer than `apart_mm`.
std::vector<std::string> hard_to_read(const drawing::Sheet& sheet, double apart_mm);

/// How often wires of different conductors cross.
std::size_t crossings_on(const drawing::Sheet& sheet);

}  // namespace zoneproof::wiring
