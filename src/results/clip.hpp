#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "results/ask.hpp"
#include "results/questions.hpp"
#include "timeline/alarm_log.hpp"
#include "timeline/arming_edge.hpp"
#include "timeline/restart.hpp"

/// The question clip.
namespace zoneproof::results {

/// One clip of a zone, from the cause to the last picture.
struct ClipTold {
  timeline::AlarmLog log;
  std::vector<timeline::EdgeRow> arming;
  timeline::Restart restart;
};

struct ZoneClips {
  std::string zone;
  timeline::Crossing crossing;
  std::vector<ClipTold> clips;            ///< by trigger, then by channel
  std::vector<chain::Evidence> evidence;  ///< what its moments prove
  std::vector<chain::Gap> gaps;           ///< why there may be more clips than told
};

struct ClipAnswer {
  std::vector<ZoneClips> zones;  ///< by number

  /// Every zone that was asked for has a clip, and all that its moments are asked is proven.
  bool all_proven() const;
};

/// Cost: that of a view for each zone, and of the network's bounds once.
Answered<ClipAnswer> answer(const site::Site& site, const ClipQuestion& question, const Progress& progress);
nlohmann::ordered_json json_of(const site::Site& site, const ClipAnswer& answer);
Reply reply_of(const site::Site& site, const ClipAnswer& answer);

/// The word of a moment in results: "enters", "trips", ...
const char* word(timeline::Happens what);
const char* word(timeline::ArmingPhase phase);
const char* word(timeline::Does does);

}  // namespace zoneproof::results
