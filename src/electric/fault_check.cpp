#include "electric/fault_check.hpp"

#include <algorithm>
#include <atomic>
#include <map>

#include "base/parallel_for.hpp"
#include "electric/fault_dark.hpp"
#include "electric/fault_surroundings.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"
#include "site/words.hpp"

namespace zoneproof::electric {

namespace {

using site::Reading;

FaultEffect loss_of(Happening happening) {
  return happening == Happening::alarm ? FaultEffect::alarm_lost : FaultEffect::supervision_lost;
}

bool meet(const std::set<std::string>& a, const std::set<std::string>& b) {
  return std::any_of(a.begin(), a.end(), [&](const std::string& id) { return b.count(id) != 0; });
}

/// One more condition in which a zone loses something; the first state of it stands for all.
void add_loss(std::vector<FaultLoss>& losses, const StateView& state, FaultEffect effect, SupplyCondition supply) {
  const auto same = std::find_if(losses.begin(), losses.end(), [&](const FaultLoss& loss) {
    return loss.zone == state.zone && loss.effect == effect;
  });
  if (same == losses.end()) {
    losses.push_back({state.zone, effect, state.state.name(), {supply}});
  } else if (same->conditions.back() != supply) {
    same->conditions.push_back(supply);
  }
}

void by_zone(std::vector<FaultLoss>& losses) {
  std::sort(losses.begin(), losses.end(), [](const FaultLoss& a, const FaultLoss& b) {
    return a.zone != b.zone ? a.zone < b.zone : a.effect < b.effect;
  });
}

/// One fault looked at from everywhere.
class Look {
 public:
  Look(const site::Site& site, const Surroundings& sound, const SingleFault& fault) : site_(site), sound_(sound) {
    answer_.fault = fault;
  }

  FaultAnswer run() {
    for (const Condition& condition : sound_.conditions) look(condition);
    conclude();
    return std::move(answer_);
  }

  FaultWork work;

 private:
  /// What comes of the fault in one condition.
  struct Found {
    SupplyCondition supply = SupplyCondition::mains;
    FaultEffect lost = FaultEffect::harmless;  ///< the worst
    std::vector<Message> noticed;
    std::vector<chain::Gap> gaps;
  };

  bool on_mains(const Condition& condition) const { return &condition == &sound_.conditions.front(); }

  void look(const Condition& condition) {
    found_.push_back({condition.supply, FaultEffect::harmless, {}, {}});
    std::map<const SolvedSite*, FaultySite> networks;
    const SolvedSite& rest = *condition.rest;
    FaultySite& at_rest = networks.try_emplace(&rest, rest, answer_.fault, work, &condition.looked_at).first->second;
    const Unsupplied unsupplied = at_rest.without_supply(*condition.everybody, condition.without_supply);
    const Dark dark = newly_dark(site_, condition.without_supply, unsupplied);
    const DarkContacts contacts = contacts_of(rest, dark);
    at_rest.hold(contacts.changes);
    if (on_mains(condition) || !dark.nothing()) notices(condition, at_rest, dark);
    const Missed missed = missed_units(site_, dark, unsupplied);
    add(missed.noticed, missed.gaps);
    add({}, dark.gaps);
    add({}, contacts.gaps);
    losses(condition, dark, networks);
  }

  DarkContacts contacts_of(const SolvedSite& solved, const Dark& dark) const {
    return dark_contacts(site_, sound_.contacts, solved.circuit().wiring.network, dark);
  }

  void add(const std::vector<Message>& noticed, const std::vector<chain::Gap>& gaps) {
    found_.back().noticed.insert(found_.back().noticed.end(), noticed.begin(), noticed.end());
    for (const chain::Gap& gap : gaps) chain::add_gap(found_.back().gaps, gap);
  }
  void notice(Message message) { found_.back().noticed.push_back(std::move(message)); }

  // --- who notices, at rest -----------------------------------------------------------------------------------------
  /// `at_rest`: contacts of what is dark held.
  void notices(const Condition& sound, FaultySite& at_rest, const Dark& dark) {
    const SiteView armed = at_rest.view(*sound.everybody);
    for (const std::string& id : armed.without_supply) {
      if (site_.panels.count(id) != 0 && sound.at_rest.without_supply.count(id) == 0)
        notice(say::notice_panel_dead(thing_words(site_, id)));
    }
    for (const auto& [zone, reading] : armed.panel) panel_notices(zone, reading, armed, sound.at_rest);
    for (const auto& [id, triggers] : armed.triggers) {
      const std::string& unit = site_.triggers.at(id).unit.id;
      if (triggers && !sound.at_rest.triggers.at(id))
        notice(say::notice_unit_triggers(thing_words(site_, unit), zone_words(site_, site_.triggers.at(id).zone.id)));
    }
    if (on_mains(sound)) notices_disarmed(dark);
  }

