// What goes dark when the mains fail: docs/methods/power-over-data-cables.md.
#include "carriage/mains_failure.hpp"

#include <map>

#include "base/outward.hpp"
#include "carriage/clip_way.hpp"
#include "carriage/finding.hpp"
#include "carriage/naming.hpp"
#include "carriage/poe_link.hpp"
#include "carriage/power_taken.hpp"
#include "electric/naming.hpp"
#include "messages/carriage.hpp"
#include "site/relations.hpp"

namespace zoneproof::carriage {

namespace {

using chain::Evidence;
using chain::Verdict;
using electric::Tracked;

/// What a device hangs on in the end, through its data cable or the router that it is built into.
struct Root {
  std::string id;  ///< of backups or loads; empty: `gaps` say why it is not known, or it hangs on the mains
  std::vector<chain::Gap> gaps;
};

class MainsFailure {
 public:
  explicit MainsFailure(const site::Site& site)
      : site_(site),
        hours_(limit_from(chain::limit_of(site, "standby_h"))),
        reserve_(chain::limit_of(site, "autonomy_margin_pct")),
        ageing_(chain::limit_of(site, "backup_ageing_pct")),
        rating_share_(chain::limit_of(site, "backup_load_pct")) {}

  std::vector<Evidence> all() {
    const ClipWays ways = clip_ways(site_);
    for (const auto& [id, backup] : site_.backups) holds_.emplace(id, hold_of(id, backup));
    for (const auto& [subject, gaps] : ways.open) way_open(subject, gaps);
    for (const std::string& id : ways.devices) add(device(id));
    for (const std::string& id : ways.uplinks) {
      add(device(id));
      add(carrier(id));
    }
    for (const auto& [id, backup] : site_.backups) {
      add(backup_hold(id));
      add(backup_load(id, backup));
    }
    for (const auto& [id, load] : site_.loads) add(load_covers(id, load));
    return std::move(answers_);
  }

 private:
  void add(std::optional<Evidence> evidence) {
    if (evidence) answers_.push_back(std::move(*evidence));
  }

  void way_open(const std::string& subject, const std::vector<chain::Gap>& gaps) {
    Evidence evidence = open({"clip_way", subject, "way", "", ""}, gaps);
    evidence.says = say::clip_way_open(device_words(site_, subject));
    add(std::move(evidence));
  }

  // --- backups ------------------------------------------------------------------------------------------------
  std::vector<Term> hanging_on(const std::string& id, const site::MainsBackup& backup) const {
    std::vector<Term> terms = power_taken_from(site_, id);
    if (!backup.loads_complete.yes())
      terms.push_back({anything(backup.loads_complete.pointer, "incomplete_list"), true, "W"});
    return terms;
  }

  Number hold_of(const std::string& id, const site::MainsBackup& backup) const {
    if (backup.hold_h.known()) return number_of(electric::tracked(backup.hold_h, 0.0), false, "h");
    const site::UpsSpec* spec = site::spec_of(site_, backup.part, &site::Part::ups);
    if (spec == nullptr) return number_of(anything(backup.part.pointer), false, "h");
    if (!ageing_.value) return number_of(anything(ageing_.pointer, "no_rule"), false, "h");
    const Tracked energy = scaled(electric::tracked(spec->energy_Wh, 0.0), *ageing_.value / 100.0);
    std::vector<Term> terms = hanging_on(id, backup);
    terms.push_back({electric::tracked(spec->own_W, 0.0), true, "W"});
    Number hold{energy / sum_of(terms).value, {{energy, false, "Wh"}}};
    hold.terms.insert(hold.terms.end(), terms.begin(), terms.end());
    return hold;
  }

  Evidence held_for(const Asked& asked, const Number& hold) const {
    return held(asked, hold, Side::at_least, hours_, share_of(reserve_, hours_));
  }

  Evidence backup_hold(const std::string& id) const {
    Evidence evidence = held_for({"backup_hold", id, "hold_time", "h", ""}, holds_.at(id));
    const std::string name = device_words(site_, id);
    evidence.says =
        evidence.value ? say::backup_holds(name, hours_in(evidence), asked_hours()) : say::mains_hold_open(name);
    propose_energy(evidence, id);
    return evidence;
  }

  /// The energy when new that lasts with the reserve, of one whose load is known.
  void propose_energy(Evidence& evidence, const std::string& id) const {
    if (evidence.verdict != Verdict::broken && evidence.verdict != Verdict::thin) return;
    const site::MainsBackup& backup = site_.backups.at(id);
    const site::UpsSpec* spec = site::spec_of(site_, backup.part, &site::Part::ups);
    std::vector<Term> terms = hanging_on(id, backup);
    if (spec != nullptr) terms.push_back({electric::tracked(spec->own_W, 0.0), true, "W"});
    const double most_W = sum_of(terms).value.range.high;
    if (most_W == circuit::infinite || !ageing_.value) return;
    const double needed_h = *hours_.value + *evidence.required_margin;
    evidence.remedies.push_back(
        say::fit_backup(Measure{needed_h * most_W / (*ageing_.value / 100.0), "Wh"}, Measure{most_W, "W"}));
  }

