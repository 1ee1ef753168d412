#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"
#include "drawing/ruler.hpp"
#include "schematic/diagram.hpp"

/// Graphical symbols after IEC 60617 (shapes and numbers from memory, not verified), upright or lying, and what all
/// wires look like. Places are where wires end: a symbol brings its own leads.
namespace zoneproof::schematic {

inline constexpr double kTerminal_mm = 0.9;         ///< radius of a terminal's circle
inline constexpr double kSymbol_mm = 3 * kGrid_mm;  ///< length of a symbol with two leads

/// Wires of one conductor.
drawing::Shape wire(std::string id, const std::vector<drawing::Line>& lines);
/// Where conductors are joined (03-02-01).
drawing::Shape junction(drawing::Point at);
/// A terminal (03-02-02): a circle, clean inside.
drawing::Shape terminal(std::string id, drawing::Point centre);

/// What stands in a wire. `contact` is one of which nobody knows whether it is closed at rest.
enum class Symbol {
  resistor,       ///< 04-01-01: a rectangle
  make_contact,   ///< 07-02-01: open at rest
  break_contact,  ///< 07-02-03: closed at rest
  contact,        ///< a gap between two terminals
  fuse,           ///< 07-21-01: a rectangle that the conductor goes through
  fuse_not_known  ///< the same with a broken outline: nobody knows whether there is one
};
/// How far a symbol that lies reaches from its line: upwards, downwards.
double above(Symbol symbol);
double below(Symbol symbol);
/// The symbol about the middle between two places on a level or an upright line, with leads to both. A moving contact
/// points from the second place to the first one, its blade above the line or to its left.
drawing::Group symbol(std::string id, Symbol kind, drawing::Point from, drawing::Point to);

/// One cell or more (06-15-01): the long line is the positive. Upright, positive above.
drawing::Group battery(std::string id, drawing::Point plus, drawing::Point minus);
/// An NPN transistor that switches the negative (05-05-01), collector at `out`, emitter at `low`; both on one upright
/// line. And a PNP one that switches the positive.
drawing::Group transistor(drawing::Point out, drawing::Point other, bool switches_negative);
/// Earth (02-15-01) below a place.
drawing::Group earth(std::string id, drawing::Point at);

/// Where a wire goes on elsewhere: a name in a box that points away from the wire's end at `at`, lying on that side of
/// it. `kTag_mm` high.
inline constexpr double kTag_mm = 3.75;
drawing::Group tag(const drawing::Ruler& ruler, const drawing::Name& name, const std::string& says, drawing::Point at,
                   Side side);
double tag_width(const drawing::Ruler& ruler, const std::string& says);

}  // namespace zoneproof::schematic
