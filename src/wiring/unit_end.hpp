#pragma once
#include <optional>
#include <string>

#include "wiring/pieces.hpp"

namespace zoneproof::wiring {

/// A wire's way to a terminal of a unit: the cable, resistors at the input, the terminal; for a contact also the way
/// back to one of the unit's poles.
class UnitEnd {
 public:
  /// Of a trigger. `back_mm`: how far below its wire a second core goes to the unit's positive or negative, on the
  /// grid; 0: there is none.
  static UnitEnd of_trigger(const Context& context, const std::string& trigger, double back_mm);
  static UnitEnd of_arming(const Context& context, const std::string& unit);

  double above_mm() const;  ///< room above the wire, on the grid
  double below_mm() const;
  /// `at_mm`: height of the wire on the sheet. `field_cable`: the cable's mark stands already.
  void build(Board& board, double at_mm, Strand wire, std::optional<Strand> back, bool field_cable) const;

 private:
  UnitEnd(const Context& context, std::string id, site::Ref cable)
      : context_(&context), id_(std::move(id)), cable_(std::move(cable)) {}
  void finish();
  void pass_cable(Board& board, double at_mm, Strand& wire, std::optional<Strand>& back) const;

  const Context* context_;
  std::string id_;
  site::Ref cable_;
  std::string colour_, return_colour_;  ///< of the cores; empty: not recorded
  Fitted fitted_;
  UnitPart part_;
  PartDrawn drawn_;
  double cable_words_mm_ = 0.0, back_mm_ = 0.0;
};

}  // namespace zoneproof::wiring
