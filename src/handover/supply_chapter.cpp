#include "handover/supply_chapter.hpp"

#include <algorithm>
#include <cmath>

#include "base/message.hpp"
#include "base/outward.hpp"
#include "chain/limit.hpp"
#include "electric/battery.hpp"
#include "electric/naming.hpp"
#include "electric/supply_check.hpp"
#include "electric/tracked.hpp"
#include "handover/cells.hpp"
#include "handover/discharge_graph.hpp"
#include "messages/handover_chapters.hpp"
#include "results/evidence_words.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

using electric::SupplyPoint;
using paper::Blank;
using paper::Cell;
using paper::said;
using paper::Table;

namespace {

constexpr auto kRight = drawing::Align::right;

paper::Column figures(const char* id, std::string heading) {
  return {id, std::move(heading), {}, kRight, 0.0, 15.0, false};
}

Cell figure(double value, const char* unit) { return quantity_cell(value, unit); }
/// The ends of what may be, rounded outward: on no line does a load get more, or a supply less, than was computed.
Cell at_least(double value, const char* unit) { return quantity_cell(lowest({value, unit}).value, unit); }
Cell at_most(double value, const char* unit) { return quantity_cell(highest({value, unit}).value, unit); }

/// With a current that nobody knows the circuit is solved with a bound that holds for any: no figure for paper.
bool told(const std::vector<chain::Gap>& gaps) {
  return std::none_of(gaps.begin(), gaps.end(), [](const chain::Gap& gap) { return chain::nothing_known(gap.reason); });
}

paper::Row load_row(const site::Site& site, const SupplyPoint& point, std::size_t index) {
  const electric::Consumer& consumer = point.consumers[index];
  std::vector<Cell> cells = {said(electric::thing_words(site, consumer.id))};
  if (electric::certainly_dead(site, *consumer.feed, point.condition)) {
    cells.push_back(said(text(say::paper_off())));
    cells.resize(8, said(""));
    return {std::move(cells)};
  }
  const circuit::WorstCase& volts = point.solved.cases.at(index);
  const bool known = point.solved.has_numbers(index);
  cells.push_back(known ? at_least(volts.low.bound, "V") : Cell{Blank{}});
  cells.push_back(known ? figure(volts.nominal, "V") : Cell{Blank{}});
  cells.push_back(known ? at_most(volts.high.bound, "V") : Cell{Blank{}});
  const bool range = consumer.min_V != nullptr && consumer.min_V->known() && consumer.max_V->known();
  cells.push_back(range ? said(text(say::paper_from_to({consumer.min_V->high, "V"}, {consumer.max_V->low, "V"})))
                        : Cell{Blank{}});
  const electric::Drawn drawn = electric::drawn_by(site, point, index);
  cells.push_back(told(drawn.gaps) ? figure(drawn.nominal_A, "A") : Cell{Blank{}});
  cells.push_back(told(drawn.gaps) ? at_most(drawn.most_A, "A") : Cell{Blank{}});
  cells.push_back(value_cell(consumer.feed->fuse_A, "A"));
  return {std::move(cells)};
}

Table loads(const Findings& findings) {
  Table table{"loads", text(say::paper_loads()),         {}, {}, text(say::paper_column_condition()),
              {},      text(say::paper_nothing_is_fed())};
  table.columns = {{"load", text(say::paper_column_load()), {}, {}, 1.0, 34.0},
                   figures("lowest", text(say::paper_column_lowest())),
                   figures("nominal", text(say::paper_column_nominal())),
                   figures("highest", text(say::paper_column_highest())),
                   figures("works", text(say::paper_column_works_at())),
                   figures("takes", text(say::paper_column_takes())),
                   figures("most", text(say::paper_column_takes_most())),
                   figures("fuse", text(say::paper_column_fuse()))};
  for (const SupplyPoint& point : findings.supply().points) {
    paper::Group group{electric::supply_words(point.condition), {}};
    for (std::size_t i = 0; i < point.consumers.size(); ++i) group.rows.push_back(load_row(findings.site, point, i));
    table.groups.push_back(std::move(group));
  }
  return table;
}

/// The condition in which most is asked of an output.
struct Most {
  const SupplyPoint* point = nullptr;
  electric::Drawn drawn;
};
Most most_of(const Findings& findings, const std::string& supply, const std::string& output) {
  Most most;
  for (const SupplyPoint& point : findings.supply().points) {
    const electric::Drawn drawn = electric::drawn_from(findings.site, point, supply, output);
    if (most.point == nullptr || drawn.most_A > most.drawn.most_A) most = {&point, drawn};
  }
  return most;
}

paper::Row output_row(const Findings& findings, const std::string& supply, const std::string& output,
                      const std::string& name, const site::Value& rating) {
  const Most most = most_of(findings, supply, output);
  std::vector<Cell> cells = {said(name)};
  if (most.point == nullptr) {
    cells.resize(6, Cell{Blank{}});
    return {std::move(cells)};
  }
  cells.push_back(said(electric::supply_words(most.point->condition)));
  const bool known = most.drawn.gaps.empty();
  cells.push_back(known ? at_most(most.drawn.most_A, "A") : Cell{Blank{}});
  cells.push_back(known && most.drawn.starting_gaps.empty() ? at_most(most.drawn.starting_A, "A") : Cell{Blank{}});
  cells.push_back(value_cell(rating, "A"));
  cells.push_back(known && rating.known() ? at_least(rating.low - most.drawn.most_A, "A") : Cell{Blank{}});
  return {std::move(cells)};
}

Table outputs(const Findings& findings) {
  Table table{"outputs", text(say::paper_outputs()), {}, {{}}, {}, {}, text(say::paper_nothing_is_fed())};
  table.columns = {{"output", text(say::paper_column_output()), {}, {}, 1.0, 40.0},
                   {"when", text(say::paper_column_most_when()), {}, {}, 1.0, 28.0},
                   figures("most", text(say::paper_column_takes_most())),
                   figures("starting", text(say::paper_column_starting())),
                   figures("rating", text(say::paper_column_rating())),
                   figures("spare", text(say::paper_column_spare()))};
  for (const auto& [id, supply] : findings.site.supplies) {
    const site::SupplySpec* spec = results::spec_of(findings.site, supply);
    if (spec == nullptr) continue;
    auto& rows = table.groups.front().rows;
    rows.push_back(output_row(findings, id, "", electric::thing_words(findings.site, id), spec->rating_A));
    for (const auto& [output, of] : spec->outputs)
      rows.push_back(output_row(
          findings, id, output,
          text(say::paper_output_of(of.name.empty() ? output : of.name, electric::thing_words(findings.site, id))),
          of.rating_A));
  }
  return table;
}

/// What a battery's charge is counted with.
Table factors(const Findings& findings, const results::BatteryRun& run) {
  Table table{"battery-" + run.supply, text(say::paper_counted_with()), {}, {{}}};
  table.columns = {{"what", text(say::paper_column_what()), {}, {}, 2.0, 50.0},
                   {"value", text(say::paper_column_value()), {}, kRight, 0.0, 24.0},
                   {"source", text(say::paper_column_source()), {}, {}, 2.0, 50.0}};
  auto& rows = table.groups.front().rows;
  for (const auto& [id, battery] : findings.site.batteries) {
    if (battery.supply.id != run.supply) continue;
    const site::Part* part = site::part_of(findings.site, battery.part);
    const site::BatterySpec* spec = part != nullptr && part->battery ? &*part->battery : nullptr;
    const std::string source = part == nullptr ? std::string() : part->name + ", " + part->source;
    const std::string name = electric::thing_words(findings.site, id);
    rows.push_back({{said(text(say::paper_rated_charge(name))),
                     spec == nullptr ? Cell{Blank{}} : value_cell(spec->capacity_Ah, "Ah"), said(source)}});
    const auto factor =
        electric::worst_temperature_factor(findings.site, electric::temperatures_of(findings.site, {battery.area}));
    const auto rule = chain::limit_of(findings.site, "battery_temperature_factor");
    rows.push_back({{said(text(say::paper_temperature_factor(name))), quantity_cell(factor, ""),
                     said(source_words(rule.source, rule.verified))}});
    rows.push_back(
        {{said(text(say::paper_blocks(name))),
          battery.blocks_in_parallel.known() ? said(std::to_string(*battery.blocks_in_parallel.value)) : Cell{Blank{}},
          said("")}});
  }
  const auto rule = [&](const char* id, const std::string& what, const char* unit) {
    const chain::Limit limit = chain::limit_of(findings.site, id);
    rows.push_back({{said(what), quantity_cell(limit.value, unit), said(source_words(limit.source, limit.verified))}});
  };
  rule("battery_ageing_factor", text(say::paper_ageing_factor()), "");
  rows.push_back({{said(text(say::paper_usable_charge())), at_least(run.discharge.usable_Ah, "Ah"), said("")}});
  rows.push_back({{said(text(say::paper_standby_current())), figure(run.discharge.standby_A, "A"), said("")}});
  rows.push_back({{said(text(say::paper_autonomy())), at_least(run.discharge.autonomy_h, "h"), said("")}, {}, true});
  return table;
}

Table checks(const Findings& findings) {
  Table table{"supply-checks", text(say::paper_checks_of_supplies()), {}, {{}}};
  table.columns = {{"verdict", text(say::paper_column_verdict()), {}, {}, 0.0, 0.0, false},
                   {"says", text(say::paper_column_says()), {}, {}, 4.0, 60.0},
                   {"margin", text(say::paper_column_margin()), {}, kRight, 0.0, 16.0, false},
                   {"source", text(say::paper_column_source()), {}, {}, 1.0, 30.0}};
  for (const chain::Evidence& evidence : findings.supply().evidence)
    table.groups.front().rows.push_back(
        {{verdict_cell(evidence.verdict), said(evidence.says ? text(*evidence.says) : evidence.id),
          margin_cell(evidence.margin, evidence.unit),
          said(source_words(evidence.limit_source, evidence.limit_verified))}});
  return table;
}

}  // namespace

paper::Chapter supply_chapter(const drawing::Ruler& ruler, const Findings& findings) {
  paper::Chapter chapter{"supply", text(say::paper_supply_chapter()), {}};
  chapter.blocks.push_back(paper::Paragraph{text(say::paper_supply_how())});
  chapter.blocks.push_back(loads(findings));
  chapter.blocks.push_back(outputs(findings));
  for (const results::BatteryRun& run : findings.supply().batteries) {
    const std::string name = electric::thing_words(findings.site, run.supply);
    chapter.blocks.push_back(paper::Heading{2, text(say::paper_battery_of(name))});
    std::vector<std::string> missing;
    for (const chain::Gap& gap : run.discharge.gaps) missing.push_back(results::gap_words(findings.site, gap));
    if (!missing.empty()) {
      chapter.blocks.push_back(paper::Paragraph{text(say::paper_rests_on())});
      chapter.blocks.push_back(paper::List{missing});
    }
    if (run.discharge.points.empty()) continue;
    chapter.blocks.push_back(factors(findings, run));
    chapter.blocks.push_back(discharge_figure(ruler, findings.site, findings.supply(), run));
  }
  chapter.blocks.push_back(checks(findings));
  return chapter;
}

}  // namespace zoneproof::handover
