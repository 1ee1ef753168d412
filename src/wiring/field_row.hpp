#pragma once
#include <string>
#include <vector>

#include "wiring/field_block.hpp"

namespace zoneproof::wiring {

/// What rows with a block in the field do alike.
class FieldRow : public Row {
 protected:
  explicit FieldRow(const Context& context) : context_(context) {}

  /// Makes the block; `cable` is that of its two wires.
  void make_field(FieldBlockOf spec, const site::Ref& cable);
  bool has_ladder() const;
  bool in_cable(const FeedPair& pair) const { return cable_.known() && pair.feed.cable.id == cable_.id; }

  /// Supply wires begin at the block.
  void begin_feeds(std::size_t field) const;
  /// The mark of the cable about those of the strands and supply wires that run in it, and the marks of supply wires in
  /// cables of their own. Null: a wire that does not run in it.
  void build_cables(Board& board, double top, Strand* first, Strand* second) const;
  /// Supply wires go to the names of their poles.
  void finish_feeds(Board& board, double top) const;

  const Context& context_;
  FieldBlock field_;
  site::Ref cable_;
  std::string id_;                      ///< before ids of nets: "z1"
  std::string colour_, return_colour_;  ///< of the cores of its two wires; empty: not recorded
  bool full_ = true;                    ///< the cable's words stand above its mark

 private:
  void pass_all(Board& board, double top, schematic::CableOf spec, const std::vector<Strand*>& strands) const;

  mutable std::vector<Strand> plus_, minus_;  ///< while it is built
};

}  // namespace zoneproof::wiring
