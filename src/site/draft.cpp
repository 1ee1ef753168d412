#include "site/draft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "base/json_pointer.hpp"
#include "base/utf8.hpp"
#include "messages/draft.hpp"
#include "site/csv.hpp"
#include "site/file.hpp"
#include "site/findings.hpp"
#include "site/made_id.hpp"
#include "site/relations.hpp"
#include "site/resistor_mark.hpp"
#include "site/shelf.hpp"
#include "site/site_record.hpp"
#include "site/unit.hpp"
#include "site/words.hpp"

namespace zoneproof::site {

namespace {

/// Other headings that offices use for a column.
struct OtherHeading {
  std::string_view heading, column;
};
constexpr std::array<OtherHeading, 12> kOtherHeadings = {{{"zone", "number"},
                                                          {"no", "number"},
                                                          {"zone_number", "number"},
                                                          {"zone_name", "name"},
                                                          {"zone_type", "type"},
                                                          {"loop", "arrangement"},
                                                          {"eol", "eol_ohm"},
                                                          {"detector_part", "detector"},
                                                          {"cable_part", "cable"},
                                                          {"cable_length_m", "cable_m"},
                                                          {"length_m", "cable_m"},
                                                          {"panel_input", "input"}}};

/// Short forms of the trade that mean one arrangement and no other. "EOL" alone does not.
struct ShortArrangement {
  std::string_view letters;
  Arrangement arrangement;
};
constexpr std::array<ShortArrangement, 4> kShortArrangements = {{{"nc", Arrangement::normally_closed},
                                                                 {"no", Arrangement::normally_open},
                                                                 {"deol", Arrangement::double_eol},
                                                                 {"teol", Arrangement::triple_eol}}};

std::string trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

/// Lower case, with blanks, points and hyphens as underscores: "Zone name" is zone_name.
std::string plain_word(std::string_view text) {
  std::string out;
  for (char letter : trimmed(text)) {
    const bool upper = letter >= 'A' && letter <= 'Z';
    const bool joins = letter == ' ' || letter == '-' || letter == '.';
    out += upper ? static_cast<char>(letter - 'A' + 'a') : joins ? '_' : letter;
  }
  return out;
}

template <class E>
std::vector<std::string> words_of() {
  return {Words<E>::all.begin(), Words<E>::all.end()};
}

class Draft {
 public:
  Draft(const std::string& file, const DraftRequest& request) : file_(file), request_(request), findings_(file) {}

  DraftResult make(std::string_view text) {
    CsvTable table = read_csv(text, file_, kMostZones + 1);
    result_.messages = std::move(table.messages);
    if (table.rows.size() < 2) {
      if (any_error(result_.messages)) return std::move(result_);
      return refused(say::draft_no_rows());
    }
    std::set<int> faulty;  // lines whose cells are not what was meant
    for (const Message& message : result_.messages) faulty.insert(message.place.line);
    choose();
    if (!read_header(table.rows.front())) return in_line_order();
    for (std::size_t i = 1; i < table.rows.size(); ++i) {
      if (faulty.count(table.rows[i].front().line) == 0) add_zone(table.rows[i]);
    }
    add_triggers();
    if (exact_resistors_ > 0 && !any_error(result_.messages)) note(say::draft_no_tolerance(exact_resistors_));
    finish();
    return in_line_order();
  }

 private:
  using Row = std::vector<CsvCell>;

  // ---- Complaints --------------------------------------------------------------------------------------------------
  Place place_of(const CsvCell& cell) const { return {file_, "", cell.line, cell.column, false}; }
  void complain(Message message, const CsvCell& cell) {
    if (result_.messages.size() < kMostMessages) result_.messages.push_back(std::move(message).at(place_of(cell)));
  }
  void note(Message message) { result_.messages.push_back(std::move(message)); }
  DraftResult refused(Message message) {
    result_.messages.push_back(std::move(message).at({file_, "", 0, 0, false}));
    return std::move(result_);
  }

