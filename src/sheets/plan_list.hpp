#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"
#include "sheets/place_words.hpp"
#include "sheets/plan_areas.hpp"

/// The list beside a plan: zone by zone what is not seen of it, each patch with its number and cause. Used by
/// plan_sheet only.
namespace zoneproof::sheets {

/// A row, with its upper left corner at (0, 0).
struct PlanRow {
  drawing::Group group;
  double height_mm = 0.0;
  double before_mm = 0.0;  ///< room above it, but at the top of a column
  bool with_next = false;  ///< a heading: never the last of a column
};

/// Heading, zones of the level with their patches, and what could not be drawn. Those zones are of the level whose area
/// or one of whose detectors lies on it.
std::vector<PlanRow> plan_rows(const drawing::Ruler& ruler, const sight::Scene& scene,
                               const std::vector<sight::ZoneView>& views, const std::string& level,
                               const std::vector<std::string>& unknown, const PlaceWords& called, double width_mm);

/// A note under the list: a small heading and sentences.
std::vector<PlanRow> plan_notes(const drawing::Ruler& ruler, const std::string& id, const std::string& heading,
                                const std::vector<std::string>& says, double width_mm);

/// As many rows as a column holds, from `first` on; tells the first that is left. None where not even one fits with
/// what may not be parted from it.
std::size_t fill_column(drawing::Group& into, const std::vector<PlanRow>& rows, std::size_t first,
                        const drawing::Box& column);

}  // namespace zoneproof::sheets
