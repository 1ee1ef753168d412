#include "handover/supply_chapter.hpp"

#include <algorithm>
#include <cmath>

#include "base/message.hpp"
#include "base/outward.hpp"
#include "chain/limit.hpp"
#include "electric/battery.hpp"
#include "electric/naming.hpp"
#include "electric/standby.hpp"
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
                      const std::string& name, const site::Value& rating, const site::Value* acts_at) {
  const Most most = most_of(findings, supply, output);
  std::vector<Cell> cells = {said(name)};
  if (most.point == nullptr) {
    cells.resize(7, Cell{Blank{}});
    return {std::move(cells)};
  }
  cells.push_back(said(electric::supply_words(most.point->condition)));
  const bool known = most.drawn.gaps.empty();
  cells.push_back(known ? at_most(most.drawn.most_A, "A") : Cell{Blank{}});
  cells.push_back(known && most.drawn.starting_gaps.empty() ? at_most(most.drawn.starting_A, "A") : Cell{Blank{}});
  cells.push_back(value_cell(rating, "A"));
  cells.push_back(known && rating.known() ? at_least(rating.low - most.drawn.most_A, "A") : Cell{Blank{}});
  cells.push_back(acts_at == nullptr ? said("") : value_cell(*acts_at, "A"));
  return {std::move(cells)};
}

Table outputs(const Findings& findings) {
  Table table{"outputs", text(say::paper_outputs()), {}, {{}}, {}, {}, text(say::paper_nothing_is_fed())};
  table.columns = {{"output", text(say::paper_column_output()), {}, {}, 1.0, 40.0},
                   {"when", text(say::paper_column_most_when()), {}, {}, 1.0, 28.0},
                   figures("most", text(say::paper_column_takes_most())),
                   figures("starting", text(say::paper_column_starting())),
                   figures("rating", text(say::paper_column_rating())),
                   figures("spare", text(say::paper_column_spare())),
                   figures("acts", text(say::paper_column_protection_acts()))};
  for (const auto& [id, supply] : findings.site.supplies) {
    const site::SupplySpec* spec = results::spec_of(findings.site, supply);
    if (spec == nullptr) continue;
    auto& rows = table.groups.front().rows;
    rows.push_back(output_row(findings, id, "", electric::thing_words(findings.site, id), spec->rating_A, nullptr));
    for (const auto& [output, of] : spec->outputs)
      rows.push_back(output_row(
          findings, id, output,
          text(say::paper_output_of(of.name.empty() ? output : of.name, electric::thing_words(findings.site, id))),
          of.rating_A, &of.limit_A));
  }
  return table;
}

/// From what is printed on a battery to the hours that it lasts, factor by factor.
class ChargeTable {
 public:
  ChargeTable(const Findings& findings, const results::BatteryRun& run)
      : site_(findings.site), run_(run.discharge), supply_(run.supply) {}

  Table make() {
    table_ = {"battery-" + supply_, text(say::paper_counted_with()), {}, {{}}};
    table_.columns = {{"what", text(say::paper_column_what()), {}, {}, 2.0, 50.0},
                      {"value", text(say::paper_column_value()), {}, kRight, 0.0, 24.0},
                      {"source", text(say::paper_column_whence()), {}, {}, 2.0, 50.0}};
    for (const auto& [id, battery] : site_.batteries)
      if (battery.supply.id == supply_) charge_of(id, battery);
    const chain::Limit ageing = chain::limit_of(site_, "battery_ageing_factor");
    row(text(say::paper_ageing_factor()), quantity_cell(ageing.value, ""),
        source_words(ageing.source, ageing.verified));
    row(text(say::paper_usable_charge()), at_least(run_.usable_Ah, "Ah"), "");
    row(text(say::paper_standby_current()), figure(run_.standby_A, "A"), text(say::paper_from_the_circuit()));
    if (run_.standby_A > 0.0) row(text(say::paper_without_rate()), at_least(run_.usable_Ah / run_.standby_A, "h"), "");
    if (counts()) account(*run_.account);
    add({said(text(say::paper_autonomy())), at_least(run_.autonomy_h, "h"),
         said(counts() ? text(say::paper_autonomy_is()) : "")},
        true);
    return std::move(table_);
  }

 private:
  void add(std::vector<Cell> cells, bool strong = false) {
    table_.groups.front().rows.push_back({std::move(cells), {}, strong});
  }
  void row(std::string what, Cell value, std::string source) {
    add({said(std::move(what)), std::move(value), said(std::move(source))});
  }

  /// Whether anything is taken that a factor could be told of.
  bool counts() const {
    return run_.account && run_.account->first.current_A > 0.0 && run_.account->last.current_A > 0.0;
  }

  static std::string sheet(const site::Part* part) {
    return part == nullptr ? std::string() : part->name + ", " + part->source;
  }

