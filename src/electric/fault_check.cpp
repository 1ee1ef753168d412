#include "electric/fault_check.hpp"

#include <algorithm>
#include <atomic>
#include <map>
#include <memory>

#include "base/parallel_for.hpp"
#include "electric/fault_view.hpp"
#include "electric/loop_check.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"
#include "site/words.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Change;
using site::Reading;

/// One state of one zone in one condition: where it is looked at, and what moves there.
struct StateView {
  std::string zone;
  ZoneState state;
  const SolvedSite* solved = nullptr;
  std::vector<Change> movement;
  SiteView before;  ///< without a fault
};

/// One condition of the supplies, armed, with every state of every zone that somebody is to see.
struct Condition {
  SupplyCondition supply = SupplyCondition::mains;
  std::shared_ptr<SolvedSite> rest;
  std::vector<std::shared_ptr<SolvedSite>> others;  ///< states that are networks of their own
  std::vector<StateView> states;
};

bool seen_by_somebody(const ZoneState& state) {
  switch (state.happening) {
    case Happening::alarm:
    case Happening::masked:
    case Happening::fault: return true;
    case Happening::tamper_open: return !state.contact.empty();
    default: return false;
  }
}

FaultEffect loss_of(Happening happening) {
  return happening == Happening::alarm ? FaultEffect::alarm_lost : FaultEffect::supervision_lost;
}

/// The conditions of a site with one supply dead, or none.
class Surroundings {
 public:
  Surroundings(const site::Site& site, const std::string& dead_supply, const std::set<std::string>& zones,
               long long& fresh)
      : site_(site), zones_(zones) {
    for (const SupplyCondition supply : supply_conditions(site)) {
      if (supply == SupplyCondition::supplies_apart || !anything_alive(supply)) continue;
      conditions.push_back(condition(supply, dead_supply, fresh));
    }
    disarmed = std::make_shared<SolvedSite>(site, situation(SupplyCondition::mains, dead_supply, false, {}));
    long long ignored = 0;
    at_rest_armed = conditions.front().rest->view({}, ignored);
    at_rest_disarmed = disarmed->view({}, ignored);
  }

  std::vector<Condition> conditions;  ///< mains first
  std::shared_ptr<SolvedSite> disarmed;
  SiteView at_rest_armed, at_rest_disarmed;  ///< on mains

 private:
  bool anything_alive(SupplyCondition supply) const {
    return std::any_of(site_.supplies.begin(), site_.supplies.end(),
                       [&](const auto& entry) { return alive(site_, entry.first, supply); });
  }

  SiteSituation situation(SupplyCondition supply, const std::string& dead, bool armed,
                          const std::map<std::string, ZoneState>& states) const {
    SiteSituation asked = whole_site(site_, supply, states, armed);
    for (const auto& [zone, state] : states) {  // of two zones on a pair, the one whose state it is stands for both
      const std::string owner = site::loop_owner(site_, zone);
      if (owner != zone) asked.zones.erase(owner);
    }
    asked.studied.dead_supply = dead;
    return asked;
  }

  Condition condition(SupplyCondition supply, const std::string& dead, long long& fresh) const {
    Condition made;
    made.supply = supply;
    made.rest = std::make_shared<SolvedSite>(site_, situation(supply, dead, true, {}));
    for (const auto& [id, zone] : site_.zones) {
      if (!zones_.empty() && zones_.count(id) == 0) continue;
      for (const ZoneState& state : reachable_states(site_, id)) {
        if (!seen_by_somebody(state)) continue;
        const SiteSituation moved = situation(supply, dead, true, {{id, state}});
        StateView view{id, state, made.rest.get(), {}, {}};
        if (const auto movement = movement_of(made.rest->circuit(), build_site_circuit(site_, moved))) {
          view.movement = *movement;
        } else {
          made.others.push_back(std::make_shared<SolvedSite>(site_, moved));
          view.solved = made.others.back().get();
        }
        view.before = view.solved->view(view.movement, fresh);
        made.states.push_back(std::move(view));
      }
    }
    return made;
  }

  const site::Site& site_;
  const std::set<std::string>& zones_;
};

/// Whether the panel reads a state of a zone rightly. A zone without a pair is read as long as its panel is fed: its
/// way there is no wire.
bool panel_right(const site::Site& site, const StateView& state, const SiteView& view) {
  const auto reading = view.panel.find(state.zone);
  if (reading == view.panel.end()) return view.without_supply.count(site.zones.at(state.zone).panel.id) == 0;
  if (!reading->second) return false;
  Happening happening = state.state.happening;
  const bool second = site::loop_owner(site, state.zone) != state.zone;
  if (second && happening == Happening::alarm) happening = Happening::second_alarm;
  const std::vector<Reading> right = right_readings(happening);
  return std::find(right.begin(), right.end(), *reading->second) != right.end();
}

