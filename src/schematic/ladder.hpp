#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"
#include "drawing/ruler.hpp"
#include "schematic/symbols.hpp"

/// Two wires with what stands between them: any network of series and parallel parts, as a strip.
namespace zoneproof::schematic {

/// A part of a network between two places. `series`: from the first terminal on. `parallel`: the first lies on the
/// line, the others above it.
struct Branch {
  enum class Kind { element, series, parallel };
  Kind kind = Kind::series;
  Symbol symbol = Symbol::resistor;  ///< of an element, as all below
  std::string id, title;             ///< "resistor-z1-eol"; told when pointed at
  std::string above, below;          ///< texts beside the symbol
  std::vector<Branch> parts;
};

Branch element(Symbol symbol, std::string id, std::string title, std::string above, std::string below);
Branch in_series(std::vector<Branch> parts);
Branch in_parallel(std::vector<Branch> parts);

/// A network drawn from right to left and back: its first terminal is the end of the upper line, its second that of the
/// lowest one, both at the right edge (`width_mm`), on the grid below the upper edge.
struct Ladder {
  drawing::Group group;
  double width_mm = 0.0, height_mm = 0.0;
  double first_mm = 0.0, second_mm = 0.0;  ///< from the upper edge
};

/// `first_mm`: the least distance of the first line from the upper edge. Where `network` is a series that is wider than
/// `most_mm` it is folded into an even number of lines, as few as do; a part of it that alone is wider stays so. Wires
/// are "wire-ID-N". No text meets another or a wire.
Ladder ladder(const drawing::Ruler& ruler, const std::string& id, const Branch& network, double first_mm,
              double most_mm);

}  // namespace zoneproof::schematic
