// What a zone's loop and trigger can be given: another range, the right terminal, resistors in the trigger wire, a
// spare contact. Where the network changes, the input is set anew for the levels that come of it.
#include <algorithm>
#include <cmath>

#include "electric/naming.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/site_change.hpp"
#include "site/relations.hpp"

namespace zoneproof::remedies {

namespace {

using electric::thing_words;
using electric::zone_words;
using site::TriggerSource;
using site::Value;

class TriggerLadders {
 public:
  TriggerLadders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all)
      : site_(site), problem_(problem), zone_(problem.subject), all_(all) {}

  void run() {
    const bool at_unit = problem_.link == chain::Link::trigger, at_panel = problem_.link == chain::Link::loop;
    for (const std::string& id : site::triggers_of_zone(site_, zone_)) {
      const site::Trigger& trigger = site_.triggers.at(id);
      if (!at_unit || trigger.zone.id != zone_ || !wired(trigger)) continue;
      range(id);
      if (trigger.source.is(TriggerSource::loop_tap) && fails(problem_, "right_terminal")) terminal(id);
    }
    for (const std::string& id : site::triggers_of_zone(site_, zone_)) {
      const site::Trigger& trigger = site_.triggers.at(id);
      const bool own = trigger.zone.id == zone_, tap = trigger.source.is(TriggerSource::loop_tap);
      if (!wired(trigger)) continue;
      if (at_panel && !only_with_wire()) continue;
      if (tap && (at_panel || fails(problem_, "unit_reads_") || fails(problem_, "input_limits") ||
                  fails(problem_, "setting_fits"))) {
        series(id);
        if (at_unit) dividers(id);
      }
      if (!tap || !(at_panel || at_unit)) continue;
      if (own) contact(id);
      if (own) following_output_ladders(site_, id, all_);
      buffer_ladders(site_, trigger.unit.id, all_);
    }
  }

 private:
  /// To an input that the file has: what comes over the network has no level to set or to spare.
  bool wired(const site::Trigger& trigger) const {
    return site::has_wire(trigger) && site_.units.count(trigger.unit.id) != 0;
  }

  /// Whether the panel misreads something with the trigger wire that it reads rightly without: else it is not the
  /// wire's doing.
  bool only_with_wire() const {
    const auto failing = [&](const std::string& check) {
      return std::any_of(problem_.evidence.begin(), problem_.evidence.end(),
                         [&](const chain::Evidence& evidence) { return evidence.id == check; });
    };
    return std::any_of(problem_.evidence.begin(), problem_.evidence.end(), [&](const chain::Evidence& evidence) {
      if (evidence.id == "disturbance") return true;
      constexpr std::string_view ending = "_before";
      const bool before = evidence.id.size() > ending.size() &&
                          evidence.id.compare(evidence.id.size() - ending.size(), ending.size(), ending) == 0;
      return !before && evidence.id.rfind("panel_reads_", 0) == 0 && !failing(evidence.id + std::string(ending));
    });
  }

  std::string unit_of(const std::string& trigger) const {
    return thing_words(site_, site_.triggers.at(trigger).unit.id);
  }
  std::string zone_of(const std::string& trigger) const {
    return zone_words(site_, site_.triggers.at(trigger).zone.id);
  }

  /// In the words of the setting that was made.
  std::optional<Message> setting_words(const site::Site& changed, const std::string& id) const {
    const site::InputSetting& set = changed.triggers.at(id).setting;
    const site::UnitSpec* spec = site::unit_spec(changed, changed.triggers.at(id).unit.id);
    if (spec == nullptr) return std::nullopt;
    if (spec->input.judging.is(site::Judging::presets)) return say::remedy_preset(set.preset, zone_of(id), unit_of(id));
    const auto volts = [](const Value& value) { return Measure{value.nominal, "V"}; };
    const Value &min = set.normal_min_V, &max = set.normal_max_V;
    if (min.known() && max.known()) return say::remedy_range(volts(min), volts(max), zone_of(id), unit_of(id));
    if (max.known()) return say::remedy_range_below(volts(max), zone_of(id), unit_of(id));
    if (min.known()) return say::remedy_range_above(volts(min), zone_of(id), unit_of(id));
    return std::nullopt;
  }

  void range(const std::string& id) {
    all_.push_back(one_size("range/" + id, [this_ = *this, id]() -> std::optional<Candidate> {
      Candidate made{Kind::other_range, {}, this_.site_, {{}, {{"choose_setting"}, {"test_zone"}}}};
      if (!fit_setting(made.changed, id)) return std::nullopt;
      const std::optional<Message> says = this_.setting_words(made.changed, id);
      if (!says) return std::nullopt;
      made.says = *says;
      return made;
    }));
  }

