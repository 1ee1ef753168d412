#include "results/remedies.hpp"

#include <nlohmann/json.hpp>

#include "messages/results.hpp"
#include "results/costs.hpp"
#include "results/results.hpp"
#include "results/zone_named.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;
using remedies::Problem;
using remedies::Remedy;

namespace {

Json json_of_remedy(const Remedy& remedy, long long number) {
  Json improves = Json::array();
  for (const remedies::LinkChange& change : remedy.improves) {
    improves.push_back({{"zone", change.zone},
                        {"link", chain::word(change.link)},
                        {"from", chain::word(change.from)},
                        {"to", chain::word(change.to)}});
  }
  return {{"number", number},
          {"kind", remedies::word(remedy.kind)},
          {"says", json_of(remedy.says)},
          {"verdict", chain::word(remedy.verdict)},
          {"decisive", remedy.decisive ? json_of(*remedy.decisive) : Json(nullptr)},
          {"improves", std::move(improves)},
          {"cost", json_of(remedy.bill, remedy.cost)},
          {"patch", Json::parse(remedy.patch)}};
}

Json json_of_problem(const Problem& problem, long long& number) {
  Json cures = Json::array(), refused = Json::array();
  for (const Remedy& remedy : problem.remedies) cures.push_back(json_of_remedy(remedy, ++number));
  for (const remedies::Refused& one : problem.refused) {
    refused.push_back(
        {{"kind", remedies::word(one.kind)}, {"says", json_of(one.says)}, {"because", json_of(one.because)}});
  }
  return {{"subject", problem.subject},
          {"link", chain::word(problem.link)},
          {"verdict", chain::word(problem.verdict)},
          {"zones", problem.zones},
          {"evidence", json_of(problem.evidence)},
          {"tried", problem.tried},
          {"pairs_tried", problem.pairs_tried},
          {"order", problem.by_money ? "money" : "minutes"},
          {"remedies", std::move(cures)},
          {"refused", std::move(refused)}};
}

}  // namespace

Answered<remedies::Remedies> answer(const site::Site& site, const RemediesQuestion& question,
                                    const Progress& progress) {
  const ZoneFound zone = find_zone(site, question.zone);
  if (zone.problem) return {std::nullopt, {*zone.problem}};
  const Answered<site::Costs> costs = costs_in_force(question.costs);
  if (!costs.answer) return {std::nullopt, costs.problems};
  return {remedies::find_remedies(
              site, *costs.answer, zone.id,
              [&](std::size_t done, std::size_t count) {
                if (!progress) return;
                progress(text(say::progress_remedies(static_cast<long long>(done), static_cast<long long>(count))));
              }),
          {}};
}

bool nothing_open(const site::Site& site, const remedies::Remedies& remedies) {
  return !site.zones.empty() && remedies.problems.empty() && remedies.unanswered == 0;
}

const Remedy* numbered(const Problems& problems, long long number) {
  for (const Problem& problem : problems) {
    const auto here = static_cast<long long>(problem.remedies.size());
    if (number >= 1 && number <= here) return &problem.remedies.at(static_cast<std::size_t>(number - 1));
    number -= here;
  }
  return nullptr;
}

long long count_of_remedies(const Problems& problems) {
  std::size_t count = 0;
  for (const Problem& problem : problems) count += problem.remedies.size();
  return static_cast<long long>(count);
}

Json json_of(const remedies::Remedies& remedies) {
  Json list = Json::array();
  long long number = 0;
  for (const Problem& problem : remedies.problems) list.push_back(json_of_problem(problem, number));
  return {{"findings", std::move(list)}, {"unanswered", remedies.unanswered}};  // "problems" are those of bad input
}

}  // namespace zoneproof::results
