#include "field/order_of_work.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include "field/plan.hpp"
#include "field/positions.hpp"
#include "field/walk.hpp"

namespace zoneproof::field {

namespace {

/// Where one stands: a device with a mount of its own, else its area, else the device. Empty: anywhere.
struct Spot {
  std::string key;
  Place place;
  std::optional<Position> position;
  std::vector<std::size_t> steps;  ///< of Plan::steps
};

class Ordering {
 public:
  Ordering(const site::Site& site, std::vector<Step> steps) : positions_(site), steps_(std::move(steps)) {}

  void run(OrderOfWork& work) {
    for (Phase phase : all_phases()) {
      std::vector<Spot> spots = spots_of(phase);
      if (spots.empty()) continue;
      PhaseOfWork one;
      one.phase = phase;
      one.walk_m = walk(spots);
      emit(spots, one, work.steps);
      work.phases.push_back(std::move(one));
    }
  }

 private:
  std::vector<Spot> spots_of(Phase phase) const {
    std::vector<Spot> spots;
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      const Step& step = steps_[i];
      if (step.phase != phase) continue;
      const std::optional<Position> at = positions_.of(step.place.device, step.place.area);
      const bool own = at && !at->of_area;
      const std::string key = own || step.place.area.empty() ? "/" + step.place.device : step.place.area;
      auto spot = std::find_if(spots.begin(), spots.end(), [&](const Spot& one) { return one.key == key; });
      if (spot == spots.end()) spot = spots.insert(spots.end(), {key, step.place, at, {}});
      spot->steps.push_back(i);
    }
    return spots;
  }

  /// Puts the spots into walking order: what can be done anywhere first, then the round from the first place that has
  /// a position, then the others by area. Metres of the round where every place has one.
  std::optional<double> walk(std::vector<Spot>& spots) const {
    const auto anywhere = [](const Spot& spot) { return spot.place.area.empty() && spot.place.device.empty(); };
    std::stable_partition(spots.begin(), spots.end(), anywhere);
    const auto first = std::find_if_not(spots.begin(), spots.end(), anywhere);
    const auto last = std::stable_partition(first, spots.end(), [](const Spot& s) { return s.position.has_value(); });
    std::stable_sort(last, spots.end(), [](const Spot& a, const Spot& b) { return a.key < b.key; });
    const bool everywhere = last == spots.end();
    std::vector<Spot> placed(std::make_move_iterator(first), std::make_move_iterator(last));
    bool joined = true;
    const Distances metres = distances(placed, joined);
    const std::vector<std::size_t> round = short_round(with_doors(metres, placed));
    auto to = first;
    for (std::size_t i : round) *to++ = std::move(placed[i]);
    return everywhere && joined ? std::optional(length_of(metres, round)) : std::nullopt;
  }

  /// Going into another room costs more than its metres: a door, keys, the ladder and the meter. So a room that has
  /// been entered is finished as long as that is no long way.
  static Distances with_doors(Distances metres, const std::vector<Spot>& spots) {
    constexpr double door_m = 10.0;  // common practice, no source
    for (std::size_t i = 0; i < spots.size(); ++i)
      for (std::size_t j = 0; j < spots.size(); ++j)
        if (spots[i].place.area != spots[j].place.area) metres[i][j] += door_m;
    return metres;
  }

  /// Levels that no stairs join are further apart than everything else together: as few changes between them as can be.
  Distances distances(const std::vector<Spot>& spots, bool& joined) const {
    const std::size_t count = spots.size();
    Distances metres(count, std::vector<double>(count, 0.0));
    std::vector<std::pair<std::size_t, std::size_t>> apart;
    double all = 1.0;
    for (std::size_t i = 0; i < count; ++i) {
      for (std::size_t j = i + 1; j < count; ++j) {
        const std::optional<double> way = positions_.between(*spots[i].position, *spots[j].position);
        if (!way) apart.emplace_back(i, j);
        metres[i][j] = metres[j][i] = way.value_or(0.0);
        all += way.value_or(0.0);
      }
    }
    for (const auto& [i, j] : apart) metres[i][j] = metres[j][i] = all;
    joined = apart.empty();
    return metres;
  }