  /// To the zone's own terminal. Whose wire is there by mistake goes where it belongs, so that two that were swapped
  /// change places.
  void terminal(const std::string& id) {
    for (const bool fitted : {false, true}) {
      const char* what = fitted ? "terminal_and_range/" : "terminal/";
      all_.push_back(one_size(what + id, [this_ = *this, id, fitted]() { return this_.terminal_of(id, fitted); }));
      all_.back().last_resort = fitted;
    }
  }
  std::optional<Candidate> terminal_of(const std::string& id, bool fitted) const {
    const site::Zone& owner = site_.zones.at(site::loop_owner(site_, zone_));
    if (!owner.panel.known() || !owner.input.known()) return std::nullopt;
    Candidate made{Kind::other_terminal,
                   say::remedy_terminal(zone_of(id), *owner.input.value, thing_words(site_, owner.panel.id)),
                   site_,
                   {{}, {{"move_wire"}, {"test_zone"}}}};
    std::vector<std::string> moved = {id};
    for (const auto& [other, trigger] : site_.triggers) {
      const bool there = trigger.at_panel.id == owner.panel.id && trigger.at_input.value == owner.input.value;
      if (other != id && there && trigger.zone.id != zone_ && site_.zones.count(trigger.zone.id) != 0)
        moved.push_back(other);
    }
    for (const std::string& one : moved) {
      site::Trigger& trigger = made.changed.triggers.at(one);
      const std::string own = site::loop_owner(site_, trigger.zone.id);
      if (own.empty() || !site_.zones.at(own).panel.known() || !site_.zones.at(own).input.known()) return std::nullopt;
      trigger.at_panel.id = site_.zones.at(own).panel.id;
      trigger.at_input.value = site_.zones.at(own).input.value;
    }
    if (moved.size() > 1) {
      made.bill.work.front().count = made.bill.work.back().count = static_cast<double>(moved.size());
      made.says = say::remedy_terminals_swapped(zone_of(id), zone_of(moved.back()));
    }
    if (!fitted) return made;
    made.to_fit = moved;
    made.bill.work.push_back({"choose_setting", static_cast<double>(moved.size())});
    return made;
  }

  void series(const std::string& id) {
    if (!site_.triggers.at(id).series_ohm.none()) return;  // there is one, or nobody knows
    // The panel is left in peace by every resistor from some size up; the unit is not.
    const Works works = problem_.link == chain::Link::loop ? Works::from_some_size_up : Works::somewhere;
    all_.push_back({"series/" + id, shelf_resistors().size(),
                    [this_ = *this, id](std::size_t size) -> std::optional<Candidate> {
                      const ShelfResistor& resistor = shelf_resistors()[size];
                      Candidate made{Kind::series_resistor,
                                     say::remedy_series(Measure{resistor.ohm.nominal, "ohm"}, this_.zone_of(id),
                                                        this_.unit_of(id)),
                                     this_.site_,
                                     {{{resistor.part}}, {{"fit_resistor"}, {"choose_setting"}, {"test_zone"}}}};
                      made.changed.triggers.at(id).series_ohm.replace_with(resistor.ohm);
                      made.to_fit = {id};
                      return made;
                    },
                    works, true});
  }

  /// For each of some lower resistors the smallest upper one.
  void dividers(const std::string& id) {
    const site::Trigger& trigger = site_.triggers.at(id);
    if (!trigger.series_ohm.none() || !trigger.pulldown_ohm.none()) return;
    for (const ShelfResistor& lower : shelf_resistors()) {
      const double decade = std::log10(lower.ohm.nominal);
      if (std::fabs(decade - std::round(decade)) > 1e-9 || lower.ohm.nominal < 1e4) continue;  // 10k, 100k, 1M
      all_.push_back(
          {"divider/" + id + "/" + lower.part, shelf_resistors().size(),
           [this_ = *this, id, lower](std::size_t size) { return this_.divider(id, shelf_resistors()[size], lower); },
           Works::somewhere, true});
    }
  }
  std::optional<Candidate> divider(const std::string& id, const ShelfResistor& upper,
                                   const ShelfResistor& lower) const {
    Candidate made{Kind::divider,
                   say::remedy_divider(Measure{upper.ohm.nominal, "ohm"}, Measure{lower.ohm.nominal, "ohm"},
                                       zone_of(id), unit_of(id)),
                   site_,
                   {{{upper.part}, {lower.part}}, {{"fit_resistor", 2.0}, {"choose_setting"}, {"test_zone"}}}};
    made.changed.triggers.at(id).series_ohm.replace_with(upper.ohm);
    made.changed.triggers.at(id).pulldown_ohm.replace_with(lower.ohm);
    made.to_fit = {id};
    return made;
  }

  // --- a spare contact ------------------------------------------------------------------------------------------
  struct Spare {
    std::string detector, contact;
  };

  /// Whether a contact of the part stands anywhere.
  bool used(const std::string& detector, const std::string& contact) const {
    for (const auto& entry : site_.zones) {
      for (const auto& one : entry.second.loop.contacts) {
        if (one.second.detector.id == detector && one.second.contact == contact) return true;
      }
    }
    return std::any_of(site_.triggers.begin(), site_.triggers.end(), [&](const auto& entry) {
      return entry.second.detector.id == detector && entry.second.contact == contact;
    });
  }

