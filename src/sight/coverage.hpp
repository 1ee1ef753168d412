#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "sight/area.hpp"
#include "sight/witness.hpp"

/// How much of a zone's area its cameras witness, and what is left.
///
/// All of it is one overlay for each floor (plane/overlay.hpp): the detectors' patterns, what hides places from them,
/// and every reason of every camera. A place belongs to the area where a detector reaches it in some state of the doors
/// and racks, and is blind where in one of these states no camera shows it: a door that the detector looks through is
/// open whenever it trips there, all others may be shut.
namespace zoneproof::sight {

/// A reason for a blind patch: how much of the patch it takes, and how much of it no other reason does.
struct Cause {
  std::string camera;
  Why why = Why::hidden;
  ThingKind thing_kind = ThingKind::wall;  ///< hidden
  std::string thing;                       ///< hidden: its id
  std::string mask;                        ///< masked: its id
  double area_m2 = 0.0, alone_m2 = 0.0;
};

struct Patch {
  std::string level;
  double floor_m = 0.0;  ///< height above the datum that people stand at
  Outlines outlines;
  double area_m2 = 0.0;
  plane::Point inside;        ///< a place well within it
  std::vector<Cause> causes;  ///< of the camera that shows most of the zone; the largest first
};

/// What a person looks like at the worst place that is witnessed.
struct WorstPlace {
  std::string camera;
  std::string level;
  plane::Point at;
  double px_per_m = 0.0;
  std::optional<double> height_pct;  ///< share of the picture's height, standing there
};

struct Coverage {
  double area_m2 = 0.0, witnessed_m2 = 0.0;
  double shown_m2 = 0.0;                       ///< without the patches that are too small to count
  std::map<std::string, double> by_camera_m2;  ///< what each camera alone witnesses
  std::vector<Patch> patches;                  ///< the largest first
  std::vector<Outlines> areas;                 ///< the detection area as the building cuts it, part by part
  std::vector<std::string> area_levels;        ///< of each
  std::vector<double> area_floors_m;           ///< of each
  std::optional<WorstPlace> worst;

  double share_pct() const { return area_m2 > 0.0 ? 100.0 * witnessed_m2 / area_m2 : 0.0; }
};

/// Of sources that are two approaches to one opening the better witnessed one counts. `demand` may be asked for places
/// that cameras do not reach; no camera means nothing is witnessed. Patches below `least_patch_m2` count as witnessed:
/// they are smaller than a person. Not where nothing is shown at all: there every patch counts.
Coverage coverage(const Building& building, const std::vector<AreaSource>& sources,
                  const std::vector<Watching>& cameras, const Demand& demand, double least_patch_m2);

/// How much of an outline on a level the sources reach for sure (guaranteed): the parts that they do not reach are the
/// patches, without causes.
Coverage reached(const Building& building, const std::vector<AreaSource>& sources, const Outlines& wanted,
                 const std::string& level, const Demand& demand, double least_patch_m2);

}  // namespace zoneproof::sight