  void charge_of(const std::string& id, const site::Battery& battery) {
    const site::Part* part = site::part_of(site_, battery.part);
    const site::BatterySpec* spec = site::spec_of(site_, battery.part, &site::Part::battery);
    const std::string name = electric::thing_words(site_, id);
    row(text(say::paper_rated_charge(name)), spec == nullptr ? Cell{Blank{}} : value_cell(spec->capacity_Ah, "Ah"),
        sheet(part));
    row(text(say::paper_blocks(name)),
        battery.blocks_in_parallel.known() ? said(std::to_string(*battery.blocks_in_parallel.value)) : Cell{Blank{}},
        "");
    const auto factor = electric::worst_temperature_factor(site_, electric::temperatures_of(site_, {battery.area}));
    const auto rule = chain::limit_of(site_, "battery_temperature_factor");
    row(text(say::paper_temperature_factor(name)), quantity_cell(factor, ""), source_words(rule.source, rule.verified));
  }

  /// Why it lasts less than charge over current: it is drawn faster than rated, the alarm has its part at the end, and
  /// what ends it leaves some in the battery.
  void account(const electric::ChargeAccount& share) {
    row(text(say::paper_standby_current_last()), figure(share.last.current_A, "A"),
        text(say::paper_from_the_circuit()));
    for (const auto& [id, battery] : site_.batteries)
      if (battery.supply.id == supply_) rate_of(id, battery);
    const Measure first{share.first.counted_A / share.first.current_A, ""},
        last{share.last.counted_A / share.last.current_A, ""};
    row(text(say::paper_rate_factor()), said(text(say::paper_from_to(lowest(first), highest(last)))),
        text(say::paper_rate_factor_is()));
    row(text(say::paper_counted_current()), figure(share.standby_share * run_.usable_Ah / run_.autonomy_h, "A"),
        text(say::paper_counted_current_is()));
    const chain::Limit alarm = chain::limit_of(site_, "alarm_duration_h");
    row(text(say::paper_kept_for_alarm({alarm.value.value_or(0.0) * 60.0, "min"}, highest({share.alarm.current_A, "A"}),
                                       highest({share.alarm.counted_A, "A"}))),
        at_most(share.alarm_share * run_.usable_Ah, "Ah"), source_words(alarm.source, alarm.verified));
    if (run_.ended_by != "empty")
      row(text(say::paper_left_in_battery(electric::ended_words(site_, run_.ended_by))),
          figure(share.unused_share * run_.usable_Ah, "Ah"), what_ends());
    row(text(say::paper_charge_for_standby()), figure(share.standby_share * run_.usable_Ah, "Ah"),
        text(say::paper_charge_for_standby_is()));
  }

  void rate_of(const std::string& id, const site::Battery& battery) {
    const site::Part* part = site::part_of(site_, battery.part);
    const site::BatterySpec* spec = site::spec_of(site_, battery.part, &site::Part::battery);
    if (spec == nullptr || !battery.blocks_in_parallel.known()) return;
    const std::string name = electric::thing_words(site_, id);
    const double blocks = static_cast<double>(*battery.blocks_in_parallel.value);
    row(text(say::paper_rated_current(name, {spec->rated_h.high, "h"})),
        figure(spec->capacity_Ah.low * blocks / spec->rated_h.high, "A"), sheet(part));
    row(text(say::paper_rate_exponent(name)), figure(spec->peukert_exponent.high, ""), sheet(part));
    row(text(say::paper_old_resistance(name)),
        figure(spec->internal_ohm.high * spec->internal_aged_factor.high / blocks, "ohm"), sheet(part));
  }

  /// The voltage at which the supply lets go of its battery, where that is what ends it.
  std::string what_ends() const {
    const site::Part* part = site::part_of(site_, site_.supplies.at(supply_).part);
    if (run_.ended_by != "cutoff" || part == nullptr || !part->supply) return {};
    return text(say::paper_cut_off_at({part->supply->cutoff_V.high, "V"}, sheet(part)));
  }

  const site::Site& site_;
  const electric::Discharge& run_;
  const std::string& supply_;
  Table table_;
};

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
    for (const chain::Gap& gap : run.discharge.gaps) missing.push_back(results::missing_words(findings.site, gap));
    if (!missing.empty()) {
      chapter.blocks.push_back(paper::Paragraph{text(say::paper_rests_on())});
      chapter.blocks.push_back(paper::List{missing});
    }
    if (run.discharge.points.empty()) continue;
    chapter.blocks.push_back(ChargeTable(findings, run).make());
    chapter.blocks.push_back(discharge_figure(ruler, findings.site, findings.supply(), run));
  }
  chapter.blocks.push_back(checks(findings));
  return chapter;
}

}  // namespace zoneproof::handover
