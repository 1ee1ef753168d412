#pragma once
#include <string>
#include <vector>

#include "schematic/ladder.hpp"
#include "wiring/pieces.hpp"

namespace zoneproof::wiring {

/// A pair of supply wires of detectors that hang on the same output over the same cable.
struct FeedPair {
  site::Feed feed;
  std::vector<std::string> detectors;
  double plus_mm = 0.0, minus_mm = 0.0;  ///< of its wires, from the upper edge of the block
};

/// What stands in the field: heading, contacts and resistors as a ladder, the supply terminals of its detectors.
struct FieldBlockOf {
  std::string id, name;                ///< "zone-z1", "Zone 1  Front door"
  std::vector<std::string> notes;      ///< below the name
  std::vector<std::string> detectors;  ///< whose contacts these are
  std::string home;                    ///< of rows, as Context::feed_homes names them
  std::optional<schematic::Branch> network;
  double cable_words_mm = 0.0;                        ///< height of the words above the first wire
  double least_first_mm = 0.0;                        ///< of the ladder's first line
  double most_mm = 0.0;                               ///< of the ladder
  double panel_above_mm = 0.0, panel_below_mm = 0.0;  ///< what the panel's box takes from the ladder's first line on
};

/// Ports "first", "second" (the ladder's), "plus-N", "minus-N" of each pair, all on the right.
struct FieldBlock {
  schematic::Device heading, device;
  std::vector<FeedPair> feeds;
  double first_mm = 0.0, second_mm = 0.0;
};
/// "B12 Shop PIR: PIR, wide angle, 12 m" where there is one; else marks and names.
std::vector<std::string> detector_notes(const Context& context, const std::vector<std::string>& detectors);

FieldBlock field_block(const Context& context, const FieldBlockOf& spec);

}  // namespace zoneproof::wiring