  Evidence backup_load(const std::string& id, const site::MainsBackup& backup) const {
    const Asked asked{"backup_load", id, "power", "W", ""};
    const std::string name = device_words(site_, id);
    const site::UpsSpec* spec = site::spec_of(site_, backup.part, &site::Part::ups);
    if (spec == nullptr) {
      Evidence evidence = open(asked, {{backup.part.pointer, "unknown"}});
      evidence.says = say::backup_load_open(name);
      return evidence;
    }
    const Threshold rating =
        limit_from(spec->rating_W, &site::Value::low, electric::part_source(site_, backup.part.id));
    Margin spare = share_of(rating_share_, rating);
    spare.required = rating.value.value_or(0.0) - spare.required;
    Evidence evidence = held(asked, sum_of(hanging_on(id, backup)), Side::at_most, rating, spare);
    evidence.says = evidence.value ? say::backup_gives(name, highest({*evidence.value, "W"}),
                                                       Measure{rating.value.value_or(0.0), "W"},
                                                       Measure{*evidence.required_margin, "W"})
                                   : say::backup_load_open(name);
    if (evidence.verdict == Verdict::broken || evidence.verdict == Verdict::thin)
      evidence.remedies.push_back(say::backup_relieve(name));
    return evidence;
  }

  // --- devices ------------------------------------------------------------------------------------------------
  Root root_of(const std::string& device) const {
    const site::Ref* from = powered_by(site_, device);
    if (from == nullptr) return {};
    if (from->unknown()) return {"", {{from->pointer, "unknown"}}};
    const auto link = site_.data_links.find(from->id);
    if (link != site_.data_links.end()) {
      for (const site::Ref* end : {&link->second.a, &link->second.b}) {
        if (end->unknown()) return {"", {{end->pointer, "unknown"}}};
        if (site_.switches.count(end->id) != 0 || site_.injectors.count(end->id) != 0) return root_of(end->id);
      }
      return {"", {{from->pointer, "undecided"}}};  // nothing at its other end gives power
    }
    return site_.routers.count(from->id) != 0 ? root_of(from->id) : Root{from->none() ? "" : from->id, {}};
  }

  std::optional<Evidence> device(const std::string& id) const {
    const Root root = root_of(id);
    if (site_.loads.count(root.id) != 0) return std::nullopt;
    const std::string name = device_words(site_, id);
    const Asked asked{"mains_hold", id, "hold_time", "h", root.id};
    if (!root.gaps.empty()) {
      Evidence evidence = open(asked, root.gaps);
      evidence.says = say::mains_hold_open(name);
      return evidence;
    }
    const auto backup = holds_.find(root.id);
    if (backup == holds_.end()) return dark(asked, name);
    Evidence evidence = held_for(asked, backup->second);
    evidence.says = evidence.value
                        ? say::device_holds(name, device_words(site_, root.id), hours_in(evidence), asked_hours())
                        : say::mains_hold_open(name);
    return evidence;  // what cures it is told of the backup
  }

  Evidence dark(const Asked& asked, const std::string& name) const {
    Evidence evidence = held_for(asked, number_of(Tracked::fact(0.0), false, "h"));
    evidence.says = say::dark_without_mains(name, asked_hours());
    if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::hang_on_backup(name));
    return evidence;
  }

  Evidence carrier(const std::string& id) const {
    const std::string name = device_words(site_, id);
    Evidence evidence = held_for({"carrier_hold", id, "hold_time", "h", ""},
                                 number_of(electric::tracked(site_.uplinks.at(id).carrier_hold_h, 0.0), false, "h"));
    evidence.says =
        evidence.value ? say::carrier_holds(name, hours_in(evidence), asked_hours()) : say::mains_hold_open(name);
    if (evidence.verdict == Verdict::broken || evidence.verdict == Verdict::thin)
      evidence.remedies.push_back(say::second_way_out(name));
    return evidence;
  }

  // --- loads of the alarm system's supplies -------------------------------------------------------------------
  std::optional<Evidence> load_covers(const std::string& id, const site::Load& load) const {
    const std::vector<Term> terms = power_taken_from(site_, id);
    if (terms.empty()) return std::nullopt;
    const Asked asked{"load_covers", id, "current", "A", ""};
    const std::string name = device_words(site_, id);
    const site::LoadSpec* spec = site::spec_of(site_, load.part, &site::Part::load);
    if (spec == nullptr) {
      Evidence evidence = open(asked, {{load.part.pointer, "unknown"}});
      evidence.says = say::load_covers_open(name);
      return evidence;
    }
    const Tracked lowest_V = electric::tracked(spec->supply_min_V, 0.0);
    Number needed{sum_of(terms).value / lowest_V, terms};
    needed.terms.push_back({lowest_V, false, "V"});
    // What the autonomy of its supply counts is the high end.
    const Threshold entered =
        limit_from(spec->current_A, &site::Value::high, electric::part_source(site_, load.part.id));
    Evidence evidence = held(asked, needed, Side::at_most, entered);
    evidence.says = evidence.value ? say::load_stands_for(name, highest({*evidence.value, "A"}),
                                                          Measure{entered.value.value_or(0.0), "A"})
                                   : say::load_covers_open(name);
    if (evidence.verdict == Verdict::broken)
      evidence.remedies.push_back(say::enter_current(name, highest({*evidence.value, "A"})));
    return evidence;
  }

  static Measure hours_in(const Evidence& evidence) { return {evidence.value.value_or(0.0), "h"}; }
  Measure asked_hours() const { return {hours_.value.value_or(0.0), "h"}; }

  const site::Site& site_;
  Threshold hours_;
  chain::Limit reserve_, ageing_, rating_share_;
  std::map<std::string, Number> holds_;  ///< of every backup
  std::vector<Evidence> answers_;
};

}  // namespace

std::vector<Evidence> check_mains_failure(const site::Site& site) { return MainsFailure(site).all(); }

}  // namespace zoneproof::carriage
