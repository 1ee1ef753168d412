#include "results/faults.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "electric/fault_remedy.hpp"
#include "messages/results.hpp"
#include "results/costs.hpp"
#include "results/results.hpp"
#include "results/zone_named.hpp"

namespace zoneproof::results {

using electric::FaultAnalysis;
using electric::FaultAnswer;
using electric::FaultEffect;
using electric::silent;
using Json = nlohmann::ordered_json;

namespace {

/// Of one zone: those in its pair or on its trigger wire, and those by which it loses something.
void keep_zone(FaultAnalysis& analysis, const std::string& zone) {
  const auto of_another = [&](const FaultAnswer& answer) {
    return answer.fault.zone != zone && std::none_of(answer.losses.begin(), answer.losses.end(),
                                                     [&](const auto& loss) { return loss.zone == zone; });
  };
  analysis.faults.erase(std::remove_if(analysis.faults.begin(), analysis.faults.end(), of_another),
                        analysis.faults.end());
  const auto other_loss = [&](const electric::FaultLoss& loss) { return loss.zone != zone; };
  std::vector<electric::FaultLoss>& lost = analysis.lost_already;
  lost.erase(std::remove_if(lost.begin(), lost.end(), other_loss), lost.end());
  std::vector<std::string>& without = analysis.without_alarm;
  without.erase(std::remove_if(without.begin(), without.end(), [&](const auto& id) { return id != zone; }),
                without.end());
}

Json json_of_loss(const electric::FaultLoss& loss) {
  Json conditions = Json::array();
  for (const electric::SupplyCondition condition : loss.conditions) conditions.push_back(electric::word(condition));
  return {{"zone", loss.zone},
          {"effect", electric::word(loss.effect)},
          {"state", loss.state},
          {"conditions", std::move(conditions)}};
}

Json json_of_losses(const std::vector<electric::FaultLoss>& losses) {
  Json list = Json::array();
  for (const electric::FaultLoss& loss : losses) list.push_back(json_of_loss(loss));
  return list;
}

Json json_of_fault(const FaultAnswer& answer) {
  Json remedies = Json::array();
  for (const electric::FaultRemedy& remedy : answer.remedies)
    remedies.push_back({{"says", json_of(remedy.says)},
                        {"cost", json_of(remedy.bill, remedy.cost)},
                        {"patch", Json::parse(remedy.patch)}});
  return {{"id", answer.fault.id},
          {"kind", electric::word(answer.fault.kind)},
          {"pointer", answer.fault.pointer},
          {"zone", answer.fault.zone},
          {"effect", electric::word(answer.effect)},
          {"silent", silent(answer.effect)},
          {"says", json_of(answer.fault.says)},
          {"losses", json_of_losses(answer.losses)},
          {"noticed", json_of(answer.noticed)},
          {"gaps", json_of(answer.gaps)},
          {"remedies", std::move(remedies)}};
}

}  // namespace

std::map<FaultEffect, long long> counts_of(const FaultAnalysis& analysis) {
  std::map<FaultEffect, long long> counts;
  for (const FaultAnswer& answer : analysis.faults) ++counts[answer.effect];
  return counts;
}

Answered<FaultAnalysis> answer(const site::Site& site, const FaultsQuestion& question, const Progress& progress) {
  const ZoneFound zone = find_zone(site, question.zone);
  if (zone.problem) return {std::nullopt, {*zone.problem}};
  const Answered<site::Costs> costs = costs_in_force(question.costs);
  if (!costs.answer) return {std::nullopt, costs.problems};
  FaultAnalysis analysis = electric::analyse_faults(site, {}, [&](std::size_t done, std::size_t count) {
    if (progress) progress(text(say::progress_faults(static_cast<long long>(done), static_cast<long long>(count))));
  });
  electric::try_remedies(site, analysis, *costs.answer);
  if (!zone.id.empty()) keep_zone(analysis, zone.id);
  return {std::move(analysis), {}};
}

bool nothing_open(const site::Site& site, const FaultAnalysis& analysis) {
  const bool all_to_lose =
      !site.zones.empty() && analysis.gaps.empty() && analysis.lost_already.empty() && analysis.without_alarm.empty();
  return all_to_lose && std::none_of(analysis.faults.begin(), analysis.faults.end(), [](const FaultAnswer& answer) {
           return silent(answer.effect) || answer.effect == FaultEffect::unanswered;
         });
}

Json json_of(const FaultAnalysis& analysis) {
  Json faults = Json::array(), counts = Json::object();
  for (const FaultEffect effect : kFaultEffects) counts[electric::word(effect)] = 0;
  for (const auto& [effect, count] : counts_of(analysis)) counts[electric::word(effect)] = count;
  for (const FaultAnswer& answer : analysis.faults) faults.push_back(json_of_fault(answer));
  return {{"faults", std::move(faults)},
          {"counts", std::move(counts)},
          {"lost_already", json_of_losses(analysis.lost_already)},
          {"without_alarm", analysis.without_alarm},
          {"gaps", json_of(analysis.gaps)}};
}

}  // namespace zoneproof::results
