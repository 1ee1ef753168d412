#include "handover/terminal_figures.hpp"

#include <fmt/format.h>

#include <set>

#include "base/fixed.hpp"
#include "base/language.hpp"
#include "base/message.hpp"
#include "base/outward.hpp"
#include "messages/handover.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

namespace {

constexpr int kDecimals = 2;  ///< as a meter shows volts in the range that alarm wiring needs

std::string figure_of(const results::VoltRange& volts) {
  const std::string low = with_decimal_sign(fixed(rounded_down(volts.low, kDecimals), kDecimals));
  const std::string high = with_decimal_sign(fixed(rounded_up(volts.high, kDecimals), kDecimals));
  return low == high ? text(say::figure_volts(low)) : text(say::figure_volts_between(low, high));
}

class Figures {
 public:
  Figures(const site::Site& site, const Answers& answers, WiringState state)
      : site_(site), answers_(answers), state_(state) {}

  std::map<std::string, std::string> run() {
    for (const auto& entry : site_.zones) add_untapped(entry.first);
    for (const auto& [id, trigger] : site_.triggers) {
      add_tapped(id, trigger);
      if (state_ != WiringState::found && trigger.unit.known() && trigger.input.known())
        add(fmt::format("{}-in{}", trigger.unit.id, *trigger.input.value),
            of_state(at_unit(answers_, trigger.zone.id, id)));
    }
    add_supplies();
    return std::move(figures_);
  }

 private:
  void add(const std::string& terminal, const Volts& volts) {
    if (volts) figures_[terminal] = figure_of(*volts);
  }

  Volts of_state(const RestAndAlarm& reads) const { return state_ == WiringState::alarm ? reads.alarm : reads.rest; }

  /// Of a zone's own terminal without any wire; one that is tapped is told anew by add_tapped.
  void add_untapped(const std::string& id) {
    const site::Zone& zone = site_.zones.at(id);
    if (zone.panel.known() && zone.input.known())
      add(fmt::format("{}-in{}", zone.panel.id, *zone.input.value), of_state(at_panel(answers_, id, "")));
  }

  void add_tapped(const std::string& id, const site::Trigger& trigger) {
    if (state_ == WiringState::found || !trigger.at_panel.known() || !trigger.at_input.known()) return;
    const std::string terminal = fmt::format("{}-in{}", trigger.at_panel.id, *trigger.at_input.value);
    figures_.erase(terminal);  // with the wire on it reads otherwise; unknown, it has no figure
    add(terminal, of_state(at_panel(answers_, site::tapped_zone(site_, trigger), id)));
  }

  void add_supplies() {
    std::set<std::string> fed;
    for (const electric::SupplyPoint& point : answers_.supply.points)
      for (const electric::Consumer& one : point.consumers) fed.insert(one.id);
    for (const std::string& id : fed)
      if (site_.detectors.count(id) == 0) add(id + "-plus", supply_at(site_, answers_, id));
    if (state_ == WiringState::found) return;
    for (const auto& [unit, volts] : answers_.armed) add(unit + "-arming", volts);
  }

  const site::Site& site_;
  const Answers& answers_;
  WiringState state_;
  std::map<std::string, std::string> figures_;
};

}  // namespace

std::map<std::string, std::string> terminal_figures(const site::Site& site, const Answers& answers, WiringState state) {
  return Figures(site, answers, state).run();
}

std::string figures_are(WiringState state) {
  switch (state) {
    case WiringState::found: return text(say::figures_as_found());
    case WiringState::alarm: return text(say::figures_in_alarm());
    case WiringState::rest: break;
  }
  return text(say::figures_at_rest());
}

}  // namespace zoneproof::handover