  /// Spot by spot; what has to wait for a step further on is done on a second way round.
  void emit(std::vector<Spot>& spots, PhaseOfWork& phase, std::vector<Step>& out) {
    for (bool more = true; more;) {
      more = false;
      for (Spot& spot : spots) {
        Stop stop{spot.place, {}};
        while (const std::optional<std::size_t> next = take_ready(spot)) {
          done_.insert(steps_[*next].id);
          stop.steps.push_back(out.size());
          out.push_back(std::move(steps_[*next]));
        }
        if (stop.steps.empty()) continue;
        more = true;
        add_stop(phase, std::move(stop));
      }
    }
    for (const Spot& spot : spots)
      if (!spot.steps.empty())
        throw std::logic_error("waits for a step that does not come before: " + steps_[spot.steps.front()].id);
  }

  /// Where the second way round begins at the place where the first one ended, nobody walks: it is one stop.
  static void add_stop(PhaseOfWork& phase, Stop stop) {
    const bool here = !phase.stops.empty() && phase.stops.back().place.area == stop.place.area &&
                      phase.stops.back().place.device == stop.place.device;
    if (here)
      phase.stops.back().steps.insert(phase.stops.back().steps.end(), stop.steps.begin(), stop.steps.end());
    else
      phase.stops.push_back(std::move(stop));
  }

  std::optional<std::size_t> take_ready(Spot& spot) const {
    const auto ready = std::find_if(spot.steps.begin(), spot.steps.end(), [&](std::size_t i) {
      const std::vector<std::string>& after = steps_[i].after;
      return std::all_of(after.begin(), after.end(), [&](const std::string& id) { return done_.count(id) != 0; });
    });
    if (ready == spot.steps.end()) return std::nullopt;
    const std::size_t taken = *ready;
    spot.steps.erase(ready);
    return taken;
  }

  Positions positions_;
  std::vector<Step> steps_;
  std::set<std::string> done_;
};

}  // namespace

const char* word(Phase phase) {
  switch (phase) {
    case Phase::as_found: return "as_found";
    case Phase::safety: return "safety";
    case Phase::dead: return "dead";
    case Phase::install: return "install";
    case Phase::power_up: return "power_up";
    case Phase::live: return "live";
    case Phase::zones: return "zones";
    case Phase::arming: return "arming";
    case Phase::battery: return "battery";
    case Phase::restore: return "restore";
    case Phase::acknowledgement: return "acknowledgement";
    default: return "off_test";
  }
}

const std::vector<Phase>& all_phases() {
  static const std::vector<Phase> all = {
      Phase::as_found, Phase::safety, Phase::dead,    Phase::install, Phase::power_up,        Phase::live,
      Phase::zones,    Phase::arming, Phase::battery, Phase::restore, Phase::acknowledgement, Phase::off_test};
  return all;
}

const char* word(BlankKind kind) {
  switch (kind) {
    case BlankKind::reading: return "reading";
    case BlankKind::time: return "time";
    case BlankKind::yes_no: return "yes_no";
    default: return "words";
  }
}

OrderOfWork order_of_work(const site::Site& site, const std::vector<ToldOfZone>& told) {
  Plan plan(site, told);
  plan.as_found();
  plan.safety();
  plan.dead();
  plan.install();
  plan.power_up();
  plan.live();
  plan.zones();
  plan.arming();
  plan.battery();
  plan.restore();
  plan.acknowledgement();
  plan.off_test();
  plan.common_dangers();
  OrderOfWork work;
  work.left_alone = plan.touched().left_alone();
  for (const LeftAlone& shared : plan.touched().shared()) work.left_alone.push_back(shared);
  Ordering(site, std::move(plan.steps)).run(work);
  return work;
}

}  // namespace zoneproof::field
