#include "site/draft_choices.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "site/shelf.hpp"

namespace zoneproof::site {

namespace {

/// The grades for which a book has entries of their own ("standby_h_grade_2").
std::set<long long> grades_of(const Rulebook& book) {
  constexpr std::string_view mark = "_grade_";
  std::set<long long> grades;
  for (const auto& entry : book.entries) {
    const std::size_t at = entry.first.rfind(mark);
    if (at == std::string::npos) continue;
    const std::string digits = entry.first.substr(at + mark.size());
    if (digits.size() == 1 && digits.find_first_of("123456789") == 0) grades.insert(digits.front() - '0');
  }
  return grades;
}

}  // namespace

DraftChoices::DraftChoices(const DraftRequest& request, Site& site, MadeIds& ids, DraftMessages& messages)
    : request_(request), site_(site), ids_(ids), messages_(messages), findings_(messages.file()) {
  site_.name = request_.name;
  if (!request_.origin.empty()) {
    site_.origin = from_word<Origin>(request_.origin);
    if (!site_.origin) messages_.note(say::draft_option_word(request_.origin, "--origin", words_of<Origin>()));
  }
  if (request_.units && request_.unit.empty()) messages_.note(say::draft_option_alone("--units", "--unit"));
  if (!request_.battery.empty() && request_.supply.empty())
    messages_.note(say::draft_option_alone("--battery", "--supply"));
  choose_rulebook();
  choose_supply();
  choose_panel();
  choose_units();
}

/// The part that an id names: the person's own, else a copy of the shelf's.
std::optional<Part> DraftChoices::named_part(const std::string& id) const {
  const auto own = request_.own_parts.find(id);
  return own == request_.own_parts.end() ? part_for_site(id) : own->second;
}

/// Ids, own and of the shelf, of parts of these kinds.
std::vector<std::string> DraftChoices::part_ids(const std::vector<PartKind>& kinds) const {
  std::vector<std::string> ids;
  for (const Map<Part>* parts : {&request_.own_parts, &parts_shelf()}) {
    for (const auto& [id, part] : *parts) {
      for (PartKind kind : kinds) {
        if (part.kind.is(kind)) ids.push_back(id);
      }
    }
  }
  return ids;
}

bool DraftChoices::take_part(const std::string& id, const std::vector<PartKind>& kinds, const CsvCell* cell) {
  const auto say_it = [&](Message message) {
    if (cell != nullptr) {
      messages_.complain(std::move(message), *cell);
    } else {
      messages_.note(std::move(message));
    }
    return false;
  };
  const std::string kind(word_of(kinds.front()));
  if (const auto there = site_.parts.find(id); there != site_.parts.end() && there->second.kind.is(kinds.front()))
    return true;
  std::optional<Part> part = named_part(id);
  if (!part) {
    const std::string near = findings_.nearest(id, part_ids(kinds));
    return say_it(near.empty() ? say::draft_no_part(id, kind) : say::draft_no_part_near(id, kind, near));
  }
  if (std::none_of(kinds.begin(), kinds.end(), [&](PartKind one) { return part->kind.is(one); })) {
    return say_it(say::draft_part_kind(id, part->kind.known() ? std::string(word_of(*part->kind.value)) : "", kind));
  }
  site_.parts.emplace(id, std::move(*part));
  return true;
}

/// A grade that the book does not know would leave it to be judged without one, in silence.
void DraftChoices::choose_grade(const Rulebook& book) {
  const std::set<long long> grades = grades_of(book);
  std::vector<std::string> known;
  for (long long grade : grades) known.push_back(std::to_string(grade));
  if (!request_.grade && !grades.empty()) messages_.note(say::draft_grade_open(request_.rulebook, known));
  if (!request_.grade || grades.count(*request_.grade) != 0) return;
  if (grades.empty()) return messages_.note(say::draft_no_grades(request_.rulebook));
  messages_.note(say::draft_grade_unknown(request_.rulebook, *request_.grade, known));
}

void DraftChoices::choose_rulebook() {
  site_.rulebook.grade.value = request_.grade;
  if (request_.rulebook.empty()) {
    if (request_.grade) messages_.note(say::draft_grade_alone());
    return;
  }
  std::optional<Rulebook> book = rulebook_for_site(request_.rulebook);
  if (!book) {
    std::vector<std::string> known;
    for (const auto& entry : rulebook_shelf()) known.push_back(entry.first);
    return messages_.note(say::draft_option_word(request_.rulebook, "--rulebook", known));
  }
  choose_grade(*book);
  site_.rulebook.book.id = request_.rulebook;
  site_.rulebooks.emplace(request_.rulebook, std::move(*book));
}

void DraftChoices::choose_supply() {
  if (!request_.supply.empty() && take_part(request_.supply, {PartKind::supply}, nullptr)) {
    supply_ = ids_.make("supply");
    site_.supplies[supply_].part.id = request_.supply;
    site_.supplies[supply_].name = text(say::name_of_supply());
  }
  if (!request_.battery.empty() && take_part(request_.battery, {PartKind::battery}, nullptr)) {
    Battery& battery = site_.batteries[ids_.make("battery")];
    battery.part.id = request_.battery;
    battery.name = text(say::name_of_battery());
    battery.supply.id = supply_;
  }
}

/// From the chosen supply; which of its outputs is known only where it has one.
Feed DraftChoices::feed() const {
  Feed feed;
  feed.from.id = supply_;
  if (supply_.empty()) return feed;
  const auto& outputs = site_.parts.at(request_.supply).supply->outputs;
  if (outputs.size() == 1) feed.output = outputs.begin()->first;
  return feed;
}

void DraftChoices::choose_panel() {
  panel_ = ids_.make("panel");
  Panel& panel = site_.panels[panel_];
  panel.name = text(say::name_of_panel());
  panel.feed = feed();
  if (!request_.panel.empty() && take_part(request_.panel, {PartKind::panel, PartKind::expander}, nullptr)) {
    panel.part.id = request_.panel;
  }
  if (!request_.zone_terminal.empty() && take_part(request_.zone_terminal, {PartKind::zone_terminal}, nullptr)) {
    panel.zone_terminal.id = request_.zone_terminal;
  }
}

void DraftChoices::choose_units() {
  if (request_.unit.empty() || !take_part(request_.unit, {PartKind::unit}, nullptr)) return;
  const long long units = request_.units.value_or(1);
  for (long long i = 1; i <= units; ++i) {
    const std::string id = ids_.make(units == 1 ? "unit" : fmt::format("unit_{}", i));
    Unit& unit = site_.units[id];
    unit.name = text(i == 1 ? say::name_of_unit() : say::name_of_further_unit(i));
    unit.part.id = request_.unit;
    unit.feed = feed();
    units_.push_back(id);
  }
}

const UnitSpec* DraftChoices::unit_spec() const {
  return units_.empty() ? nullptr : &*site_.parts.at(request_.unit).unit;
}

}  // namespace zoneproof::site
