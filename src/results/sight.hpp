#pragma once
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "results/ask.hpp"
#include "results/questions.hpp"
#include "sight/cures.hpp"
#include "sight/zone_view.hpp"

/// The question sight.
namespace zoneproof::results {

/// A zone as its cameras show it.
struct ZoneSeen {
  sight::ZoneView view;
  chain::Evidence witnessed;            ///< with verdict and sentence
  std::vector<chain::Evidence> sensed;  ///< what it is there for, place by place
  std::vector<sight::Cure> cures;       ///< best first
};

/// What a camera is good for.
struct CameraUse {
  std::string camera;
  std::vector<std::string> zones;           ///< that it is to witness
  std::map<std::string, double> shown_pct;  ///< share of the detection area of each that it shows
  std::map<std::string, double> filmed_m2;  ///< privacy areas that it shows, larger than the smallest patch that counts
  std::vector<chain::Gap> gaps;
  bool live_only = false;  ///< every channel that it is on is for looking only
  /// It shows nothing of any zone: of those it is to witness, or, where there are none, of all that have a chain.
  bool shows_nothing = false;
};

struct SightAnswer {
  std::vector<ZoneSeen> zones;  ///< worst first, then by number
  std::vector<CameraUse> cameras;
  double whole_pct = 0.0;  ///< from which share on an area counts as shown whole

  /// All that was asked for is proven, and no camera films where it must not.
  bool all_seen() const;
};

/// Cost: sight/zone_view.hpp and sight/cures.hpp for each zone.
Answered<SightAnswer> answer(const site::Site& site, const SightQuestion& question, const Progress& progress);
nlohmann::ordered_json json_of(const site::Site& site, const SightAnswer& answer);
/// As `ask` gives it.
Reply reply_of(const site::Site& site, const SightAnswer& answer);

}  // namespace zoneproof::results
