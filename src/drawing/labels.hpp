#pragma once
#include <cstddef>
#include <vector>

#include "drawing/geometry.hpp"

namespace zoneproof::drawing {

/// A text that wants to stand beside a place.
struct LabelWish {
  Point anchor;            ///< the middle of the symbol that is named
  double radius_mm = 0.0;  ///< of the symbol: nobody's label covers it
  double width_mm = 0.0, height_mm = 0.0;
};

/// The sheet as labels find it.
struct LabelField {
  Box area;                 ///< what no label leaves
  std::vector<Box> taken;   ///< what no label and no leader enters: other texts, title block, legend
  std::vector<Line> lines;  ///< what a label covers only where nothing else is left: walls, wires, outlines
  double gap_mm = 0.8;      ///< between a label and anything else
  double reach_mm = 40.0;   ///< the longest leader
};

enum class LabelHow { beside, by_leader, nowhere };

struct LabelPlace {
  LabelHow how = LabelHow::nowhere;
  Box box;      ///< where the text goes; meaningless for `nowhere`
  Line leader;  ///< from the symbol's edge to the label; only for `by_leader`
};

/// A place for each label such that no two labels overlap, none leaves the area or covers a symbol or what is taken,
/// and no leader crosses a label, a symbol, what is taken or another leader; or `nowhere`, which the caller must tell.
///
/// Model: point-feature label placement with eight places around each symbol. The places and what excludes what make a
/// conflict graph; the three rules of Wagner, Wolff, Kapoor and Strijk, "Three rules suffice for good label placement",
/// Algorithmica 30 (2001) 334-349, settle what can be settled without loss, and between them a place with the most
/// conflicts is given up. It is as good as simulated annealing in their comparison, needs no chance, and so gives the
/// same sheet each time. Labels that get no place beside their symbol are placed by the same rules once more among
/// places further away, each with a leader, shortest first; what still has none may cover lines, beside its symbol
/// before away from it. At last every label moves to a place it likes better if one has become free. The number of
/// labels placed is not proven to be the greatest possible (that problem is NP-hard); the order of wishes matters only
/// between equals. Method note: docs/methods/drawings.md. Cost: about the square of the number of labels.
std::vector<LabelPlace> label_places(const std::vector<LabelWish>& wishes, const LabelField& field);

}  // namespace zoneproof::drawing
