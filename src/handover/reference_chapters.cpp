#include "handover/reference_chapters.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "base/message.hpp"
#include "electric/naming.hpp"
#include "handover/cells.hpp"
#include "messages/handover_chapters.hpp"
#include "results/evidence_words.hpp"
#include "results/faults.hpp"
#include "results/field_words.hpp"

namespace zoneproof::handover {

using electric::FaultEffect;
using paper::Cell;
using paper::said;
using paper::Table;

namespace {

std::string effect_words(FaultEffect effect) {
  switch (effect) {
    case FaultEffect::alarm_lost: return text(say::paper_fault_alarm_lost());
    case FaultEffect::picture_lost: return text(say::paper_fault_picture_lost());
    case FaultEffect::supervision_lost: return text(say::paper_fault_supervision_lost());
    default: return text(say::paper_fault_unanswered());
  }
}

std::string zones_of(const site::Site& site, const std::vector<electric::FaultLoss>& losses) {
  std::set<std::string> lost;
  for (const electric::FaultLoss& loss : losses) lost.insert(loss.zone);
  std::string words;
  for (const std::string& zone : zones_in_order(site))
    if (lost.contains(zone)) words += (words.empty() ? "" : ", ") + electric::zone_words(site, zone);
  return words;
}

/// Of an effect, as they are ranked: by how many zones lose something; then by the number of the first of them.
std::vector<const electric::FaultAnswer*> of_effect(const Findings& findings, FaultEffect effect) {
  std::map<std::string, std::size_t> places;
  for (const std::string& zone : zones_in_order(findings.site)) places.emplace(zone, places.size());
  const auto rank = [&](const electric::FaultAnswer& answer) {
    std::set<std::size_t> zones;
    for (const electric::FaultLoss& loss : answer.losses) zones.insert(places.at(loss.zone));
    return std::pair(-static_cast<long long>(zones.size()), zones.empty() ? places.size() : *zones.begin());
  };
  std::vector<const electric::FaultAnswer*> all;
  for (const electric::FaultAnswer& answer : findings.faults.faults)
    if (answer.effect == effect) all.push_back(&answer);
  std::stable_sort(all.begin(), all.end(), [&](const auto* a, const auto* b) { return rank(*a) < rank(*b); });
  return all;
}

Table fault_table(const Findings& findings) {
  Table table{"silent-faults",
              text(say::paper_silent_faults()),
              {},
              {},
              text(say::paper_column_what_is_lost()),
              {},
              text(say::paper_no_silent_faults())};
  table.columns = {{"fault", text(say::paper_column_fault()), {}, {}, 3.0, 70.0},
                   {"zones", text(say::paper_column_zones()), {}, {}, 2.0, 40.0}};
  for (const FaultEffect effect : results::kFaultEffects) {
    if (!electric::silent(effect) && effect != FaultEffect::unanswered) continue;
    paper::Group group{effect_words(effect), {}};
    for (const electric::FaultAnswer* answer : of_effect(findings, effect))
      group.rows.push_back({{said(text(answer->fault.says)), said(zones_of(findings.site, answer->losses))}});
    if (!group.rows.empty()) table.groups.push_back(std::move(group));
  }
  return table;
}

std::string rule_value(const site::RuleEntry& entry) {
  if (entry.points.empty()) return value_words(entry.value, entry.unit);
  std::string words;
  for (const site::RulePoint& point : entry.points)
    words += (words.empty() ? "" : "; ") + text(say::paper_rule_point(results::value_words(point.at, entry.at_unit),
                                                                      results::value_words(point.value, entry.unit)));
  return words;
}

std::string yes_or_no(const site::Flag& flag) { return text(flag.yes() ? say::paper_yes() : say::paper_no()); }

Table rule_table(const std::string& id, const site::Rulebook& book) {
  Table table{"rules-" + id, book.name + ", " + book.version, {}, {{}}};
  table.columns = {{"meaning", text(say::paper_column_rule()), {}, {}, 3.0, 60.0},
                   {"value", text(say::paper_column_value()), {}, {}, 1.0, 24.0},
                   {"source", text(say::paper_column_whence()), {}, {}, 2.0, 40.0},
                   {"verified", text(say::paper_column_was_verified()), {}, {}, 0.0, 0.0, false}};
  for (const auto& [name, entry] : book.entries)
    table.groups.front().rows.push_back(
        {{said(entry.meaning), said(rule_value(entry)),
          said(entry.clause.empty() ? entry.source : entry.source + ", " + entry.clause),
          said(yes_or_no(entry.verified))}});
  return table;
}

std::string origin_words(site::Origin origin) {
  switch (origin) {
    case site::Origin::measured: return text(say::paper_measured());
    case site::Origin::data_sheet: return text(say::paper_data_sheet());
    case site::Origin::standard: return text(say::paper_standard());
    case site::Origin::envelope: return text(say::paper_envelope());
    case site::Origin::typical: return text(say::paper_typical());
    case site::Origin::assumed: break;
  }
  return text(say::paper_assumed());
}

Table part_table(const site::Site& site) {
  Table table{"parts", text(say::paper_parts()), {}, {{}}};
  table.columns = {{"part", text(say::paper_column_part()), {}, {}, 2.0, 50.0},
                   {"source", text(say::paper_column_whence()), {}, {}, 2.0, 45.0},
                   {"origin", text(say::paper_column_origin()), {}, {}, 0.0, 0.0, false}};
  for (const auto& [id, part] : site.parts)
    table.groups.front().rows.push_back({{said(part.name.empty() ? id : part.name), said(part.source),
                                          part.origin ? said(origin_words(*part.origin)) : Cell{paper::Blank{}}}});
  return table;
}

}  // namespace

paper::Chapter cautions_chapter() {
  paper::Chapter chapter{"cautions", text(say::paper_cautions()), {}};
  const std::string danger = text(say::paper_danger()), caution = text(say::paper_caution());
  chapter.blocks = {paper::Paragraph{text(say::paper_cautions_first())},
                    paper::Caution{danger,
                                   {text(say::paper_caution_mains()), text(say::paper_caution_battery()),
                                    text(say::paper_caution_height())}},
                    paper::Caution{caution, {text(say::paper_caution_on_test()), text(say::paper_caution_fire())}},
                    paper::Caution{caution,
                                   {text(say::paper_caution_privacy()), text(say::paper_caution_network()),
                                    text(say::paper_caution_secrets())}},
                    paper::Paragraph{text(say::paper_cautions_last())}};
  return chapter;
}

paper::Chapter faults_chapter(const Findings& findings) {
  paper::Chapter chapter{"faults", text(say::paper_faults_chapter()), {}};
  chapter.blocks.push_back(paper::Paragraph{text(say::paper_faults_how())});
  std::vector<std::string> already;
  for (const electric::FaultLoss& loss : findings.faults.lost_already)
    already.push_back(
        text(say::paper_lost_already(electric::zone_words(findings.site, loss.zone), effect_words(loss.effect))));
  for (const std::string& zone : findings.faults.without_alarm)
    already.push_back(text(say::paper_never_alarms(electric::zone_words(findings.site, zone))));
  if (!already.empty()) {
    chapter.blocks.push_back(paper::Heading{2, text(say::paper_lost_without_a_fault())});
    chapter.blocks.push_back(paper::List{already});
  }
  chapter.blocks.push_back(fault_table(findings));
  std::vector<std::string> gaps;
  for (const chain::Gap& gap : findings.faults.gaps) gaps.push_back(results::missing_words(findings.site, gap));
  if (!gaps.empty()) {
    chapter.blocks.push_back(paper::Paragraph{text(say::paper_rests_on())});
    chapter.blocks.push_back(paper::List{gaps});
  }
  return chapter;
}

paper::Chapter rules_chapter(const Findings& findings) {
  const site::Site& site = findings.site;
  paper::Chapter chapter{"rules", text(say::paper_rules_chapter()), {}};
  const auto book = site.rulebooks.find(site.rulebook.book.id);
  if (book == site.rulebooks.end()) {
    chapter.blocks.push_back(paper::Paragraph{text(say::paper_no_rulebook())});
  } else {
    const auto& entries = book->second.entries;
    const auto open =
        std::count_if(entries.begin(), entries.end(), [](const auto& entry) { return !entry.second.verified.yes(); });
    chapter.blocks.push_back(
        paper::Paragraph{text(say::paper_rules_how(static_cast<long long>(entries.size()), open))});
    chapter.blocks.push_back(rule_table(book->first, book->second));
  }
  chapter.blocks.push_back(part_table(site));
  return chapter;
}

}  // namespace zoneproof::handover
