#pragma once
#include <functional>
#include <set>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/fault_list.hpp"
#include "electric/situation.hpp"
#include "site/costs.hpp"

/// What every single fault of the wiring does, and whether anybody notices (docs/methods/faults.md).
///
/// Every fault is put into the solved network of the whole site by a change of one branch, and every alarm beside it by
/// the movement of its contact: two or three branches of one factorised network (circuit/variation.hpp). Values are
/// nominal: whether a fault is seen is a matter of volts, not of tolerances; what stands within tolerances is judged by
/// the links. What the contacts of a detector without supply do, and who misses a unit, the file tells
/// (fault_dark.hpp).
namespace zoneproof::electric {

/// What comes of a fault, the worst first: the order in which faults are ranked.
enum class FaultEffect {
  alarm_lost,        ///< silent: the panel misses an alarm
  picture_lost,      ///< silent: the panel has the alarm, the operator no picture
  unanswered,        ///< something is lost or may be, and whether anybody notices is not known
  supervision_lost,  ///< silent: a tamper, mask or fault contact is no longer seen
  noticed,           ///< it shows at rest, on mains; of what goes dark elsewhere only, wherever it is lost
  not_judged,        ///< nothing is lost by it of a zone that has not everything without it
  harmless           ///< nothing is lost
};
const char* word(FaultEffect effect);

/// What one zone loses by a fault, and in which conditions of the supplies.
struct FaultLoss {
  std::string zone;
  FaultEffect effect = FaultEffect::harmless;  ///< alarm_lost, picture_lost or supervision_lost
  std::string state;                           ///< the first that is lost: "alarm_pir"
  std::vector<SupplyCondition> conditions;
};

/// A change of the site by which a silent fault shows, tried by solving the changed site.
struct FaultRemedy {
  Message says;
  std::string patch;  ///< a patch of the site file (site/patch.hpp)
  site::Bill bill = {};
  site::Cost cost = {};
};

struct FaultAnswer {
  SingleFault fault;
  FaultEffect effect = FaultEffect::harmless;
  std::vector<FaultLoss> losses;           ///< by zone, then effect
  std::vector<Message> noticed;            ///< who sees it at rest, and as what
  std::vector<chain::Gap> gaps;            ///< what would have to be known
  std::vector<FaultRemedy> remedies = {};  ///< of a silent fault, the cheapest first; filled in by try_remedies()
};

struct FaultAnalysis {
  std::vector<FaultAnswer> faults;          ///< ranked: by effect, then by how many zones lose something, then by id
  std::vector<chain::Gap> gaps;             ///< what is not known of the wiring: nothing here is certain then
  std::vector<SupplyCondition> conditions;  ///< looked at, mains first
  /// What is not there, or not known to be, without any fault: no fault can take it, so none is judged by it.
  std::vector<FaultLoss> lost_already;
  std::vector<std::string> without_alarm;  ///< zones of which no state that alarms is known; as the last
  /// What is right without any fault: "z1/alarm_pir/mains/panel", ".../picture".
  std::set<std::string> right;
  long long variations = 0;   ///< operating points looked at
  long long solved_anew = 0;  ///< networks that needed a solution of their own
};

/// What is looked at; everything where a set is empty.
struct FaultScope {
  std::set<std::string> faults;  ///< ids
  std::set<std::string> zones;   ///< whose states
};

/// Silent: something is lost, and nobody notices.
bool silent(FaultEffect effect);

/// `progress` is called after each fault, from any thread. The same for any number of threads. Cost: a few microseconds
/// for each state of each zone in each condition and each fault (docs/methods/faults.md).
FaultAnalysis analyse_faults(const site::Site& site, const FaultScope& scope = {},
                             const std::function<void(std::size_t, std::size_t)>& progress = {});

}  // namespace zoneproof::electric
