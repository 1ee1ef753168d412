#include "proof/chains.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "carriage/leans_on.hpp"
#include "messages/proof.hpp"
#include "proof/armed_by.hpp"
#include "proof/feeds.hpp"
#include "proof/pairing.hpp"
#include "proof/programming.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using chain::Evidence;
using chain::Link;
using chain::Verdict;

constexpr std::array<Link, 5> all_links = {Link::sense, Link::loop, Link::trigger, Link::view, Link::deliver};

/// Share of the asked margin that is there: what makes one proven answer weaker than another.
double relative_margin(const Evidence& evidence) {
  if (!evidence.margin) return std::numeric_limits<double>::infinity();
  const double asked = evidence.required_margin.value_or(0.0);
  const double share = asked > 0.0 ? *evidence.margin / asked : *evidence.margin;
  // What differs by less is the same on every machine: it stays in the order of the answers.
  constexpr double grain = 1e-7;
  return std::isfinite(share) ? grain * std::round(share / grain) : share;
}

/// A reading of the panel as it was before any trigger wire.
bool without_wire(const Evidence& evidence) {
  constexpr std::string_view ending = "_before";
  return evidence.id.size() > ending.size() &&
         evidence.id.compare(evidence.id.size() - ending.size(), ending.size(), ending) == 0;
}

/// What is wrong without the trigger wire comes before what is wrong with it: it is the cause, or hides it.
bool first_to_read(const Evidence& a, const Evidence& b) {
  if (a.verdict != b.verdict) return chain::rank(a.verdict) < chain::rank(b.verdict);
  if (a.verdict == Verdict::broken && without_wire(a) != without_wire(b)) return without_wire(a);
  return relative_margin(a) < relative_margin(b);
}

/// The supply of a feed, and the junctions on the way to it.
void lean_on_feed(const site::Site& site, const site::Feed& feed, std::set<std::string>& ids) {
  ids.insert(site::supply_of(site, feed));
  for (std::string& junction : site::junctions_of(site, feed)) ids.insert(std::move(junction));
}

/// The panel or expander of an output, with what feeds it.
void lean_on_output(const site::Site& site, const site::Ref& output, std::set<std::string>& ids) {
  const auto panel = site.panels.find(site::panel_of_output(site, output));
  if (panel == site.panels.end()) return;
  ids.insert(panel->first);
  lean_on_feed(site, panel->second.feed, ids);
}

/// Things whose evidence a zone leans on: whatever it says, or only where it speaks of delivery (that a camera films a
/// privacy area is no fault of the zone that it shows).
struct LeansOn {
  std::set<std::string> things, for_delivery;

  bool on(const Evidence& evidence) const {
    return things.count(evidence.subject) != 0 ||
           (evidence.link == Link::deliver && for_delivery.count(evidence.subject) != 0);
  }
};

std::set<std::string> carried_by(const site::Site& site, const carriage::Routes& routes, const std::string& zone) {
  std::set<std::string> ids;
  for (const std::string& id : carriage::clips_lean_on(site, routes, zone)) {
    ids.insert(id);
    if (const auto load = site.loads.find(id); load != site.loads.end()) lean_on_feed(site, load->second.feed, ids);
  }
  ids.erase("");
  return ids;
}

LeansOn leaned_on(const site::Site& site, const carriage::Routes& routes, const std::string& zone) {
  std::set<std::string> ids = {zone};
  for (const std::string& detector : site::detectors_of_zone(site, zone)) {
    ids.insert(detector);
    const auto fed = site.detectors.find(detector);
    if (fed == site.detectors.end()) continue;
    lean_on_feed(site, fed->second.feed, ids);
  }
  const site::Zone& own = site.zones.at(zone);
  if (const auto panel = site.panels.find(own.panel.id); panel != site.panels.end()) {
    ids.insert(panel->first);
    lean_on_feed(site, panel->second.feed, ids);
  }
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id != zone) continue;
    const auto unit = site.units.find(trigger.unit.id);
    if (unit == site.units.end()) continue;
    ids.insert(unit->first);
    lean_on_feed(site, unit->second.feed, ids);
    for (const site::Ref* output : {&unit->second.arming.output, &trigger.output}) lean_on_output(site, *output, ids);
  }
  ids.erase("");
  return {std::move(ids), carried_by(site, routes, zone)};
}

/// What a link needs at the least, so that it is not proven by what else was computed.
struct Needed {
  Link link;
  const char* check;
};
constexpr Needed kNeeded[] = {{Link::view, "witnessed"},
                              {Link::view, "cause_in_clip"},
                              {Link::deliver, "first_picture"},
                              {Link::deliver, "clip_complete"}};

