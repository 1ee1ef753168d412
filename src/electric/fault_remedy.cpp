#include "electric/fault_remedy.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "base/parallel_for.hpp"
#include "electric/answers.hpp"
#include "electric/element_name.hpp"
#include "electric/fault_view.hpp"
#include "electric/naming.hpp"
#include "electric/setting.hpp"
#include "messages/electric.hpp"
#include "site/patch.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

/// One change of the site, and the faults and zones that it may touch.
struct Candidate {
  Message says;
  site::Site changed;
  std::set<std::string> zones;
  std::set<std::string> faults;
  site::Bill bill;
};

class Candidates {
 public:
  Candidates(const site::Site& site, const FaultAnalysis& analysis)
      : site_(site), analysis_(analysis), rest_(site, whole_site(site, SupplyCondition::mains, {}, true)) {}

  std::vector<Candidate> run() {
    for (const FaultAnswer& answer : analysis_.faults) {
      if (silent(answer.effect)) limits(answer);
    }
    for (const auto& [id, zone] : site_.zones) end_of_line(id, zone);
    for (const auto& [id, unit] : site_.units) arming(id, unit);
    return std::move(all_);
  }

 private:
  std::set<std::string> faults_of_zone(const std::string& zone) const {
    std::set<std::string> ids;
    for (const FaultAnswer& answer : analysis_.faults) {
      if (answer.fault.zone == zone) ids.insert(answer.fault.id);
    }
    return ids;
  }

  /// A limit half-way between the level at rest and the one that the fault leaves there, on the unit's grid.
  void limits(const FaultAnswer& answer) {
    for (const auto& [id, trigger] : site_.triggers) {
      const site::UnitSpec* spec = site::unit_spec(site_, trigger.unit.id);
      const bool loses = std::any_of(answer.losses.begin(), answer.losses.end(),
                                     [&, &of = trigger](const FaultLoss& loss) { return loss.zone == of.zone.id; });
      if (!loses || spec == nullptr || !spec->input.judging.is(site::Judging::ranges)) continue;
      const std::optional<double> before = level(id, {}), after = level(id, changes(answer.fault));
      const Allowance allowance = allowance_of(spec->input);
      if (!before || !after || std::abs(*before - *after) <= 2.0 * (allowance.error_V + allowance.hysteresis_V))
        continue;
      const double step = spec->input.step_V.known() ? spec->input.step_V.nominal : 0.0;
      double limit = 0.5 * (*before + *after);
      if (step > 0.0) limit = std::round(limit / step) * step;
      if (!(limit > 0.0)) continue;
      Candidate made{say::show_by_limit(Measure{limit, "V"}, thing_words(site_, trigger.unit.id),
                                        zone_words(site_, trigger.zone.id)),
                     site_,
                     {trigger.zone.id},
                     faults_of_zone(trigger.zone.id),
                     {{}, {{"choose_setting"}, {"test_zone"}}}};
      site::InputSetting& setting = made.changed.triggers.at(id).setting;
      site::Value& side = *after < *before ? setting.normal_min_V : setting.normal_max_V;
      side.replace_with(site::Value::exactly(limit, site::Origin::data_sheet));
      made.faults.insert(answer.fault.id);
      add_limit(id, &side == &setting.normal_min_V, limit, std::move(made));
    }
  }

  /// Many faults of a zone ask for the same limit: it is tried once, for all of them.
  void add_limit(const std::string& trigger, bool lower, double limit, Candidate&& made) {
    const auto [at, fresh] = limits_.emplace(std::tuple(trigger, lower, limit), all_.size());
    if (fresh) {
      all_.push_back(std::move(made));
    } else {
      all_[at->second].faults.insert(made.faults.begin(), made.faults.end());
    }
  }

  std::vector<circuit::Change> changes(const SingleFault& fault) const {
    return changes_of(fault, rest_.circuit().wiring.network);
  }

  std::optional<double> level(const std::string& trigger, const std::vector<circuit::Change>& changed) const {
    const auto input = rest_.circuit().inputs.find(trigger);
    if (input == rest_.circuit().inputs.end()) return std::nullopt;
    const std::vector<double> volts = rest_.voltages(changed);
    const double over = volts.at(static_cast<std::size_t>(input->second.point)) -
                        volts.at(static_cast<std::size_t>(input->second.minus));
    return std::isnan(over) ? std::nullopt : std::optional(over);
  }

  void end_of_line(const std::string& id, const site::Zone& zone) {
    if (!zone.loop.eol_place.is(site::EolPlace::at_panel)) return;
    Candidate made{say::show_by_end_of_line(zone_words(site_, id)),
                   site_,
                   {id},
                   faults_of_zone(id),
                   {{}, {{"open_joint"}, {"fit_resistor"}, {"test_zone"}}}};
    made.changed.zones.at(id).loop.eol_place.value = site::EolPlace::at_end;
    all_.push_back(std::move(made));
  }