/// Whether some trigger of the zone moves, at a unit that is fed and reads armed.
bool pictured(const site::Site& site, const StateView& state, const SiteView& view, const SiteView& at_rest) {
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id != state.zone || view.without_supply.count(trigger.unit.id) != 0) continue;
    const auto reads = view.armed.find(trigger.unit.id);
    if (reads == view.armed.end() || reads->second != true) continue;
    if (!site::has_wire(trigger)) return true;
    const auto moved = view.triggers.find(id), before = at_rest.triggers.find(id);
    if (moved != view.triggers.end() && moved->second && before != at_rest.triggers.end() && !before->second)
      return true;
  }
  return false;
}

/// One fault looked at from everywhere.
class Look {
 public:
  Look(const site::Site& site, const Surroundings& sound, const Surroundings& faulty, const SingleFault& fault)
      : site_(site), sound_(sound), faulty_(faulty) {
    answer_.fault = fault;
  }

  FaultAnswer run() {
    notices();
    for (std::size_t c = 0; c < faulty_.conditions.size(); ++c) losses(sound_.conditions[c], faulty_.conditions[c]);
    conclude();
    return std::move(answer_);
  }

  long long variations = 0, fresh = 0;

 private:
  std::vector<Change> changes_in(const SolvedSite& solved) const {
    return changes_of(answer_.fault, solved.circuit().wiring.network);
  }
  SiteView look(const SolvedSite& solved, const std::vector<Change>& movement) {
    std::vector<Change> changes = movement;
    for (const Change& change : changes_in(solved)) {
      const auto same = std::find_if(changes.begin(), changes.end(), [&](const Change& other) {
        return change.element && other.element == change.element;
      });
      if (same == changes.end()) {
        changes.push_back(change);
      } else {
        *same = change;  // a contact that is stuck does not move
      }
    }
    ++variations;
    return solved.view(changes, fresh);
  }

  // --- who notices, at rest and on mains --------------------------------------------------------------------------
  void notices() {
    const SiteView armed = look(*faulty_.conditions.front().rest, {}), disarmed = look(*faulty_.disarmed, {});
    for (const auto& [id, panel] : site_.panels) {
      if (newly(armed.without_supply, sound_.at_rest_armed.without_supply, id))
        answer_.noticed.push_back(say::notice_panel_dead(thing_words(site_, id)));
    }
    for (const auto& [zone, reading] : armed.panel) panel_notices(zone, reading, armed);
    for (const auto& [id, triggers] : armed.triggers) {
      const std::string& unit = site_.triggers.at(id).unit.id;
      if (triggers && !sound_.at_rest_armed.triggers.at(id))
        answer_.noticed.push_back(
            say::notice_unit_triggers(thing_words(site_, unit), zone_words(site_, site_.triggers.at(id).zone.id)));
    }
    for (const auto& [unit, reads] : disarmed.armed) {
      if (reads == true && sound_.at_rest_disarmed.armed.at(unit) != true && disarmed.without_supply.count(unit) == 0)
        answer_.noticed.push_back(say::notice_unit_armed(thing_words(site_, unit)));
    }
    nobody_knows(armed);
  }

  static bool newly(const std::set<std::string>& now, const std::set<std::string>& before, const std::string& id) {
    return now.count(id) != 0 && before.count(id) == 0;
  }

  void panel_notices(const std::string& zone, const std::optional<Reading>& reading, const SiteView& view) {
    if (view.without_supply.count(site_.zones.at(zone).panel.id) != 0) return;  // told of the panel
    const auto before = sound_.at_rest_armed.panel.find(zone);
    if (before == sound_.at_rest_armed.panel.end() || before->second == reading) return;
    answer_.noticed.push_back(
        reading ? say::notice_panel_reads(zone_words(site_, zone), std::string(site::word_of(*reading)))
                : say::notice_panel_reads_none(zone_words(site_, zone)));
  }

  /// A unit or detector that is gone: the file does not say who would notice.
  void nobody_knows(const SiteView& armed) {
    for (const auto& [id, unit] : site_.units) {
      if (newly(armed.without_supply, sound_.at_rest_armed.without_supply, id))
        answer_.gaps.push_back({"/units/" + id, "later_issue"});
    }
    for (const auto& [id, detector] : site_.detectors) {
      if (newly(armed.without_supply, sound_.at_rest_armed.without_supply, id))
        answer_.gaps.push_back({"/detectors/" + id, "later_issue"});
    }
  }

  // --- what is lost -------------------------------------------------------------------------------------------------
  void losses(const Condition& sound, const Condition& faulty) {
    for (std::size_t s = 0; s < faulty.states.size(); ++s) {
      const StateView& before = sound.states[s];
      const StateView& state = faulty.states[s];
      const SiteView now = look(*state.solved, state.movement);
      const bool alarm = state.state.happening == Happening::alarm;
      if (panel_right(site_, before, before.before) && !panel_right(site_, state, now)) {
        lose(state, loss_of(state.state.happening), faulty.supply);
      } else if (alarm && pictured(site_, before, before.before, sound_.at_rest_armed) &&
                 !pictured(site_, state, now, sound_.at_rest_armed)) {
        lose(state, FaultEffect::picture_lost, faulty.supply);
      }
    }
  }