  /// What belongs to no line first.
  DraftResult in_line_order() {
    std::stable_sort(result_.messages.begin(), result_.messages.end(), [](const Message& a, const Message& b) {
      return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
    });
    return std::move(result_);
  }

  // ---- Choices -----------------------------------------------------------------------------------------------------
  /// The part that an id names: the person's own, else a copy of the shelf's.
  std::optional<Part> named_part(const std::string& id) const {
    const auto own = request_.own_parts.find(id);
    return own == request_.own_parts.end() ? part_for_site(id) : own->second;
  }

  /// Ids, own and of the shelf, of parts of these kinds.
  std::vector<std::string> part_ids(const std::vector<PartKind>& kinds) const {
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

  /// Copies a part into the site; false, with a message, where there is none of a kind that fits.
  bool take_part(const std::string& id, const std::vector<PartKind>& kinds, const CsvCell* cell) {
    const auto say_it = [&](Message message) {
      if (cell != nullptr) {
        complain(std::move(message), *cell);
      } else {
        note(std::move(message));
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

  void choose() {
    site_.name = request_.name;
    if (!request_.origin.empty()) {
      site_.origin = from_word<Origin>(request_.origin);
      if (!site_.origin) note(say::draft_option_word(request_.origin, "--origin", words_of<Origin>()));
    }
    if (request_.units && request_.unit.empty()) note(say::draft_option_alone("--units", "--unit"));
    if (!request_.battery.empty() && request_.supply.empty()) note(say::draft_option_alone("--battery", "--supply"));
    choose_rulebook();
    choose_supply();
    choose_panel();
    choose_units();
  }

  /// The grades for which a book has entries of their own ("standby_h_grade_2").
  static std::set<long long> grades_of(const Rulebook& book) {
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

  /// A grade that the book does not know would leave it to be judged without one, in silence.
  void choose_grade(const Rulebook& book) {
    const std::set<long long> grades = grades_of(book);
    std::vector<std::string> known;
    for (long long grade : grades) known.push_back(std::to_string(grade));
    if (!request_.grade && !grades.empty()) note(say::draft_grade_open(request_.rulebook, known));
    if (!request_.grade || grades.count(*request_.grade) != 0) return;
    if (grades.empty()) return note(say::draft_no_grades(request_.rulebook));
    note(say::draft_grade_unknown(request_.rulebook, *request_.grade, known));
  }

  void choose_rulebook() {
    site_.rulebook.grade.value = request_.grade;
    if (request_.rulebook.empty()) {
      if (request_.grade) note(say::draft_grade_alone());
      return;
    }
    std::optional<Rulebook> book = rulebook_for_site(request_.rulebook);
    if (!book) {
      std::vector<std::string> known;
      for (const auto& entry : rulebook_shelf()) known.push_back(entry.first);
      return note(say::draft_option_word(request_.rulebook, "--rulebook", known));
    }
    choose_grade(*book);
    site_.rulebook.book.id = request_.rulebook;
    site_.rulebooks.emplace(request_.rulebook, std::move(*book));
  }

  void choose_supply() {
    if (!request_.supply.empty() && take_part(request_.supply, {PartKind::supply}, nullptr)) {
      supply_ = ids_.make("supply");
      site_.supplies[supply_].part.id = request_.supply;
    }
    if (!request_.battery.empty() && take_part(request_.battery, {PartKind::battery}, nullptr)) {
      Battery& battery = site_.batteries[ids_.make("battery")];
      battery.part.id = request_.battery;
      battery.supply.id = supply_;
    }
  }

  /// From the chosen supply; which of its outputs is known only where it has one.
  Feed feed() const {
    Feed feed;
    feed.from.id = supply_;
    if (supply_.empty()) return feed;
    const auto& outputs = site_.parts.at(request_.supply).supply->outputs;
    if (outputs.size() == 1) feed.output = outputs.begin()->first;
    return feed;
  }

  void choose_panel() {
    panel_ = ids_.make("panel");
    Panel& panel = site_.panels[panel_];
    panel.feed = feed();
    if (!request_.panel.empty() && take_part(request_.panel, {PartKind::panel, PartKind::expander}, nullptr)) {
      panel.part.id = request_.panel;
    }
    if (!request_.zone_terminal.empty() && take_part(request_.zone_terminal, {PartKind::zone_terminal}, nullptr)) {
      panel.zone_terminal.id = request_.zone_terminal;
    }
  }

  void choose_units() {
    if (request_.unit.empty() || !take_part(request_.unit, {PartKind::unit}, nullptr)) return;
    const long long units = request_.units.value_or(1);
    for (long long i = 1; i <= units; ++i) {
      const std::string id = ids_.make(units == 1 ? "unit" : fmt::format("unit_{}", i));
      Unit& unit = site_.units[id];
      unit.part.id = request_.unit;
      unit.feed = feed();
      units_.push_back(id);
    }
  }

  // ---- The table ---------------------------------------------------------------------------------------------------
  bool read_header(const Row& row) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      std::string column = plain_word(row[i].text);
      for (const OtherHeading& other : kOtherHeadings) {
        if (column == other.heading) column = other.column;
      }
      const std::vector<std::string>& known = draft_columns();
      if (std::find(known.begin(), known.end(), column) == known.end()) {
        const std::string near = findings_.nearest(column, known);
        complain(near.empty() ? say::draft_column(row[i].text, known) : say::draft_column_near(row[i].text, near),
                 row[i]);
      } else if (!columns_.emplace(column, i).second) {
        complain(say::draft_column_twice(column), row[i]);
      }
    }
    const bool zones_told_apart = columns_.count("number") != 0 || columns_.count("name") != 0;
    if (!zones_told_apart) complain(say::draft_no_zone_column(), row.front());
    return zones_told_apart;
  }

  /// The cell of a column, or null where the table has no such column or the cell is empty.
  const CsvCell* cell(const Row& row, const char* column) const {
    const auto found = columns_.find(column);
    if (found == columns_.end() || found->second >= row.size()) return nullptr;
    if (trimmed(row[found->second].text).empty()) return nullptr;
    return &row[found->second];
  }
  std::string words(const Row& row, const char* column) const {
    const CsvCell* found = cell(row, column);
    return found != nullptr ? trimmed(found->text) : "";
  }

  std::optional<long long> count(const Row& row, const char* column) {
    const CsvCell* found = cell(row, column);
    if (found == nullptr) return std::nullopt;
    const std::string text = trimmed(found->text);
    if (text.size() > 9 || text.find_first_not_of("0123456789") != std::string::npos) {
      complain(say::draft_not_whole(text, column), *found);
      return std::nullopt;
    }
    return std::stoll(text);
  }

  std::optional<bool> flag(const Row& row, const char* column) {
    const CsvCell* found = cell(row, column);
    if (found == nullptr) return std::nullopt;
    const std::string word = plain_word(found->text);
    if (word == "yes" || word == "true" || word == "1") return true;
    if (word == "no" || word == "false" || word == "0") return false;
    complain(say::draft_not_yes_or_no(trimmed(found->text), column), *found);
    return std::nullopt;
  }

  template <class E>
  std::optional<E> word(const Row& row, const char* column) {
    const CsvCell* found = cell(row, column);
    if (found == nullptr) return std::nullopt;
    const std::string text = plain_word(found->text);
    const std::optional<E> value = from_word<E>(text);
    if (!value) complain(say::draft_word(trimmed(found->text), column, words_of<E>()), *found);
    return value;
  }

  std::optional<Arrangement> arrangement(const Row& row) {
    const std::string text = plain_word(words(row, "arrangement"));
    for (const ShortArrangement& known : kShortArrangements) {
      if (text == known.letters) return known.arrangement;
    }
    return word<Arrangement>(row, "arrangement");
  }

  /// A number in a unit; "none" where that is an answer.
  Value number(const Row& row, const char* column, std::string_view unit) {
    Value value;
    const CsvCell* found = cell(row, column);
    if (found == nullptr) return value;
    if (const auto read = number_in_text(trimmed(found->text), unit)) return known(*read, std::nullopt);
    complain(say::draft_not_a_number(trimmed(found->text), column, std::string(unit)), *found);
    return value;
  }

  static Value known(double number, std::optional<double> tolerance_pct) {
    Value value;
    value.state = Value::State::known;
    value.nominal = value.low = value.high = number;
    if (!tolerance_pct) return value;
    value.spread = Spread::tolerance_pct;
    value.stated_plus = value.stated_minus = *tolerance_pct;
    value.low = number * (1.0 - *tolerance_pct / 100.0);
    value.high = number * (1.0 + *tolerance_pct / 100.0);
    return value;
  }

  /// A resistor by its code or as a number; its tolerance from the code, else from the row.
  Value resistor(const Row& row, const char* column, std::optional<double> row_tolerance) {
    const CsvCell* found = cell(row, column);
    if (found == nullptr) return {};
    const std::string text = trimmed(found->text);
    std::optional<ResistorMark> mark = resistor_mark(text);
    if (!mark) {
      if (const auto read = number_in_text(text, "ohm")) mark = ResistorMark{*read, std::nullopt};
    }
    if (!mark) {
      complain(say::draft_not_a_resistor(text, column), *found);
      return {};
    }
    const std::optional<double> tolerance = mark->tolerance_pct ? mark->tolerance_pct : row_tolerance;
    exact_resistors_ += tolerance ? 0 : 1;
    return known(mark->ohm, tolerance);
  }

  /// The object of a collection that has this name, made where it is new.
  template <class T>
  std::string named(Map<T>& collection, std::map<std::string, std::string>& by_name, const std::string& name) {
    const auto [found, added] = by_name.emplace(name, "");
    if (added) {
      found->second = ids_.make(name);
      collection[found->second].name = name;
    }
    return found->second;
  }

  /// What a row says of its zone's trigger.
  struct Planned {
    std::string zone;
    std::optional<TriggerSource> source;
    std::optional<long long> input, channel;
    const Row* row;

    bool stated() const { return source || input || channel; }
    bool wired() const { return source != TriggerSource::camera_analytics && source != TriggerSource::live_view; }
  };

  // ---- Zones -------------------------------------------------------------------------------------------------------
  void add_zone(const Row& row) {
    const std::optional<long long> number = count(row, "number");
    const std::string name = words(row, "name");
    if (number && !numbers_.emplace(*number, row.front().line).second) {
      complain(say::draft_number_twice(*number, numbers_.at(*number)), *cell(row, "number"));
    }
    if (!number && name.empty()) return complain(say::draft_nameless(), row.front());
    const std::string id = ids_.make(name.empty() ? fmt::format("zone_{}", *number) : name);
    Zone zone;
    zone.number.value = number;
    zone.name = name;
    zone.type.value = word<ZoneType>(row, "type");
    zone.input.value = count(row, "input");
    zone.panel.id = panel_;
    if (const std::string partition = words(row, "partition"); !partition.empty()) {
      zone.partition.id = named(site_.partitions, partitions_, partition);
    }
    const std::string area = words(row, "area").empty() ? "" : named(site_.areas, areas_, words(row, "area"));
    zone.loop = loop(row, id, area);
    zone.medium.value = medium(row, zone.loop);
    remember(row, id);
    order_.push_back({id, word<TriggerSource>(row, "trigger"), count(row, "unit_input"), count(row, "channel"), &row});
    refuse_tap(zone, order_.back());
    site_.zones.emplace(id, std::move(zone));
  }

  /// A wire on such a circuit can stop it from calling help.
  void refuse_tap(const Zone& zone, const Planned& planned) {
    if (planned.source != TriggerSource::loop_tap) return;
    if (!zone.type.is(ZoneType::fire) && !zone.type.is(ZoneType::hold_up)) return;
    complain(say::draft_never_tap(std::string(word_of(*zone.type.value))), *cell(*planned.row, "trigger"));
  }

  /// A row that tells of a pair of wires is of a wired zone.
  std::optional<Medium> medium(const Row& row, const Loop& loop) {
    if (const auto told = word<Medium>(row, "medium"); told || cell(row, "medium") != nullptr) return told;
    const bool pair =
        loop.arrangement.known() || loop.eol_ohm.known() || loop.alarm_ohm.known() || loop.mask_ohm.known();
    return pair ? std::optional(Medium::wired) : std::nullopt;
  }

  Loop loop(const Row& row, const std::string& zone, const std::string& area) {
    Loop loop;
    loop.arrangement.value = arrangement(row);
    std::optional<double> tolerance;
    if (const Value told = number(row, "tolerance_pct", "pct"); told.known()) tolerance = told.nominal;
    loop.eol_ohm = resistor(row, "eol_ohm", tolerance);
    loop.alarm_ohm = resistor(row, "alarm_ohm", tolerance);
    loop.mask_ohm = resistor(row, "mask_ohm", tolerance);
    loop.eol_place.value = word<EolPlace>(row, "eol_place");
    loop.contacts_complete.value = flag(row, "contacts_complete");
    const std::array<const Value*, 3> resistors = {&loop.eol_ohm, &loop.alarm_ohm, &loop.mask_ohm};
    if (tolerance && std::none_of(resistors.begin(), resistors.end(),
                                  [&](const Value* ohm) { return ohm->spread == Spread::tolerance_pct; })) {
      result_.messages.push_back(say::draft_tolerance_alone().at(place_of(*cell(row, "tolerance_pct"))));
    }
    add_cable(row, zone, area, loop);
    add_detector(row, zone, area, loop);
    return loop;
  }

  void add_cable(const Row& row, const std::string& zone, const std::string& area, Loop& loop) {
    const CsvCell* part = cell(row, "cable");
    if (part == nullptr && cell(row, "cable_m") == nullptr) return;
    if (part != nullptr && plain_word(part->text) == "none") {
      if (const CsvCell* length = cell(row, "cable_m")) complain(say::draft_length_of_none(), *length);
      loop.cable.id = "none";
      return;
    }
    const std::string id = ids_.make(zone + "_cable");
    Cable& cable = site_.cables[id];
    cable.length_m = number(row, "cable_m", "m");
    if (part != nullptr && take_part(trimmed(part->text), {PartKind::cable}, part)) cable.part.id = trimmed(part->text);
    if (!area.empty()) cable.areas.push_back({area, ""});
    loop.cable.id = id;
  }

  /// The zone's detector with those contacts that the arrangement puts on the pair.
  void add_detector(const Row& row, const std::string& zone, const std::string& area, Loop& loop) {
    const CsvCell* part = cell(row, "detector");
    if (part == nullptr || !take_part(trimmed(part->text), {PartKind::detector}, part)) return;
    const std::string id = ids_.make(zone + "_detector");
    Detector& detector = site_.detectors[id];
    detector.part.id = trimmed(part->text);
    detector.area.id = area;
    const DetectorSpec& spec = *site_.parts.at(detector.part.id).detector;
    if (spec.supply_min_V.none()) detector.feed.from.id = "none";
    const bool tamper = loop.arrangement.is(Arrangement::double_eol) || loop.arrangement.is(Arrangement::triple_eol);
    add_contact(loop, id, spec, "alarm", ContactRole::alarm, loop.arrangement.known());
    add_contact(loop, id, spec, "tamper", ContactRole::tamper, tamper);
    add_contact(loop, id, spec, "mask", ContactRole::mask, loop.arrangement.is(Arrangement::triple_eol));
  }

  static void add_contact(Loop& loop, const std::string& detector, const DetectorSpec& spec, const std::string& contact,
                          ContactRole role, bool on_the_pair) {
    if (!on_the_pair || spec.contacts.count(contact) == 0) return;
    LoopContact& entry = loop.contacts[contact];
    entry.detector.id = detector;
    entry.contact = contact;
    entry.role.value = role;
  }

  /// Where a person has to look when the finished site is refused for something of this row.
  void remember(const Row& row, const std::string& zone) {
    const std::string pointer = pointer_child("/zones", zone);
    places_[pointer] = place_of(row.front());
    for (const char* column : {"number", "name", "type", "input", "medium", "partition"}) {
      if (const CsvCell* found = cell(row, column)) places_[pointer_child(pointer, column)] = place_of(*found);
    }
    for (const char* column : {"arrangement", "eol_ohm", "alarm_ohm", "mask_ohm", "eol_place"}) {
      if (const CsvCell* found = cell(row, column)) places_[pointer + "/loop/" + column] = place_of(*found);
    }
    if (const CsvCell* found = cell(row, "cable_m")) places_["/cables/" + zone + "_cable/length_m"] = place_of(*found);
  }

  // ---- Triggers ----------------------------------------------------------------------------------------------------
  /// Fire and hold-up circuits are never tapped, technical and access zones want no picture: if one is wanted all the
  /// same, a person says with which source.
  bool wants_trigger(const Zone& zone, const Planned& planned) const {
    if (planned.stated()) return true;
    if (units_.empty()) return false;
    if (!zone.type.known()) return true;
    const ZoneType type = *zone.type.value;
    return type != ZoneType::fire && type != ZoneType::technical && type != ZoneType::access &&
           type != ZoneType::hold_up;
  }

  const UnitSpec* unit_spec() const { return units_.empty() ? nullptr : &*site_.parts.at(request_.unit).unit; }

  /// Inputs that rows name; told where the unit has no such input, or where there are several units to choose from.
  std::set<std::pair<std::size_t, long long>> stated_inputs(long long inputs) {
    std::set<std::pair<std::size_t, long long>> used;
    for (const Planned& planned : order_) {
      if (!planned.input || units_.empty()) continue;
      const CsvCell& typed = *cell(*planned.row, "unit_input");
      if (inputs > 0 && (*planned.input < 1 || *planned.input > inputs)) {
        complain(say::draft_no_such_input(*planned.input, request_.unit, inputs), typed);
      } else if (units_.size() > 1) {
        result_.messages.push_back(
            say::draft_input_of_which_unit(static_cast<long long>(units_.size())).at(place_of(typed)));
      } else {
        used.insert({0, *planned.input});
      }
    }
    return used;
  }

  void add_triggers() {
    const UnitSpec* spec = unit_spec();
    const long long inputs = spec == nullptr ? 0 : spec->inputs.value.value_or(0);
    const std::set<std::pair<std::size_t, long long>> used = stated_inputs(inputs);
    std::vector<std::string> without;
    for (const Planned& planned : order_) {
      if (!wants_trigger(site_.zones.at(planned.zone), planned)) continue;
      std::pair<std::size_t, long long> place = {0, 0};
      if (units_.empty() || (planned.input && units_.size() > 1)) {
        add_trigger(planned, "", planned.input);
      } else if (planned.input || !planned.wired()) {
        add_trigger(planned, units_.size() == 1 ? units_.front() : "", planned.input);
      } else if (next_free(used, inputs, place)) {
        add_trigger(planned, units_[place.first], place.second);
      } else {
        without.push_back(planned.zone);
        if (planned.stated()) add_trigger(planned, "", std::nullopt);
      }
    }
    if (units_.empty() || any_error(result_.messages)) return;
    if (inputs == 0) note(say::draft_inputs_unknown(request_.unit));
    if (inputs != 0 && !without.empty()) {
      note(say::draft_no_room(inputs * static_cast<long long>(units_.size()), static_cast<long long>(without.size()),
                              without));
    }
  }

  /// The first input that nobody asked for, in the order of units and inputs.
  bool next_free(const std::set<std::pair<std::size_t, long long>>& used, long long inputs,
                 std::pair<std::size_t, long long>& place) {
    for (; next_.first < units_.size(); next_ = {next_.first + 1, 1}) {
      for (; next_.second <= inputs; ++next_.second) {
        if (used.count(next_) != 0) continue;
        place = next_;
        ++next_.second;
        return true;
      }
    }
    return false;
  }

  /// Empty unit, no input: unknown.
  void add_trigger(const Planned& planned, const std::string& unit, std::optional<long long> input) {
    const Zone& zone = site_.zones.at(planned.zone);
    const std::string id = ids_.make(planned.zone + "_trigger");
    Trigger& trigger = site_.triggers[id];
    trigger.zone.id = planned.zone;
    trigger.unit.id = unit;
    trigger.source.value = planned.source;
    trigger.input.value = input;
    trigger.channel.value = planned.channel;
    const UnitSpec* spec = unit.empty() ? nullptr : unit_spec();
    const bool fixed = spec != nullptr && spec->channel_binding.is(ChannelBinding::fixed);
    if (!planned.channel && planned.wired() && fixed) trigger.channel.value = input;
    if (planned.source == TriggerSource::loop_tap && zone.input.known()) {
      trigger.at_panel.id = panel_;
      trigger.at_input = zone.input;
    }
    const std::string pointer = pointer_child("/triggers", id);
    places_[pointer] = place_of(planned.row->front());
    for (const auto& [column, key] :
         {std::pair("trigger", "source"), std::pair("unit_input", "input"), std::pair("channel", "channel")}) {
      if (const CsvCell* found = cell(*planned.row, column)) places_[pointer_child(pointer, key)] = place_of(*found);
    }
  }

  // ---- The end -----------------------------------------------------------------------------------------------------
  /// Read as any other site file: what a check refuses is told at the row that it comes from.
  void finish() {
    ReadResult read = read_site(write_site(site_), file_);
    for (Message& message : read.messages) {
      std::string pointer = message.place.pointer;
      while (!pointer.empty() && places_.count(pointer) == 0) pointer = pointer_parent(pointer);
      const auto place = places_.find(pointer);
      message.place = place != places_.end() ? place->second : Place{file_, message.place.pointer, 0, 0, false};
      result_.messages.push_back(std::move(message));
    }
    if (!any_error(result_.messages)) result_.site = std::move(read.site);
  }

  static constexpr std::size_t kMostMessages = 200;

  const std::string& file_;
  const DraftRequest& request_;
  Findings findings_;  ///< for its spelling only
  DraftResult result_;
  Site site_;
  MadeIds ids_;
  std::string supply_, panel_;
  std::vector<std::string> units_;
  std::pair<std::size_t, long long> next_ = {0, 1};  ///< unit and input to be given out next
  std::map<std::string, std::size_t> columns_;
  std::map<std::string, std::string> partitions_, areas_;
  std::map<long long, long long> numbers_;
  std::vector<Planned> order_;
  std::map<std::string, Place> places_;
  long long exact_resistors_ = 0;
};

}  // namespace

const std::vector<std::string>& draft_columns() {
  static const std::vector<std::string> columns = {
      "number",   "name",          "type",        "partition",  "area",
      "medium",   "input",         "arrangement", "eol_ohm",    "alarm_ohm",
      "mask_ohm", "tolerance_pct", "eol_place",   "detector",   "contacts_complete",
      "cable",    "cable_m",       "trigger",     "unit_input", "channel"};
  return columns;
}

DraftResult draft_site(std::string_view table, const std::string& file, const DraftRequest& request) {
  return Draft(file, request).make(table);
}

}  // namespace zoneproof::site