  void notices_disarmed(const Dark& dark) {
    FaultySite faulty(*sound_.disarmed, answer_.fault, work, &sound_.looked_at_disarmed);
    faulty.hold(contacts_of(*sound_.disarmed, dark).changes);
    const SiteView disarmed = faulty.view(*sound_.everybody_disarmed);
    for (const auto& [unit, reads] : disarmed.armed) {
      if (reads == true && sound_.at_rest_disarmed.armed.at(unit) != true && disarmed.without_supply.count(unit) == 0)
        notice(say::notice_unit_armed(thing_words(site_, unit)));
    }
  }

  void panel_notices(const std::string& zone, const std::optional<Reading>& reading, const SiteView& view,
                     const SiteView& sound) {
    if (view.without_supply.count(site_.zones.at(zone).panel.id) != 0) return;  // told of the panel
    const auto before = sound.panel.find(zone);
    if (before == sound.panel.end() || before->second == reading) return;
    notice(reading ? say::notice_panel_reads(zone_words(site_, zone), std::string(site::word_of(*reading)))
                   : say::notice_panel_reads_none(zone_words(site_, zone)));
  }

  // --- what is lost -------------------------------------------------------------------------------------------------
  /// `networks`: those with the fault in them that are made already, contacts of what is dark held.
  void losses(const Condition& condition, const Dark& dark, std::map<const SolvedSite*, FaultySite>& networks) {
    for (const std::size_t s : to_look_at(condition, networks.at(condition.rest.get()), dark)) {
      const StateView& state = condition.states[s];
      const FaultySite::Seen& before = state.before;
      const auto [network, fresh] =
          networks.try_emplace(state.solved, *state.solved, answer_.fault, work, &state.looked_at);
      if (fresh) network->second.hold(contacts_of(*state.solved, dark).changes);
      const FaultySite::Seen now = seen(network->second, state, dark);
      if (before.panel_right && !now.panel_right) {
        lose(state, loss_of(state.state.happening), condition.supply);
      } else if (state.state.happening == Happening::alarm && before.pictured && !now.pictured) {
        lose(state, FaultEffect::picture_lost, condition.supply);
      }
    }
  }

  /// The states of which it cannot be told for a whole crowd that nothing changes, in order.
  std::vector<std::size_t> to_look_at(const Condition& condition, FaultySite& at_rest, const Dark& dark) {
    const std::vector<double> moved = at_rest.most_moved(condition.movements_of_crowds);
    std::vector<std::size_t> states = condition.apart;
    for (std::size_t c = 0; c < condition.crowds.size(); ++c) {
      const Crowd& crowd = condition.crowds[c];
      const bool still = moved[c] < crowd.room_volts || !at_rest.may_move(crowd.nodes);
      if (still && !meet(dark.detectors, crowd.detectors)) {
        work.variations += static_cast<long long>(crowd.states.size());
      } else {
        states.insert(states.end(), crowd.states.begin(), crowd.states.end());
      }
    }
    std::sort(states.begin(), states.end());
    return states;
  }

  /// What a dark detector would tell is lost, even where its contact stands as in alarm: that is no alarm of anybody's.
  FaultySite::Seen seen(FaultySite& network, const StateView& state, const Dark& dark) {
    if (dark.detectors.empty() || !meet(dark.detectors, speaking(site_, state)))
      return network.look(*state.movement, state.watch, state.before);
    const auto& contacts = site_.zones.at(site::loop_owner(site_, state.zone)).loop.contacts;
    const auto moved = contacts.find(state.state.contact);
    if (moved != contacts.end() && tells_nothing(site_, dark, moved->second.detector, moved->second.contact)) return {};
    ZoneWatch watch = state.watch;
    const auto silent_source = [&](const ZoneWatch::Picture& picture) {
      const site::Trigger& trigger = site_.triggers.at(picture.trigger);
      return tells_nothing(site_, dark, trigger.detector, trigger.contact);
    };
    watch.pictures.erase(std::remove_if(watch.pictures.begin(), watch.pictures.end(), silent_source),
                         watch.pictures.end());
    return network.look(*state.movement, watch);
  }

  void lose(const StateView& state, FaultEffect effect, SupplyCondition supply) {
    found_.back().lost = std::min(found_.back().lost, effect);
    add_loss(answer_.losses, state, effect, supply);
  }

  void conclude() {
    by_zone(answer_.losses);
    for (const Found& found : found_) {
      for (const chain::Gap& gap : found.gaps) chain::add_gap(answer_.gaps, gap);
    }
    const Found& mains = found_.front();
    if (!mains.noticed.empty()) {
      answer_.effect = FaultEffect::noticed;
      answer_.noticed = mains.noticed;
      return;
    }
    for (const Found& found : found_) {
      answer_.effect = std::min(answer_.effect, effect_in(found));
      for (const Message& message : found.noticed)
        answer_.noticed.push_back(say::notice_in_condition(supply_words(found.supply), text(message)));
    }
    if (!mains.gaps.empty()) answer_.effect = FaultEffect::unanswered;  // somebody may notice on mains
  }