  void lose(const StateView& state, FaultEffect effect, SupplyCondition supply) {
    for (FaultLoss& loss : answer_.losses) {
      if (loss.zone != state.zone || loss.effect != effect) continue;
      if (loss.conditions.back() != supply) loss.conditions.push_back(supply);
      return;
    }
    answer_.losses.push_back({state.zone, effect, state.state.name(), {supply}});
  }

  void conclude() {
    std::sort(answer_.losses.begin(), answer_.losses.end(), [](const FaultLoss& a, const FaultLoss& b) {
      return a.zone != b.zone ? a.zone < b.zone : a.effect < b.effect;
    });
    for (const FaultLoss& loss : answer_.losses) answer_.effect = std::min(answer_.effect, loss.effect);
    if (!answer_.gaps.empty()) answer_.effect = FaultEffect::unanswered;
    if (!answer_.noticed.empty()) answer_.effect = FaultEffect::noticed;
  }

  const site::Site& site_;
  const Surroundings& sound_;
  const Surroundings& faulty_;
  FaultAnswer answer_;
};

/// What is not known of the wiring at all: with it every answer is open.
std::vector<chain::Gap> unknown_in(const SiteCircuit& circuit) {
  std::vector<chain::Gap> gaps = circuit.wiring.gaps();
  for (std::size_t e = 0; e < circuit.wiring.network.elements().size(); ++e) {
    for (const Basis& basis : circuit.wiring.bases(static_cast<circuit::ElementIndex>(e))) {
      if (basis.unknown) chain::add_gap(gaps, {basis.pointer, "unknown"});
    }
  }
  return gaps;
}

std::set<std::string> right_in(const site::Site& site, const Surroundings& sound) {
  std::set<std::string> right;
  for (const Condition& condition : sound.conditions) {
    for (const StateView& state : condition.states) {
      const std::string at = state.zone + "/" + state.state.name() + "/" + word(condition.supply);
      if (panel_right(site, state, state.before)) right.insert(at + "/panel");
      if (state.state.happening == Happening::alarm && pictured(site, state, state.before, sound.at_rest_armed))
        right.insert(at + "/picture");
    }
  }
  return right;
}

void rank(std::vector<FaultAnswer>& faults) {
  std::stable_sort(faults.begin(), faults.end(), [](const FaultAnswer& a, const FaultAnswer& b) {
    if (a.effect != b.effect) return a.effect < b.effect;
    return a.losses.size() > b.losses.size();
  });
}

}  // namespace

const char* word(FaultEffect effect) {
  switch (effect) {
    case FaultEffect::alarm_lost: return "alarm_lost";
    case FaultEffect::picture_lost: return "picture_lost";
    case FaultEffect::unanswered: return "unanswered";
    case FaultEffect::supervision_lost: return "supervision_lost";
    case FaultEffect::noticed: return "noticed";
    case FaultEffect::harmless: return "harmless";
  }
  return "";
}

bool silent(FaultEffect effect) {
  return effect == FaultEffect::alarm_lost || effect == FaultEffect::picture_lost ||
         effect == FaultEffect::supervision_lost;
}

FaultAnalysis analyse_faults(const site::Site& site, const FaultScope& scope,
                             const std::function<void(std::size_t, std::size_t)>& progress) {
  FaultAnalysis analysis;
  if (site.supplies.empty()) return analysis;
  const Surroundings sound(site, "", scope.zones, analysis.solved_anew);
  const SiteCircuit& wiring = sound.conditions.front().rest->circuit();
  analysis.gaps = unknown_in(wiring);
  analysis.right = right_in(site, sound);
  std::vector<SingleFault> faults = single_faults(site, wiring);
  const auto left_out = [&](const SingleFault& fault) {
    return !scope.faults.empty() && scope.faults.count(fault.id) == 0;
  };
  faults.erase(std::remove_if(faults.begin(), faults.end(), left_out), faults.end());
  std::atomic<std::size_t> done = 0;
  std::atomic<long long> variations = 0, fresh = 0;
  analysis.faults = parallel_map<FaultAnswer>(faults.size(), [&](std::size_t i) {
    std::unique_ptr<Surroundings> without;
    long long anew = 0;
    if (!faults[i].dead_supply.empty())
      without = std::make_unique<Surroundings>(site, faults[i].dead_supply, scope.zones, anew);
    Look look(site, sound, without ? *without : sound, faults[i]);
    FaultAnswer answer = look.run();
    variations += look.variations;
    fresh += look.fresh + anew;
    if (progress) progress(++done, faults.size());
    return answer;
  });
  analysis.variations = variations;
  analysis.solved_anew += fresh;
  if (!analysis.gaps.empty()) {
    for (FaultAnswer& answer : analysis.faults) answer.effect = FaultEffect::unanswered;
  }
  rank(analysis.faults);
  return analysis;
}

}  // namespace zoneproof::electric
