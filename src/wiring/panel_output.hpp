#pragma once
#include <string>

#include "wiring/pieces.hpp"

namespace zoneproof::wiring {

/// A part of a panel with one of its outputs: a transistor to one of its poles, or a relay's contact between two
/// terminals. Ports: `out`, and of a relay `other`, `kPitch_mm` below, both on the right.
struct PanelOutput {
  PartDrawn drawn;
  std::string out, other;          ///< `other` empty: it has none
  std::vector<std::string> notes;  ///< its name and what it follows
};
PanelOutput panel_output(const Context& context, const std::string& output, const std::string& row);

}  // namespace zoneproof::wiring
