#pragma once
#include <optional>
#include <string>
#include <vector>

#include "timeline/alarm_log.hpp"

/// What a sheet of one alarm has in its rows, before it has a place. Used by clip_sheet only.
namespace zoneproof::sheets {

struct ClipRow {
  std::string id;                        ///< "area", "contact", ...
  std::string says;                      ///< what happens
  std::vector<std::string> figures;      ///< when, a line each
  std::vector<timeline::Span> possible;  ///< between earliest and latest; of no length where the moment is known
  std::optional<timeline::Span> sure;    ///< where something lasts for sure
};

struct ClipRows {
  std::vector<ClipRow> rows;         ///< in the order of cause
  timeline::Span close, whole;       ///< what the two axes have to hold
  std::vector<std::string> missing;  ///< pointers of what would have to be known
};

/// `fast` is how long the fastest whom the rule names is in the area.
ClipRows clip_rows(const site::Site& site, const timeline::AlarmLog& log, const timeline::Told& fast);

}  // namespace zoneproof::sheets