  static FaultEffect effect_in(const Found& found) {
    if (!found.noticed.empty()) return FaultEffect::noticed;
    return found.gaps.empty() ? found.lost : FaultEffect::unanswered;
  }

  const site::Site& site_;
  const Surroundings& sound_;
  FaultAnswer answer_;
  std::vector<Found> found_;  ///< by condition, mains first
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

std::set<std::string> right_in(const Surroundings& sound) {
  std::set<std::string> right;
  for (const Condition& condition : sound.conditions) {
    for (const StateView& state : condition.states) {
      const std::string at = state.zone + "/" + state.state.name() + "/" + word(condition.supply);
      if (state.before.panel_right) right.insert(at + "/panel");
      if (state.state.happening == Happening::alarm && state.before.pictured) right.insert(at + "/picture");
    }
  }
  return right;
}

/// What nobody can lose by a fault, because it is not there before.
void find_lost_already(const site::Site& site, const FaultScope& scope, const Surroundings& sound,
                       FaultAnalysis& analysis) {
  std::set<std::string> silent_zones;
  for (const auto& [id, zone] : site.zones) {
    if (scope.zones.empty() || scope.zones.count(id) != 0) silent_zones.insert(id);
  }
  for (const Condition& condition : sound.conditions) {
    analysis.conditions.push_back(condition.supply);
    for (const StateView& state : condition.states) {
      const bool alarm = state.state.happening == Happening::alarm;
      if (alarm) silent_zones.erase(state.zone);
      if (!state.before.panel_right)
        add_loss(analysis.lost_already, state, loss_of(state.state.happening), condition.supply);
      if (alarm && !state.before.pictured && site::has_chain(site, state.zone))
        add_loss(analysis.lost_already, state, FaultEffect::picture_lost, condition.supply);
    }
  }
  by_zone(analysis.lost_already);
  analysis.without_alarm.assign(silent_zones.begin(), silent_zones.end());
}

/// A fault by which nothing is lost is harmless only where there was everything to lose: in its own zone, or, where it
/// belongs to none, in any.
void leave_not_judged(const site::Site& site, FaultAnalysis& analysis) {
  std::set<std::string> wrong, pairs;
  for (const FaultLoss& loss : analysis.lost_already) wrong.insert(loss.zone);
  wrong.insert(analysis.without_alarm.begin(), analysis.without_alarm.end());
  for (const std::string& zone : wrong) pairs.insert(site::loop_owner(site, zone));
  const bool every_zone = wrong.size() == site.zones.size();
  for (FaultAnswer& answer : analysis.faults) {
    const std::string& zone = answer.fault.zone;
    const bool concerned = zone.empty() ? every_zone : wrong.count(zone) + pairs.count(zone) != 0;
    if (answer.effect == FaultEffect::harmless && concerned) answer.effect = FaultEffect::not_judged;
  }
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
    case FaultEffect::not_judged: return "not_judged";
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
  if (site.zones.empty()) return analysis;
  if (site.supplies.empty()) {
    analysis.gaps = {{"/supplies", "missing"}};
    return analysis;
  }
  FaultWork base;
  const Surroundings sound(site, scope.zones, base);
  const SiteCircuit& wiring = sound.conditions.front().rest->circuit();
  analysis.gaps = unknown_in(wiring);
  analysis.right = right_in(sound);
  find_lost_already(site, scope, sound, analysis);
  std::vector<SingleFault> faults = single_faults(site, wiring);
  const auto left_out = [&](const SingleFault& fault) {
    return !scope.faults.empty() && scope.faults.count(fault.id) == 0;
  };
  faults.erase(std::remove_if(faults.begin(), faults.end(), left_out), faults.end());
  std::atomic<std::size_t> done = 0;
  std::atomic<long long> variations = base.variations, solved_anew = base.solved_anew;
  analysis.faults = parallel_map<FaultAnswer>(faults.size(), [&](std::size_t i) {
    Look look(site, sound, faults[i]);
    FaultAnswer answer = look.run();
    variations += look.work.variations;
    solved_anew += look.work.solved_anew;
    if (progress) progress(++done, faults.size());
    return answer;
  });
  analysis.variations = variations;
  analysis.solved_anew = solved_anew;
  if (!analysis.gaps.empty()) {
    for (FaultAnswer& answer : analysis.faults) answer.effect = FaultEffect::unanswered;
  }
  leave_not_judged(site, analysis);
  rank(analysis.faults);
  return analysis;
}

}  // namespace zoneproof::electric