  void arming(const std::string& id, const site::Unit& unit) {
    const auto output = site_.outputs.find(unit.arming.output.id);
    if (output == site_.outputs.end() || !unit.arming.armed_level.known() || !output->second.active_when.known())
      return;
    const site::ActiveWhen when = *output->second.active_when.value;
    if (when != site::ActiveWhen::armed && when != site::ActiveWhen::disarmed) return;
    Candidate made{say::show_by_arming(thing_words(site_, id)),
                   site_,
                   {},
                   {},
                   {{}, {{"choose_setting"}, {"choose_setting_panel"}}}};
    const bool high = unit.arming.armed_level.is(site::Level::high);
    made.changed.units.at(id).arming.armed_level.value = high ? site::Level::low : site::Level::high;
    made.changed.outputs.at(output->first).active_when.value =
        when == site::ActiveWhen::armed ? site::ActiveWhen::disarmed : site::ActiveWhen::armed;
    for (const FaultAnswer& answer : analysis_.faults) {
      if (answer.fault.pointer.rfind("/units/" + id + "/arming", 0) == 0) made.faults.insert(answer.fault.id);
    }
    if (!made.faults.empty()) all_.push_back(std::move(made));
  }

  const site::Site& site_;
  const FaultAnalysis& analysis_;
  SolvedSite rest_;
  std::vector<Candidate> all_;
  std::map<std::tuple<std::string, bool, double>, std::size_t> limits_;  ///< in `all_`
};

/// The worst verdict of each electrical check of the zones concerned (all: an arming input).
std::map<std::string, chain::Verdict> verdicts(const site::Site& site, const std::set<std::string>& zones,
                                               KeptAnswers& kept) {
  std::map<std::string, chain::Verdict> worst;
  const std::string zone = zones.size() == 1 ? *zones.begin() : std::string();
  for (const chain::Evidence& evidence : electrical_answers(site, zone, {}, &kept)) {
    const auto [at, made] = worst.emplace(evidence.subject + "/" + evidence.id, evidence.verdict);
    if (!made && chain::rank(evidence.verdict) < chain::rank(at->second)) at->second = evidence.verdict;
  }
  return worst;
}

bool no_verdict_worse(const site::Site& site, const Candidate& candidate, KeptAnswers& kept) {
  const auto was = verdicts(site, candidate.zones, kept);
  const auto after = verdicts(candidate.changed, candidate.zones, kept);
  return std::all_of(was.begin(), was.end(), [&](const auto& entry) {
    const auto now = after.find(entry.first);
    return now != after.end() && chain::rank(now->second) >= chain::rank(entry.second);
  });
}

/// Ids of the silent faults that the candidate cures; none where anything comes out worse.
std::set<std::string> cured(const site::Site& site, const FaultAnalysis& analysis, const Candidate& candidate,
                            KeptAnswers& kept) {
  const FaultAnalysis after = analyse_faults(candidate.changed, {candidate.faults, candidate.zones});
  std::map<std::string, FaultEffect> effects;
  for (const FaultAnswer& answer : analysis.faults) effects[answer.fault.id] = answer.effect;
  std::set<std::string> ids;
  for (const FaultAnswer& answer : after.faults) {
    const auto before = effects.find(answer.fault.id);
    if (before == effects.end()) continue;  // a thing that was not there
    if (answer.effect < before->second) return {};
    const bool shows = answer.effect == FaultEffect::noticed || answer.effect == FaultEffect::harmless;
    if (silent(before->second) && shows) ids.insert(answer.fault.id);
  }
  const bool all_right = std::all_of(analysis.right.begin(), analysis.right.end(), [&](const std::string& right) {
    const std::string zone = right.substr(0, right.find('/'));
    return (!candidate.zones.empty() && candidate.zones.count(zone) == 0) || after.right.count(right) != 0;
  });
  return all_right && !ids.empty() && no_verdict_worse(site, candidate, kept) ? ids : std::set<std::string>{};
}

}  // namespace

void try_remedies(const site::Site& site, FaultAnalysis& analysis, const site::Costs& costs) {
  if (!analysis.gaps.empty()) return;
  const std::vector<Candidate> candidates = Candidates(site, analysis).run();
  KeptAnswers kept;  // a change leaves most of the site as it is
  const std::vector<std::set<std::string>> cures = parallel_map<std::set<std::string>>(
      candidates.size(), [&](std::size_t i) { return cured(site, analysis, candidates[i], kept); });
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (cures[i].empty()) continue;
    const FaultRemedy remedy{candidates[i].says, site::patch_between(site, candidates[i].changed), candidates[i].bill,
                             site::cost_of(candidates[i].bill, costs)};
    for (FaultAnswer& answer : analysis.faults) {
      const bool told = std::any_of(answer.remedies.begin(), answer.remedies.end(),
                                    [&](const FaultRemedy& other) { return other.patch == remedy.patch; });
      if (cures[i].count(answer.fault.id) != 0 && !told) answer.remedies.push_back(remedy);
    }
  }
  const auto all_alike = [](const FaultRemedy&) { return 0; };  // each makes its fault show
  for (FaultAnswer& answer : analysis.faults) site::best_first(answer.remedies, all_alike);
}

}  // namespace zoneproof::electric
