#pragma once
#include <string>
#include <vector>

#include "drawing/labels.hpp"
#include "drawing/list.hpp"

/// Names and numbers of a plan, and where they find room. Used by plan_* only.
namespace zoneproof::sheets {

inline constexpr double kNameGap_mm = 1.2;  ///< between a name and anything else

/// A text of one or more lines that belongs to a place. It is tried at its spots first, within `within` where that is
/// given, then beside its symbol or with a leader.
struct PlanLabel {
  std::vector<drawing::TextLine> lines;  ///< measured, not yet placed
  drawing::Point anchor;
  double radius_mm = 0.3;             ///< of the symbol: nobody's name covers it
  bool ringed = false;                ///< a number in a circle: of a blind patch
  std::vector<drawing::Point> or_at;  ///< other places that it may point at, where a symbol covers the anchor
  bool must = false;                  ///< what lists refer to; else a name that may be told elsewhere
  bool symbol = true;                 ///< there is one at the anchor; else it is named in its middle
  std::vector<drawing::Point> spots;  ///< middles to be tried first: the one that covers fewest lines, then the first;
                                      ///< beside a symbol only such as cover none, with a leader where far off
  std::vector<drawing::Subpath> within;

  double width_mm() const;
  double height_mm() const;
};

/// Lines of label size, one below the other; ids are `id`, `id`-2 and so on.
PlanLabel plan_label(const drawing::Ruler& ruler, const std::string& id, const std::vector<std::string>& says,
                     drawing::Ink ink = drawing::Ink::text);
/// A name in as many lines as it takes to be no wider than what it names; in one where that is narrow or would take
/// more than three.
std::vector<std::string> name_lines(const drawing::Ruler& ruler, const std::string& name, double width_mm);
/// The number of a blind patch: in the plan and, at a place, in its list.
PlanLabel patch_label(const drawing::Ruler& ruler, const std::string& id, int number);
drawing::Group set_at(const PlanLabel& label, drawing::Point middle);

struct PlacedLabels {
  drawing::Group below;  ///< clean paper and leaders: under the symbols
  drawing::Group names;
  std::vector<std::string> nowhere;  ///< names without a place, as they would stand
  bool all_that_must = true;
};
/// No two overlap, none covers a symbol or what is taken. Those that must stand go first where there is not room for
/// all. Where all that a label may point at lies under a symbol, its leader begins there.
PlacedLabels place_labels(std::vector<PlanLabel> labels, drawing::LabelField field);

}  // namespace zoneproof::sheets
