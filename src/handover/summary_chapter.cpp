#include "handover/summary_chapter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "base/message.hpp"
#include "chain/words.hpp"
#include "electric/naming.hpp"
#include "handover/cells.hpp"
#include "messages/handover_chapters.hpp"
#include "results/evidence_words.hpp"

namespace zoneproof::handover {

using chain::Evidence;
using chain::Link;
using chain::Verdict;
using paper::Cell;
using paper::said;
using paper::Table;

namespace {

constexpr Link kLinks[] = {Link::sense, Link::loop, Link::trigger, Link::view, Link::deliver};
constexpr Verdict kVerdicts[] = {Verdict::proven, Verdict::thin, Verdict::broken, Verdict::unanswered};
constexpr std::size_t kMostOfGaps = 6;

std::string count(std::size_t number) { return std::to_string(number); }

/// The first sentence of the weakest link: why the chain is no better.
std::string weakest_words(const proof::Chain& chain) {
  if (chain.verdict == Verdict::proven) return text(say::paper_all_five_hold());
  const auto& evidence = chain.links[static_cast<std::size_t>(chain.weakest)].evidence;
  return evidence.empty() || !evidence.front().says ? std::string() : text(*evidence.front().says);
}

paper::KeyValues about_site(const Findings& findings) {
  const site::Site& site = findings.site;
  std::map<Verdict, std::size_t> counts;
  for (const proof::Chain& chain : findings.proof.chains) ++counts[chain.verdict];
  paper::KeyValues about;
  about.rows.emplace_back(text(say::paper_site()), said(site.name));
  if (!site.note.empty()) about.rows.emplace_back(text(say::paper_note()), said(site.note));
  const auto book = site.rulebooks.find(site.rulebook.book.id);
  about.rows.emplace_back(text(say::paper_rulebook()), book == site.rulebooks.end()
                                                           ? Cell{paper::Blank{}}
                                                           : said(book->second.name + ", " + book->second.version));
  about.rows.emplace_back(text(say::paper_grade()), site.rulebook.grade.known()
                                                        ? said(std::to_string(*site.rulebook.grade.value))
                                                        : Cell{paper::Blank{}});
  about.rows.emplace_back(text(say::paper_chains()), said(count(findings.proof.chains.size())));
  for (const Verdict verdict : kVerdicts) about.rows.emplace_back(chain::words(verdict), said(count(counts[verdict])));
  return about;
}

Table chains(const Findings& findings) {
  Table table{"chains", text(say::paper_chain_of_every_zone()), {}, {{}}, {}, {}, text(say::paper_no_chains())};
  table.columns.push_back({"zone", text(say::paper_column_zone()), {}, {}, 2.0, 32.0});
  for (const Link link : kLinks)
    table.columns.push_back({chain::word(link), chain::words(link), {}, {}, 0.0, 0.0, false});
  table.columns.push_back({"why", text(say::paper_column_why()), {}, {}, 4.0, 40.0});
  std::map<std::string, std::string> first;  // sentence: the zone that has it
  for (const std::string& zone : zones_in_order(findings.site)) {
    const proof::Chain* chain = chain_of(findings, zone);
    if (chain == nullptr) continue;
    std::vector<Cell> cells = {paper::Words{electric::zone_words(findings.site, zone), "#zone-" + zone}};
    for (const Link link : kLinks) cells.push_back(verdict_cell(chain->links[static_cast<std::size_t>(link)].verdict));
    // Of what many zones lean on the sentence stands once.
    std::string why = weakest_words(*chain);
    const auto told = first.emplace(why, zone);
    if (!told.second && chain->verdict != Verdict::proven)
      why = text(say::paper_as_above(electric::zone_words(findings.site, told.first->second)));
    cells.push_back(said(std::move(why)));
    table.groups.front().rows.push_back({std::move(cells), "chain-" + zone});
  }
  return table;
}

std::string what_is_missing(const site::Site& site, const Evidence& evidence) {
  std::string words;
  for (std::size_t i = 0; i < evidence.gaps.size() && i < kMostOfGaps; ++i)
    words += (i == 0 ? "" : "; ") + results::missing_words(site, evidence.gaps[i]);
  if (evidence.gaps.size() > kMostOfGaps)
    words += "; " + text(say::paper_and_more(static_cast<long long>(evidence.gaps.size() - kMostOfGaps)));
  return words;
}

paper::Row row_of(const site::Site& site, const Evidence& evidence) {
  std::string cure;
  for (const Message& remedy : evidence.remedies) cure += (cure.empty() ? "" : " ") + text(remedy);
  if (cure.empty() && evidence.verdict == Verdict::unanswered) {
    const std::string missing = what_is_missing(site, evidence);
    if (!missing.empty()) cure = text(say::paper_missing(missing));
  }
  const std::string says = evidence.says ? text(*evidence.says) : evidence.id;
  return {{verdict_cell(evidence.verdict), said(chain::words(evidence.link)), said(says), said(cure),
           margin_cell(evidence.margin, evidence.unit),
           said(source_words(evidence.limit_source, evidence.limit_verified))}};
}

/// What one finding is to a reader: two zones that lean on it have the same.
std::string key_of(const Evidence& evidence) {
  const auto number = [](const std::optional<double>& value) { return value ? fmt::format("{}", *value) : "-"; };
  std::string key = fmt::format("{}/{}/{}/{}/{}/{}/{}/{}", evidence.id, evidence.subject, chain::word(evidence.link),
                                chain::word(evidence.verdict), evidence.condition, number(evidence.margin),
                                evidence.limit_source, evidence.says ? text(*evidence.says) : "");
  for (const chain::Gap& gap : evidence.gaps) key += "/" + gap.pointer + ":" + gap.reason;
  for (const Message& remedy : evidence.remedies) key += "/" + text(remedy);
  return key;
}

/// What is not proven of a zone's chain, or of several zones that lean on the same.
struct Shared {
  std::vector<std::string> zones;
  std::vector<const Evidence*> evidence;
};

/// Findings of several zones first, those of most zones at the front; then zone by zone.
std::vector<Shared> by_zones(const Findings& findings) {
  std::vector<std::pair<const Evidence*, std::vector<std::string>>> all;
  std::map<std::string, std::size_t> places;
  for (const std::string& zone : zones_in_order(findings.site)) {
    const proof::Chain* chain = chain_of(findings, zone);
    if (chain == nullptr || chain->verdict == Verdict::proven) continue;
    for (const proof::LinkAnswer& link : chain->links)
      for (const Evidence& evidence : link.evidence) {
        if (evidence.verdict == Verdict::proven) continue;
        const auto place = places.emplace(key_of(evidence), all.size());
        if (place.second) all.push_back({&evidence, {}});
        std::vector<std::string>& zones = all[place.first->second].second;
        if (zones.empty() || zones.back() != zone) zones.push_back(zone);
      }
  }
  std::vector<Shared> groups;
  for (const auto& [evidence, zones] : all) {
    auto group = std::find_if(groups.begin(), groups.end(), [&](const Shared& one) { return one.zones == zones; });
    if (group == groups.end()) group = groups.insert(groups.end(), {zones, {}});
    group->evidence.push_back(evidence);
  }
  const std::vector<std::string> order = zones_in_order(findings.site);
  const auto rank = [&](const Shared& one) {
    const auto first = std::find(order.begin(), order.end(), one.zones.front()) - order.begin();
    const auto many = static_cast<long long>(one.zones.size());
    return std::pair(many > 1 ? -many : 0, static_cast<long long>(first));
  };
  std::stable_sort(groups.begin(), groups.end(), [&](const Shared& a, const Shared& b) { return rank(a) < rank(b); });
  return groups;
}

/// Whether another zone has the same number: one of another panel, or by mistake.
bool number_is_shared(const site::Site& site, const std::string& zone) {
  const site::Count& number = site.zones.at(zone).number;
  return std::any_of(site.zones.begin(), site.zones.end(), [&](const auto& other) {
    return other.first != zone && other.second.number.known() && other.second.number.value == number.value;
  });
}

/// "Zone 4 (Workshop)"; of several their numbers, "Zones 1, 2, 5"; of all "Every zone with a chain".
std::string zones_words(const Findings& findings, const std::vector<std::string>& zones) {
  if (zones.size() == 1) return electric::zone_words(findings.site, zones.front());
  if (zones.size() == findings.proof.chains.size()) return text(say::paper_every_zone());
  std::vector<std::string> told;
  for (const std::string& zone : zones) {
    const site::Count& number = findings.site.zones.at(zone).number;
    told.push_back(number.known() && !number_is_shared(findings.site, zone)
                       ? count(static_cast<std::size_t>(*number.value))
                       : electric::zone_words(findings.site, zone));
  }
  return text(say::paper_several_zones(told));
}

/// Everything that keeps a chain from being proven; what several zones lean on stands once, before them.
Table not_proven(const Findings& findings) {
  Table table{"not-proven", text(say::paper_what_is_not_proven()),  {}, {}, text(say::paper_column_zone()),
              {},           text(say::paper_everything_is_proven())};
  table.columns = {{"verdict", text(say::paper_column_verdict()), {}, {}, 0.0, 0.0, false},
                   {"link", text(say::paper_column_link()), {}, {}, 0.0, 0.0, false},
                   {"says", text(say::paper_column_says()), {}, {}, 4.0, 45.0},
                   {"cure", text(say::paper_column_cure()), {}, {}, 3.0, 35.0},
                   {"margin", text(say::paper_column_margin()), {}, drawing::Align::right, 0.0, 14.0, false},
                   {"limit", text(say::paper_column_source()), {}, {}, 1.0, 22.0}};
  for (const Shared& shared : by_zones(findings)) {
    paper::Group group{zones_words(findings, shared.zones), {}};
    for (const Evidence* evidence : shared.evidence) group.rows.push_back(row_of(findings.site, *evidence));
    table.groups.push_back(std::move(group));
  }
  paper::Group of_site{text(say::paper_of_no_chain()), {}};
  for (const Evidence& evidence : findings.proof.site_evidence)
    if (evidence.verdict != Verdict::proven) of_site.rows.push_back(row_of(findings.site, evidence));
  if (!of_site.rows.empty()) table.groups.push_back(std::move(of_site));
  return table;
}

}  // namespace

paper::Chapter summary_chapter(const Findings& findings) {
  paper::Chapter chapter{"summary", text(say::paper_summary()), {}};
  chapter.blocks.push_back(paper::Turn{true});  // the board wants the width; with it the first page is not half empty
  chapter.blocks.push_back(about_site(findings));
  chapter.blocks.push_back(paper::Paragraph{text(say::paper_how_to_read_verdicts())});
  chapter.blocks.push_back(chains(findings));
  if (!findings.proof.without_chain.empty()) {
    std::vector<std::string> names;
    for (const std::string& zone : findings.proof.without_chain)
      names.push_back(electric::zone_words(findings.site, zone));
    chapter.blocks.push_back(paper::Paragraph{text(say::paper_without_chain(names))});
  }
  chapter.blocks.push_back(not_proven(findings));
  return chapter;
}

}  // namespace zoneproof::handover
