#pragma once
#include <map>
#include <nlohmann/json_fwd.hpp>

#include "electric/fault_check.hpp"
#include "results/questions.hpp"
#include "site/model.hpp"

/// The question faults.
namespace zoneproof::results {

/// What a fault can do, gravest first: the order in which faults are told and counted.
inline constexpr electric::FaultEffect kFaultEffects[] = {
    electric::FaultEffect::alarm_lost,       electric::FaultEffect::picture_lost, electric::FaultEffect::unanswered,
    electric::FaultEffect::supervision_lost, electric::FaultEffect::noticed,      electric::FaultEffect::not_judged,
    electric::FaultEffect::harmless};

/// With remedies tried. Cost: electric/fault_check.hpp.
Answered<electric::FaultAnalysis> answer(const site::Site& site, const FaultsQuestion& question,
                                         const Progress& progress);
std::map<electric::FaultEffect, long long> counts_of(const electric::FaultAnalysis& analysis);
/// Whether there are zones, everything of them is there to be lost, and whatever gets lost is noticed.
bool nothing_open(const site::Site& site, const electric::FaultAnalysis& analysis);
nlohmann::ordered_json json_of(const electric::FaultAnalysis& analysis);

}  // namespace zoneproof::results
