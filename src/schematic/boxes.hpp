#pragma once
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "schematic/diagram.hpp"

/// Devices made of their words: boxes with terminals, marks of cables, texts. All sizes on the grid.
namespace zoneproof::schematic {

/// A screw on the edge of a box, or on both edges: then the two circles are one terminal, joined inside.
struct Screw {
  std::string id;       ///< of the port; where on both edges, the right one's is the same with "-right"
  std::string label;    ///< inside of the box
  std::string reading;  ///< a figure for the terminal, beside its label; empty: none
  bool left = true, right = false;
  double y_mm = 0.0;  ///< from the upper edge of the box, on the grid; 0: below the one before, `kPitch_mm` apart
};
inline constexpr double kPitch_mm = 2 * kGrid_mm;

struct BoxOf {
  std::string id, title;           ///< of the group; told when pointed at
  std::string link;                ///< of its name
  std::string name;                ///< in bold
  std::vector<std::string> notes;  ///< below it
  std::vector<Screw> screws;
  double width_mm = 0.0;  ///< at least; texts are broken to it, or to `most_mm` where that is more
  double most_mm = 45.0;
  double height_mm = 0.0;  ///< at least
  bool part = false;       ///< a part of something that is drawn in several places: sides open to above and below
};

/// A rectangle with its name, notes below, then its terminals. Ports are the screws.
Device box(const drawing::Ruler& ruler, const BoxOf& spec, int column);
/// How far down the name and the notes of a box reach: from there on there is room for terminals.
double room_for_words(const drawing::Ruler& ruler, const BoxOf& spec);

/// One core through a cable's mark, at a height from the device's upper edge, on the grid; ports "ID-a" (left), "ID-b".
struct Core {
  std::string id;
  double y_mm = 0.0;
  std::string colour;  ///< letters of IEC 60757 beside the wire; empty: not known
};
struct CableOf {
  std::string id, title;
  std::vector<std::string> says;  ///< lines of text above; each broken to the width
  std::vector<Core> cores;        ///< from above
  double most_mm = 36.0;          ///< width of its texts
  bool slot = true;               ///< false: words over a wire that is in no cable
};
/// A slot about the cores, with its words above the first one, no higher than they need. The first core's height has to
/// leave room for them (`room_for_words`), else std::invalid_argument.
Device cable(const drawing::Ruler& ruler, const CableOf& spec, int column);
double room_for_words(const drawing::Ruler& ruler, const CableOf& spec);

/// The name of somewhere else, as a device with one port `id` on the side where its wire is.
Device reference(const drawing::Ruler& ruler, const drawing::Name& name, const std::string& port,
                 const std::string& says, Side wire_on, int column);

}  // namespace zoneproof::schematic