  /// Of the only detector that gives the zone's alarms: with several, one contact would miss the others' alarms.
  std::optional<Spare> spare() const {
    const site::Loop& loop = site_.zones.at(zone_).loop;
    if (!loop.contacts_complete.yes()) return std::nullopt;
    std::string only;
    for (const auto& [id, contact] : loop.contacts) {
      if (contact.zone.known() && contact.zone.id != zone_) continue;
      if (!contact.role.known()) return std::nullopt;
      if (!contact.role.is(site::ContactRole::alarm)) continue;
      if (!only.empty() && only != contact.detector.id) return std::nullopt;
      only = contact.detector.id;
    }
    const auto detector = site_.detectors.find(only);
    if (detector == site_.detectors.end()) return std::nullopt;
    const site::DetectorSpec* spec = site::spec_of(site_, detector->second.part, &site::Part::detector);
    if (spec == nullptr) return std::nullopt;
    for (const auto& [id, contact] : spec->contacts) {
      if (contact.reports.is(site::ContactReports::alarm) && !used(only, id)) return Spare{only, id};
    }
    return std::nullopt;
  }

  void contact(const std::string& id) {
    const std::optional<Spare> found = spare();
    if (!found) return;
    all_.push_back(
        one_size("contact/" + id, [this_ = *this, id, found]() { return this_.contact_with(id, *found, nullptr); }));
    all_.back().last_resort = true;
    all_.push_back({"contact_and_pull_up/" + id, shelf_resistors().size(),
                    [this_ = *this, id, found](std::size_t size) {
                      // From the largest down: the smallest current that does.
                      const std::size_t from_top = shelf_resistors().size() - 1 - size;
                      return this_.contact_with(id, *found, &shelf_resistors()[from_top]);
                    },
                    Works::somewhere, true, true});
  }

  /// The contact between the input and the unit's negative, over the detector's cable and on along the trigger's way.
  std::optional<Candidate> contact_with(const std::string& id, const Spare& found, const ShelfResistor* pullup) const {
    const std::string loop_cable = site_.zones.at(zone_).loop.cable.id;
    const auto near = site_.cables.find(loop_cable), far = site_.cables.find(site_.triggers.at(id).cable.id);
    if (near == site_.cables.end() || far == site_.cables.end()) return std::nullopt;
    Candidate made{Kind::spare_contact,
                   say::remedy_contact(found.contact, thing_words(site_, found.detector), zone_of(id), unit_of(id)),
                   site_,
                   {{}, {{"open_joint"}, {"terminate", 4.0}, {"choose_setting"}, {"test_zone"}}}};
    made.takes_wire_off = true;
    const std::string cable = run(made, near->first, far->first);
    if (cable.empty()) return std::nullopt;
    site::Trigger& trigger = made.changed.triggers.at(id);
    take_off_loop(trigger);
    trigger.source.value = TriggerSource::spare_contact;
    trigger.detector.id = found.detector;
    trigger.contact = found.contact;
    trigger.contact_to.value = site::Level::low;
    trigger.cable.id = cable;
    if (pullup != nullptr) {
      trigger.pullup_ohm.replace_with(pullup->ohm);
      made.bill.parts.push_back({pullup->part});
      made.bill.work.push_back({"fit_resistor"});
      made.says = say::remedy_contact_pullup(found.contact, thing_words(site_, found.detector), zone_of(id),
                                             Measure{pullup->ohm.nominal, "ohm"}, unit_of(id));
    }
    made.to_fit = {id};
    return made;
  }

  /// Two cores from the detector past the panel to the unit: spare ones where both cables have them, else a cable of
  /// the same kind along the same ways. Its id; empty where a length is not known.
  std::string run(Candidate& made, const std::string& near, const std::string& far) const {
    const site::Cable &first = site_.cables.at(near), &second = site_.cables.at(far);
    const Value length = sum(first.length_m, second.length_m);
    if (!length.known() || !first.joints.known() || !second.joints.known()) return {};
    const std::string id = fresh_id(site_, near + "_contact");
    site::Cable& cable = made.changed.cables[id];
    cable.name = text(say::remedy_contact_cable(zone_words(site_, zone_)));
    cable.part.id = first.part.id;
    cable.length_m = length;
    cable.length_m.stated_origin = length.origin;
    cable.areas = first.areas;
    for (const site::Ref& area : second.areas) {
      const bool there =
          std::any_of(cable.areas.begin(), cable.areas.end(), [&](const site::Ref& one) { return one.id == area.id; });
      if (!there) cable.areas.push_back(area);
    }
    cable.cores_in_parallel.value = 1;
    cable.joints.value = *first.joints.value + *second.joints.value;
    const bool spare = spare_cores(site_, near).value_or(0) >= 2 && spare_cores(site_, far).value_or(0) >= 1;
    if (spare) return id;  // the tap's own core is the second one
    made.bill.parts.push_back({first.part.id, length.nominal, true});
    made.bill.work.push_back({"run_cable", length.nominal});
    return id;
  }

  const site::Site& site_;
  const Problem& problem_;
  std::string zone_;
  std::vector<Ladder>& all_;
};

}  // namespace

void trigger_ladders(const site::Site& site, const Problem& problem, std::vector<Ladder>& all) {
  if (site.zones.count(problem.subject) != 0) TriggerLadders(site, problem, all).run();
}

}  // namespace zoneproof::remedies
