#include "handover/termination_schedule.hpp"

#include <algorithm>
#include <functional>

#include "base/message.hpp"
#include "electric/naming.hpp"
#include "handover/wire_tables.hpp"
#include "messages/handover.hpp"

namespace zoneproof::handover {

namespace {

/// One kind of table: the same columns for every unit.
struct Kind {
  const char* id;
  std::string title, says_empty;
  std::vector<paper::Column> columns;
  std::function<std::vector<paper::Row>(const std::string& unit)> rows;
};

std::vector<Kind> kinds_of(const WiringFacts& facts) {
  return {{"wires", text(say::title_trigger_wires()), text(say::no_trigger_wires()), trigger_columns(),
           [&](const std::string& unit) { return trigger_rows(facts, unit); }},
          {"terminals", text(say::title_terminals()), text(say::no_terminals()), panel_columns(),
           [&](const std::string& unit) { return panel_rows(facts.site, facts.answers, unit); }},
          {"arming", text(say::title_arming()), text(say::no_arming()), arming_columns(),
           [&](const std::string& unit) { return arming_rows(facts, unit); }},
          {"supply", text(say::title_supply()), "", supply_columns(),
           [&](const std::string& unit) { return supply_rows(facts, unit); }},
          {"back", text(say::title_way_back()), "", way_back_columns(),
           [&](const std::string& unit) { return way_back_rows(facts, unit); }}};
}

/// Triggers that are no wires, in words.
std::vector<std::string> without_wire(const site::Site& site, const std::string& unit) {
  std::vector<std::string> told;
  for (const std::string& id : triggers_in_order(site, unit, false)) {
    const site::Trigger& trigger = site.triggers.at(id);
    const std::string zone = !trigger.zone.known() && trigger.channel.known()
                                 ? text(say::live_channel(*trigger.channel.value))
                                 : electric::zone_words(site, trigger.zone.id);
    if (trigger.source.is(site::TriggerSource::camera_analytics)) told.push_back(text(say::by_analytics(zone)));
    if (trigger.source.is(site::TriggerSource::live_view)) told.push_back(text(say::by_live_view(zone)));
  }
  return told;
}

/// Zones with a wire to the unit that the order of work leaves alone.
std::vector<std::string> left_alone(const WiringFacts& facts, const std::string& unit) {
  const std::vector<std::string> triggers = triggers_in_order(facts.site, unit, true);
  std::vector<std::string> zones;
  for (const field::LeftAlone& left : facts.touched.left_alone())
    if (std::any_of(triggers.begin(), triggers.end(),
                    [&](const std::string& id) { return facts.site.triggers.at(id).zone.id == left.zone; }))
      zones.push_back(electric::zone_words(facts.site, left.zone));
  return zones;
}

void add_unit(paper::Chapter& chapter, const WiringFacts& facts, const std::string& unit) {
  const site::Site& site = facts.site;
  const std::vector<std::string> alone = left_alone(facts, unit);
  chapter.blocks.push_back(paper::Heading{2, electric::thing_words(site, unit), "termination-" + unit});
  for (const Kind& kind : kinds_of(facts)) {
    paper::Table table;
    table.id = std::string(kind.id) + "-of-" + unit;
    table.title = kind.title;
    table.columns = kind.columns;
    table.says_empty = kind.says_empty;
    table.groups.push_back({"", kind.rows(unit)});
    if (std::string_view(kind.id) == "wires" && any_by_meter(site, facts.answers, unit))
      table.notes.push_back(text(say::note_by_meter()));
    if (std::string_view(kind.id) == "wires" && !alone.empty())
      table.notes.push_back(text(say::note_left_alone(alone)));
    if (std::string_view(kind.id) == "back") table.notes.push_back(text(say::note_negative_last()));
    if (table.groups.front().rows.empty()) {  // a head without rows would say less than the sentence
      if (!kind.says_empty.empty()) chapter.blocks.push_back(paper::Paragraph{kind.says_empty});
      continue;
    }
    chapter.blocks.push_back(std::move(table));
  }
  const std::vector<std::string> told = without_wire(site, unit);
  if (!told.empty()) chapter.blocks.push_back(paper::List{told, false});
}

}  // namespace

paper::Chapter termination_schedule(const site::Site& site, const Answers& answers) {
  paper::Chapter chapter{"termination", text(say::chapter_termination()), {}};
  const WiringFacts facts(site, answers);
  chapter.blocks = {
      paper::Turn{true},
      paper::Caution{text(say::caution_word()),
                     {text(say::caution_licensed()), text(say::caution_mains()), text(say::caution_on_test())}},
      paper::Paragraph{text(say::termination_how_to_read())}, paper::Paragraph{text(say::termination_not_the_unit())}};
  if (site.units.empty()) chapter.blocks.push_back(paper::Paragraph{text(say::no_units())});
  for (const auto& entry : site.units) {
    if (entry.first != site.units.begin()->first) chapter.blocks.push_back(paper::NewPage{});
    add_unit(chapter, facts, entry.first);
  }
  if (std::vector<paper::Row> rows = other_join_rows(facts); !rows.empty()) {
    paper::Table table{"joins", text(say::title_other_joins()), supply_columns(), {{"", std::move(rows)}}};
    chapter.blocks.push_back(paper::Heading{2, text(say::title_other_joins()), "termination-joins"});
    table.title.clear();
    chapter.blocks.push_back(std::move(table));
  }
  return chapter;
}

std::vector<paper::Table> termination_tables(const site::Site& site, const Answers& answers) {
  const WiringFacts facts(site, answers);
  std::vector<paper::Table> tables;
  for (const Kind& kind : kinds_of(facts)) {
    paper::Table table{kind.id, kind.title, kind.columns, {}};
    table.grouped_by = text(say::column_unit());
    for (const auto& entry : site.units)
      table.groups.push_back({electric::thing_words(site, entry.first), kind.rows(entry.first)});
    tables.push_back(std::move(table));
  }
  return tables;
}

}  // namespace zoneproof::handover
