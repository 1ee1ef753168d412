#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/results.hpp"
#include "electric/fault_check.hpp"
#include "electric/fault_remedy.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

using electric::FaultAnalysis;
using electric::FaultAnswer;
using electric::FaultEffect;
using electric::silent;
using Json = nlohmann::ordered_json;

constexpr FaultEffect kEffects[] = {FaultEffect::alarm_lost,       FaultEffect::picture_lost, FaultEffect::unanswered,
                                    FaultEffect::supervision_lost, FaultEffect::noticed,      FaultEffect::harmless};

/// Of one zone: those in its pair or on its trigger wire, and those by which it loses something.
void keep_zone(FaultAnalysis& analysis, const std::string& zone) {
  const auto of_another = [&](const FaultAnswer& answer) {
    return answer.fault.zone != zone && std::none_of(answer.losses.begin(), answer.losses.end(),
                                                     [&](const auto& loss) { return loss.zone == zone; });
  };
  analysis.faults.erase(std::remove_if(analysis.faults.begin(), analysis.faults.end(), of_another),
                        analysis.faults.end());
}

// ---- For people ----------------------------------------------------------------------------------------------------

Message heading_of(FaultEffect effect) {
  switch (effect) {
    case FaultEffect::alarm_lost: return say::heading_alarm_lost();
    case FaultEffect::picture_lost: return say::heading_picture_lost();
    case FaultEffect::unanswered: return say::heading_fault_unanswered();
    case FaultEffect::supervision_lost: return say::heading_supervision_lost();
    case FaultEffect::noticed: return say::heading_noticed();
    case FaultEffect::harmless: break;
  }
  return say::heading_harmless();
}

Message lost_words(FaultEffect effect, const std::string& zones) {
  if (effect == FaultEffect::alarm_lost) return say::loses_alarm(zones);
  return effect == FaultEffect::picture_lost ? say::loses_picture(zones) : say::loses_supervision(zones);
}

/// Zones that lose the same, in one line; that not every condition is concerned is said.
void print_losses(const site::Site& site, const FaultAnswer& answer, Screen& screen) {
  for (const FaultEffect effect : kEffects) {
    std::string zones;
    for (const electric::FaultLoss& loss : answer.losses) {
      if (loss.effect == effect) zones += (zones.empty() ? "" : ", ") + electric::zone_words(site, loss.zone);
    }
    if (!zones.empty()) screen.line(text(lost_words(effect, zones)), 4);
  }
}

void print_fault(const site::Site& site, const FaultAnswer& answer, Screen& screen) {
  screen.line(text(answer.fault.says), 2);
  print_losses(site, answer, screen);
  for (const Message& notice : answer.noticed) screen.line(text(notice), 4, Style::faint);
  for (const chain::Gap& gap : answer.gaps) screen.line(text(say::nobody_known(place_words(site, gap.pointer))), 4);
  for (const electric::FaultRemedy& remedy : answer.remedies) screen.line(text(remedy.says), 4, Style::proven);
}

std::map<FaultEffect, long long> counts_of(const FaultAnalysis& analysis) {
  std::map<FaultEffect, long long> counts;
  for (const FaultAnswer& answer : analysis.faults) ++counts[answer.effect];
  return counts;
}

void print_analysis(const site::Site& site, const FaultAnalysis& analysis, bool all, Screen& screen) {
  screen.line(site.name, 0, Style::heading);
  std::map<FaultEffect, long long> counts = counts_of(analysis);
  long long silent_faults = 0;
  for (const auto& [effect, count] : counts) silent_faults += silent(effect) ? count : 0;
  screen.line(text(say::faults_counted(static_cast<long long>(analysis.faults.size()), silent_faults,
                                       counts[FaultEffect::unanswered], counts[FaultEffect::noticed],
                                       counts[FaultEffect::harmless])));
  for (const chain::Gap& gap : analysis.gaps) screen.line(text(say::rests_on(place_words(site, gap.pointer))), 2);
  for (const FaultEffect effect : kEffects) {
    const bool shown = all || silent(effect) || effect == FaultEffect::unanswered;
    if (!shown || counts[effect] == 0) continue;
    screen.heading(text(heading_of(effect)));
    for (const FaultAnswer& answer : analysis.faults) {
      if (answer.effect == effect) print_fault(site, answer, screen);
    }
  }
}

// ---- For programs --------------------------------------------------------------------------------------------------

Json json_of_loss(const electric::FaultLoss& loss) {
  Json conditions = Json::array();
  for (const electric::SupplyCondition condition : loss.conditions) conditions.push_back(electric::word(condition));
  return {{"zone", loss.zone},
          {"effect", electric::word(loss.effect)},
          {"state", loss.state},
          {"conditions", std::move(conditions)}};
}

Json json_of_gaps(const std::vector<chain::Gap>& gaps) {
  Json list = Json::array();
  for (const chain::Gap& gap : gaps) list.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  return list;
}

Json json_of_fault(const FaultAnswer& answer) {
  Json losses = Json::array(), remedies = Json::array();
  for (const electric::FaultRemedy& remedy : answer.remedies)
    remedies.push_back({{"says", json_of(remedy.says)}, {"patch", Json::parse(remedy.patch)}});
  for (const electric::FaultLoss& loss : answer.losses) losses.push_back(json_of_loss(loss));
  return {{"id", answer.fault.id},
          {"kind", electric::word(answer.fault.kind)},
          {"pointer", answer.fault.pointer},
          {"zone", answer.fault.zone},
          {"effect", electric::word(answer.effect)},
          {"silent", silent(answer.effect)},
          {"says", json_of(answer.fault.says)},
          {"losses", std::move(losses)},
          {"noticed", json_of(answer.noticed)},
          {"gaps", json_of_gaps(answer.gaps)},
          {"remedies", std::move(remedies)}};
}

Json json_of_analysis(const FaultAnalysis& analysis) {
  Json faults = Json::array(), counts = Json::object();
  for (const FaultEffect effect : kEffects) counts[electric::word(effect)] = 0;
  for (const auto& [effect, count] : counts_of(analysis)) counts[electric::word(effect)] = count;
  for (const FaultAnswer& answer : analysis.faults) faults.push_back(json_of_fault(answer));
  return {{"faults", std::move(faults)}, {"counts", std::move(counts)}, {"gaps", json_of_gaps(analysis.gaps)}};
}

bool none_silent(const FaultAnalysis& analysis) {
  return std::none_of(analysis.faults.begin(), analysis.faults.end(), [](const FaultAnswer& answer) {
    return silent(answer.effect) || answer.effect == FaultEffect::unanswered;
  });
}

}  // namespace

int faults(const FaultsOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto site = load(asked.site, "faults", asked.json, screen, exit_code);
  if (!site) return exit_code;
  std::string zone;
  if (!asked.zone.empty()) {
    ZoneFound found = find_zone(*site, asked.zone);
    if (found.problem) return refuse("faults", {*found.problem}, asked.json, screen);
    zone = found.id;
  }
  FaultAnalysis analysis = electric::analyse_faults(*site, {}, [&](std::size_t done, std::size_t count) {
    screen.progress(text(say::progress_faults(static_cast<long long>(done), static_cast<long long>(count))));
  });
  electric::try_remedies(*site, analysis);
  screen.end_progress();
  if (!zone.empty()) keep_zone(analysis, zone);
  if (asked.json) {
    screen.raw(results_text("faults", site::site_hash(*site), json_of_analysis(analysis)));
  } else {
    print_analysis(*site, analysis, asked.all, screen);
  }
  return none_silent(analysis) ? 0 : 1;
}

}  // namespace zoneproof::cli