/// An engine that was not asked leaves its links unanswered rather than silently proven.
void add_not_computed(Chain& chain) {
  for (const Needed& needed : kNeeded) {
    std::vector<Evidence>& evidence = chain.links[static_cast<std::size_t>(needed.link)].evidence;
    const auto is = [&](const Evidence& one) { return one.id == needed.check; };
    if (std::any_of(evidence.begin(), evidence.end(), is)) continue;
    Evidence missing;
    missing.id = needed.check;
    missing.subject = chain.zone;
    missing.link = needed.link;
    missing.verdict = Verdict::unanswered;
    missing.gaps.push_back({"/zones/" + chain.zone, "later_issue"});
    missing.says = needed.link == Link::view ? say::view_not_computed() : say::delivery_not_computed();
    evidence.push_back(std::move(missing));
  }
}

void finish(Chain& chain) {
  std::vector<Verdict> verdicts;
  for (LinkAnswer& link : chain.links) {
    std::stable_sort(link.evidence.begin(), link.evidence.end(), first_to_read);
    std::vector<Verdict> of_link;
    for (const Evidence& evidence : link.evidence) of_link.push_back(evidence.verdict);
    link.verdict = chain::together(of_link);
    verdicts.push_back(link.verdict);
  }
  chain.verdict = chain::together(verdicts);
  const auto weakest = std::min_element(
      chain.links.begin(), chain.links.end(),
      [](const LinkAnswer& a, const LinkAnswer& b) { return chain::rank(a.verdict) < chain::rank(b.verdict); });
  chain.weakest = weakest->link;
}

/// Answers by what they are about: a site has many of them, and a zone leans on few things.
class BySubject {
 public:
  explicit BySubject(const std::vector<Evidence>& answers) : answers_(answers) {
    for (std::size_t i = 0; i < answers.size(); ++i) numbers_[answers[i].subject].push_back(i);
  }

  /// Their numbers, in order.
  std::vector<std::size_t> leaned_on(const LeansOn& leans) const {
    std::set<std::size_t> found;
    for (const std::set<std::string>* ids : {&leans.things, &leans.for_delivery})
      for (const std::string& id : *ids)
        if (const auto about = numbers_.find(id); about != numbers_.end())
          for (const std::size_t number : about->second)
            if (leans.on(answers_[number])) found.insert(number);
    return {found.begin(), found.end()};
  }

 private:
  const std::vector<Evidence>& answers_;
  std::map<std::string, std::vector<std::size_t>> numbers_;
};

Chain chain_of(const std::string& zone, const std::vector<Evidence>& answers,
               const std::vector<std::size_t>& leaned_on) {
  Chain chain;
  chain.zone = zone;
  for (Link link : all_links) chain.links[static_cast<std::size_t>(link)].link = link;
  for (const std::size_t number : leaned_on)
    chain.links[static_cast<std::size_t>(answers[number].link)].evidence.push_back(answers[number]);
  add_not_computed(chain);
  finish(chain);
  return chain;
}

}  // namespace

bool Proof::all_proven(const std::vector<Link>& links) const {
  for (const Chain& chain : chains) {
    for (Link link : links) {
      if (chain.links[static_cast<std::size_t>(link)].verdict != Verdict::proven) return false;
    }
  }
  return !chains.empty();
}

Proof join(const site::Site& site, const std::vector<Evidence>& engine_answers) {
  std::vector<Evidence> answers = engine_answers;
  for (Evidence& evidence : check_pairing(site)) answers.push_back(std::move(evidence));
  for (Evidence& evidence : check_armed_by(site)) answers.push_back(std::move(evidence));
  for (Evidence& evidence : check_feeds(site)) answers.push_back(std::move(evidence));
  for (Evidence& evidence : check_programming(site)) answers.push_back(std::move(evidence));
  const carriage::Routes routes(site);
  Proof proof;
  const BySubject by_subject(answers);
  std::vector<bool> used(answers.size(), false);
  for (const auto& [zone, entry] : site.zones) {
    if (!site::has_chain(site, zone)) {
      proof.without_chain.push_back(zone);
      continue;
    }
    const std::vector<std::size_t> of_zone = by_subject.leaned_on(leaned_on(site, routes, zone));
    for (const std::size_t number : of_zone) used[number] = true;
    proof.chains.push_back(chain_of(zone, answers, of_zone));
  }
  for (std::size_t i = 0; i < answers.size(); ++i)
    if (!used[i] && site.zones.count(answers[i].subject) == 0) proof.site_evidence.push_back(answers[i]);
  std::stable_sort(proof.site_evidence.begin(), proof.site_evidence.end(), first_to_read);
  std::stable_sort(proof.chains.begin(), proof.chains.end(), [&](const Chain& a, const Chain& b) {
    if (a.verdict != b.verdict) return chain::rank(a.verdict) < chain::rank(b.verdict);
    return site.zones.at(a.zone).number.value.value_or(0) < site.zones.at(b.zone).number.value.value_or(0);
  });
  return proof;
}

}  // namespace zoneproof::proof
