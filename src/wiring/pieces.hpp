#pragma once
#include <optional>
#include <string>
#include <vector>

#include "schematic/boxes.hpp"
#include "schematic/symbols.hpp"
#include "wiring/board.hpp"
#include "wiring/row.hpp"

/// Parts that several kinds of rows are made of.
namespace zoneproof::wiring {

inline constexpr double kCableWords_mm = 37.5, kPanel_mm = 32.5, kUnit_mm = 37.5;

/// A text block with bold first line, as a device without terminals.
schematic::Device words(const Context& context, const std::string& id, const std::string& name,
                        const std::vector<std::string>& notes, int column, double width_mm);
double height_of_words(const Context& context, const std::string& name, const std::vector<std::string>& notes,
                       double width_mm);

/// Mark, name, part and length of a cable. `full` false: the mark alone.
/// Of a cable that the site does not name: that it is not known, and a
/// rule to write it on; or a mark that says so.
std::vector<std::string> words_of_cable(const Context& context, const site::Ref& cable, bool full);
/// The mark of a cable about the wires of `of`, which gives it its id. `board` null: as large as it may become; else
/// with all its words only once on the sheet; of a cable that is not known each time.
schematic::CableOf cable_spec(const Context& context, const site::Ref& cable, const std::string& of, Board* board,
                              bool full = true);
/// Whether wires run in a cable, or may: all but those that are known to stay in one enclosure.
inline bool in_a_cable(const site::Ref& cable) { return !cable.none(); }
/// Whether there is a fuse, or may be one.
inline bool may_be_fused(const site::Feed& feed) { return !feed.fuse_A.none(); }
/// The fuse of a feed, as a two-port in its positive wire. One that is not known stands with a broken outline and a
/// rule to write its rating on.
schematic::Device fuse_device(const Context& context, const std::string& of, const site::Feed& feed, int column);

/// Resistors at a unit's input, about the wire to it: one in the wire, one to the positive (upwards), one to the
/// negative (downwards). Ports "in" (left) and "out" (right).
struct Fitted {
  std::string id;
  site::Value series, pullup, pulldown;
};
bool any(const Fitted& fitted);
bool not_known(const Fitted& fitted);     ///< whether there may be one that is not drawn
double above_wire(const Fitted& fitted);  ///< room that it needs above its wire, on the grid
double below_wire(const Fitted& fitted);
schematic::Device fitted_device(const Context& context, const Fitted& fitted, int column);

/// A two-port in a wire: a symbol with its text above. Ports "in" and "out", 7.5 mm below the upper edge.
schematic::Device in_wire(const Context& context, const std::string& id, schematic::Symbol symbol,
                          const std::string& says, int column);

/// A resistor across two wires. Ports "first-in", "first-out" and, `apart_mm` below, "second-in", "second-out".
schematic::Device across_wires(const Context& context, const std::string& id, const std::string& says, double apart_mm,
                               int column);

/// A part of a unit: its name, what one of its inputs is for, and terminals on the left. The first is at
/// `first_mm` from the upper edge.
struct UnitPart {
  std::string id, unit;
  std::vector<std::string> notes;
  std::vector<schematic::Screw> screws;
};
struct PartDrawn {
  schematic::Device device;
  double first_mm = 0.0;
};
PartDrawn unit_part(const Context& context, const UnitPart& part);
/// The same of any box.
PartDrawn with_first(const Context& context, schematic::BoxOf spec, int column);

/// What stands over the wire that joins two negatives: its name, what it is, its cable or resistance.
schematic::CableOf bond_words(const Context& context, const std::string& bond);

/// "T1 aux2 +"
std::string pole_name(const Context& context, const site::Feed& feed, bool plus);
/// "psu-aux2-plus": the id of that terminal.
std::string pole_id(const site::Feed& feed, bool plus);
/// The same as the name of a sheet that the wire goes on to.
schematic::Device pole_tag(const Context& context, const site::Feed& feed, bool plus, const std::string& id,
                           schematic::Side wire_on, int column);

}  // namespace zoneproof::wiring
