#include "remedies/held_against_proof.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "base/json_patch.hpp"
#include "proof/demo.hpp"
#include "remedies/trial.hpp"
#include "site/file.hpp"
#include "site/patch.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {

site::Site site_of(const Json& json) { return demo::site_of(json.dump(), "site"); }

site::Site faulty(const std::string& name) {
  const Json fault = demo::json("faults/" + name + ".fault.json");
  Json json = demo::json(fault.at("scenario").get<std::string>() + ".site.json");
  for (const Message& message : apply_patch(json, fault.at("patch"))) ADD_FAILURE() << full_text(message);
  return site_of(json);
}

Json kiln_yard() { return demo::json("kiln-yard.site.json"); }

Json& own_part(Json& site, const std::string& id) {
  Json& part = site[Pointer("/parts/" + id)];
  part.erase("shelf_hash");
  part.erase("shelf_version");
  return part;
}

void take_from_shelf(Json& site, const std::string& id) {
  site::Site carrier;
  carrier.parts[id] = *site::part_for_site(id);
  site["parts"][id] = Json::parse(site::write_site(carrier)).at("parts").at(id);
}

const Problem* problem_of(const std::vector<Problem>& problems, const std::string& subject, chain::Link link) {
  for (const Problem& problem : problems) {
    if (problem.subject == subject && problem.link == link) return &problem;
  }
  return nullptr;
}

const Remedy* remedy_of(const Problem& problem, Kind kind) {
  for (const Remedy& remedy : problem.remedies) {
    if (remedy.kind == kind) return &remedy;
  }
  return nullptr;
}

const Refused* refused_of(const Problem& problem, Kind kind) {
  for (const Refused& one : problem.refused) {
    if (one.kind == kind) return &one;
  }
  return nullptr;
}

std::string listed(const Problem& problem) {
  std::string all;
  for (const Remedy& remedy : problem.remedies) all += std::string(word(remedy.kind)) + ": " + text(remedy.says) + "\n";
  for (const Refused& one : problem.refused) all += "refused: " + text(one.says) + " " + text(one.because) + "\n";
  return all;
}

site::Site patched(const site::Site& site, const Remedy& remedy) {
  const site::PatchResult applied = site::apply_patch(site, remedy.patch, "remedy");
  if (!applied.site) throw std::runtime_error(full_text(applied.messages.front()));
  return demo::site_of(site::write_site(*applied.site), "patched");
}

Checks checks_of(const proof::Proof& proof) {
  Checks worst;
  const auto add = [&](const chain::Evidence& evidence) {
    const auto [at, made] = worst.emplace(key_of(evidence), evidence.verdict);
    if (!made && chain::rank(evidence.verdict) < chain::rank(at->second)) at->second = evidence.verdict;
  };
  for (const proof::Chain& chain : proof.chains) {
    for (const proof::LinkAnswer& link : chain.links) {
      for (const chain::Evidence& evidence : link.evidence) add(evidence);
    }
  }
  for (const chain::Evidence& evidence : proof.site_evidence) add(evidence);
  return worst;
}

void expect_true(const site::Site& site, const Problem& problem, const Remedy& remedy) {
  const proof::Proof before = demo::prove_wiring(site), after = demo::prove_wiring(patched(site, remedy));
  const Checks then = checks_of(before), now = checks_of(after);
  std::vector<Verdict> of_problem;
  for (const chain::Evidence& evidence : problem.evidence) {
    const auto found = now.find(key_of(evidence));
    if (found != now.end()) of_problem.push_back(found->second);
  }
  if (!of_problem.empty()) {
    EXPECT_EQ(chain::together(of_problem), remedy.verdict) << text(remedy.says);
  }
  for (const auto& [key, verdict] : now) {
    const auto was = then.find(key);
    if (was != then.end()) {
      // In a zone's link that was thin before a check may become thin: of links see below.
      const bool of_zone = site.zones.count(key.substr(0, key.find('/'))) != 0;
      if (of_zone && verdict == Verdict::thin) continue;
      EXPECT_GE(chain::rank(verdict), chain::rank(was->second)) << key << " by: " << text(remedy.says);
    } else {
      EXPECT_TRUE(verdict == Verdict::proven || verdict == Verdict::thin) << key << " by: " << text(remedy.says);
    }
  }
  const demo::Verdicts links_then = demo::verdicts_of(site, before), links_now = demo::verdicts_of(site, after);
  std::size_t moved = 0;
  const std::vector<std::string> order = {"broken", "unanswered", "thin", "proven", "no_chain"};
  const auto rank = [&](const std::string& verdict) { return std::find(order.begin(), order.end(), verdict); };
  for (const auto& [key, link] : links_now) {
    moved += links_then.at(key).verdict != link.verdict ? 1 : 0;
    EXPECT_GE(rank(link.verdict), rank(links_then.at(key).verdict)) << key.first << " " << key.second;
  }
  EXPECT_EQ(moved, remedy.improves.size()) << text(remedy.says);
  for (const LinkChange& change : remedy.improves) {
    EXPECT_EQ(links_then.at({change.zone, chain::word(change.link)}).verdict, chain::word(change.from));
    EXPECT_EQ(links_now.at({change.zone, chain::word(change.link)}).verdict, chain::word(change.to));
  }
  EXPECT_TRUE(remedy.cost.minutes) << "a task without minutes: " << text(remedy.says);
}

std::optional<Cure> true_cure(const site::Site& site, const std::string& zone, const std::string& subject,
                              chain::Link link, Kind kind) {
  const std::vector<Problem> problems = find_remedies(site, site::common_costs(), zone).problems;
  const Problem* problem = problem_of(problems, subject, link);
  if (problem == nullptr) {
    ADD_FAILURE() << subject << " has no problem of that link";
    return std::nullopt;
  }
  const Remedy* remedy = remedy_of(*problem, kind);
  if (remedy == nullptr) {
    ADD_FAILURE() << word(kind) << " is not among:\n" << listed(*problem);
    return std::nullopt;
  }
  expect_true(site, *problem, *remedy);
  return Cure{*problem, *remedy, patched(site, *remedy)};
}

}  // namespace zoneproof::remedies
