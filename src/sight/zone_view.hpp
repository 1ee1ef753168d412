#pragma once
#include <string>
#include <vector>

#include "chain/limit.hpp"
#include "sight/camera_of_site.hpp"
#include "sight/coverage.hpp"
#include "site/model.hpp"

/// The view of every zone of a site: what its detectors reach, and what of it the cameras of its channels show.
namespace zoneproof::sight {

/// What the rulebook asks of a view. Absent entries are gaps.
struct ViewRules {
  Demand demand;
  chain::Limit coverage_pct;  ///< least share of the detection area
  double least_patch_m2 = 0.0;
  std::vector<chain::Gap> gaps;

  /// From which share on an area counts as shown whole: the rule's, or all of it where there is none.
  double whole_pct() const { return coverage_pct.value.value_or(100.0); }
};
ViewRules view_rules_of(const site::Site& site);

/// A camera of the site as it looks, with what is asked of its picture (the rule chosen under /rulebook/view_rule).
struct WatchingFound {
  std::optional<Watching> watching;
  std::vector<CameraTolerance> tolerances;
  std::vector<chain::Gap> gaps;
};
WatchingFound watching_of(const site::Site& site, const std::string& camera);

/// How a zone is seen.
struct ZoneView {
  std::string zone;
  std::vector<std::string> cameras;  ///< that are to witness it, the trigger's own channel first
  Coverage coverage;                 ///< of the largest plausible area; empty where gaps leave nothing
  std::vector<chain::Gap> gaps;      ///< what is missing, or only typical or assumed
  double worst_pct = 0.0;            ///< least share with each number of a camera at each end of its tolerance
  std::string worst_pointer;         ///< of that number; empty: nominal
  double worst_value = 0.0;          ///< what it is there
};

class KeptViews;

/// A site resolved once, for questions about many zones.
class Scene {
 public:
  /// Keeps a reference. `kept`: views of variants of this site (kept_views.hpp), taken where nothing that they rest on
  /// has changed; may be null.
  explicit Scene(const site::Site& site, KeptViews* kept = nullptr);

  const site::Site& site() const { return site_; }
  const Building& building() const { return building_; }
  const People& people() const { return people_; }
  const ViewRules& rules() const { return rules_; }
  const std::map<std::string, WatchingFound>& cameras() const { return cameras_; }

  /// Cost: one overlay for each floor and each approach; 1 to 20 ms. With tolerances one more for each end of each.
  ZoneView view(const std::string& zone, bool with_tolerances) const;
  /// The coverage of a zone's largest area by other cameras than its own, or by these as they would look.
  Coverage coverage_by(const std::string& zone, const std::vector<Watching>& cameras) const;

 private:
  /// What of a view depends on geometry alone.
  ZoneView computed(const std::vector<AreaSource>& sources, std::vector<Watching> watching, bool with_tolerances) const;

  const site::Site& site_;
  KeptViews* kept_;
  Building building_;
  People people_;
  ViewRules rules_;
  std::map<std::string, WatchingFound> cameras_;
};

}  // namespace zoneproof::sight
