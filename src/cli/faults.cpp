#include <map>

#include "cli/commands.hpp"
#include "cli/costs_file.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "results/faults.hpp"

namespace zoneproof::cli {

namespace {

using electric::FaultAnalysis;
using electric::FaultAnswer;
using electric::FaultEffect;
using electric::silent;

// ---- For people ----------------------------------------------------------------------------------------------------

Message heading_of(FaultEffect effect) {
  switch (effect) {
    case FaultEffect::alarm_lost: return say::heading_alarm_lost();
    case FaultEffect::picture_lost: return say::heading_picture_lost();
    case FaultEffect::unanswered: return say::heading_fault_unanswered();
    case FaultEffect::supervision_lost: return say::heading_supervision_lost();
    case FaultEffect::noticed: return say::heading_noticed();
    case FaultEffect::not_judged: return say::heading_not_judged();
    case FaultEffect::harmless: break;
  }
  return say::heading_harmless();
}

Message lost_words(FaultEffect effect, const std::string& zones) {
  if (effect == FaultEffect::alarm_lost) return say::loses_alarm(zones);
  return effect == FaultEffect::picture_lost ? say::loses_picture(zones) : say::loses_supervision(zones);
}

/// Zones that lose the same, in one line.
void print_losses(const site::Site& site, const FaultAnswer& answer, Screen& screen) {
  for (const FaultEffect effect : results::kFaultEffects) {
    std::string zones;
    for (const electric::FaultLoss& loss : answer.losses) {
      if (loss.effect == effect) zones += (zones.empty() ? "" : ", ") + electric::zone_words(site, loss.zone);
    }
    if (!zones.empty()) screen.line(text(lost_words(effect, zones)), 4);
  }
}

void print_gaps(const site::Site& site, const FaultAnswer& answer, Screen& screen) {
  for (const chain::Gap& gap : answer.gaps) {
    const bool no_field = gap.reason == "later_issue";
    screen.line(text(no_field ? say::nobody_known(place_words(site, gap.pointer))
                              : say::noticed_if_known(place_words(site, gap.pointer))),
                4);
  }
}

void print_fault(const site::Site& site, const FaultAnswer& answer, Screen& screen) {
  screen.line(text(answer.fault.says), 2);
  print_losses(site, answer, screen);
  for (const Message& notice : answer.noticed) screen.line(text(notice), 4, Style::faint);
  if (answer.effect == FaultEffect::unanswered) print_gaps(site, answer, screen);
  for (const electric::FaultRemedy& remedy : answer.remedies) {
    screen.line(text(remedy.says), 4, Style::proven);
    screen.line(cost_words(remedy.cost), 6, Style::faint);
  }
}

/// "No picture of Zone 5 (Roller door). Only: on battery.": the zones that no fault can be judged by.
void print_lost_already(const site::Site& site, const FaultAnalysis& analysis, Screen& screen) {
  if (analysis.lost_already.empty() && analysis.without_alarm.empty()) return;
  screen.heading(text(say::heading_lost_already()));
  for (const electric::FaultLoss& loss : analysis.lost_already) {
    const std::string lost = text(lost_words(loss.effect, electric::zone_words(site, loss.zone)));
    std::string when;
    for (const electric::SupplyCondition condition : loss.conditions)
      when += (when.empty() ? "" : ", ") + electric::supply_words(condition);
    const bool always = loss.conditions.size() == analysis.conditions.size();
    screen.line(always ? lost : text(say::lost_when(lost, when)), 2, Style::broken);
  }
  for (const std::string& zone : analysis.without_alarm)
    screen.line(text(say::zone_never_alarms(electric::zone_words(site, zone))), 2, Style::unanswered);
  screen.line(text(say::lost_already_not_judged()), 2, Style::faint);
}

void print_analysis(const site::Site& site, const FaultAnalysis& analysis, bool all, Screen& screen) {
  screen.line(site.name, 0, Style::heading);
  if (site.zones.empty()) screen.line(text(say::nothing_to_prove()));
  std::map<FaultEffect, long long> counts = results::counts_of(analysis);
  long long silent_faults = 0;
  for (const auto& [effect, count] : counts) silent_faults += silent(effect) ? count : 0;
  screen.line(text(say::faults_counted(static_cast<long long>(analysis.faults.size()), silent_faults,
                                       counts[FaultEffect::unanswered], counts[FaultEffect::noticed],
                                       counts[FaultEffect::not_judged], counts[FaultEffect::harmless])));
  for (const chain::Gap& gap : analysis.gaps) screen.line(text(say::rests_on(place_words(site, gap.pointer))), 2);
  print_lost_already(site, analysis, screen);
  for (const FaultEffect effect : results::kFaultEffects) {
    const bool shown = all || silent(effect) || effect == FaultEffect::unanswered;
    if (!shown || counts[effect] == 0) continue;
    screen.heading(text(heading_of(effect)));
    for (const FaultAnswer& answer : analysis.faults) {
      if (answer.effect == effect) print_fault(site, answer, screen);
    }
  }
}

}  // namespace

int faults(const FaultsOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto loaded = load(asked.site, "faults", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const auto costs = own_costs(asked.site, asked.costs, "faults", asked.json, screen, exit_code);
  if (!costs) return exit_code;
  const results::FaultsQuestion question = {asked.zone, *costs};
  if (asked.json) return put_results(*loaded, question, screen);
  const auto told = results::answer(loaded->site, question, progress_on(screen));
  screen.end_progress();
  if (!told.answer) return refuse("faults", told.problems, asked.json, screen);
  print_analysis(loaded->site, *told.answer, asked.all, screen);
  return results::nothing_open(loaded->site, *told.answer) ? 0 : 1;
}

}  // namespace zoneproof::cli
