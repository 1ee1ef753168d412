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
#include "site/draft_choices.hpp"
#include "site/draft_table.hpp"
#include "site/field.hpp"
#include "site/file.hpp"
#include "site/made_id.hpp"
#include "site/site_record.hpp"
#include "site/words.hpp"

namespace zoneproof::site {

namespace {

class Draft {
 public:
  Draft(const std::string& file, const DraftRequest& request)
      : file_(file), request_(request), messages_(file), table_(messages_), choices_(request, site_, ids_, messages_) {}

  DraftResult make(std::string_view text) {
    CsvTable table = read_csv(text, file_, kMostZones + 1);
    const bool unread = table.rows.size() < 2;
    if (unread && !any_error(table.messages)) {
      table.messages.push_back(say::draft_no_rows().at({file_, "", 0, 0, false}));
    }
    if (unread) return {std::nullopt, std::move(table.messages)};
    std::set<int> faulty;  // lines whose cells are not what was meant
    for (const Message& message : table.messages) faulty.insert(message.place.line);
    messages_.all.insert(messages_.all.begin(), table.messages.begin(), table.messages.end());
    if (table.separator != ',') table_.commas_are_free();
    if (table_.read_header(table.rows.front())) {
      for (std::size_t i = 1; i < table.rows.size(); ++i) {
        if (faulty.count(table.rows[i].front().line) == 0) add_zone(table.rows[i]);
      }
      add_triggers();
      if (table_.exact_resistors() > 0 && !any_error(messages_.all))
        messages_.note(say::draft_no_tolerance(table_.exact_resistors()));
      finish();
    } else {
      only_of_header(table.rows.front().front().line);
    }
    messages_.sort_by_line();
    return {std::move(made_), std::move(messages_.all)};
  }

 private:
  /// Below a header that is none, faults of rows say nothing.
  void only_of_header(int line) {
    auto& all = messages_.all;
    all.erase(std::remove_if(all.begin(), all.end(), [&](const Message& one) { return one.place.line > line; }),
              all.end());
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

  /// A zone by its id, and as people call it.
  struct ZoneName {
    std::string id, words;
  };

  /// What a row says of its zone's trigger.
  struct Planned {
    std::string zone;
    std::optional<TriggerSource> source;
    std::optional<long long> input, channel;
    const DraftRow* row;

    bool stated() const { return source || input || channel; }
    bool wired() const { return source != TriggerSource::camera_analytics && source != TriggerSource::live_view; }
  };

  // ---- Zones -------------------------------------------------------------------------------------------------------
  void add_zone(const DraftRow& row) {
    const std::optional<long long> number = table_.count(row, "number");
    const std::string name = table_.words(row, "name");
    const bool twice = number && !numbers_.emplace(*number, row.front().line).second;
    if (twice) {
      messages_.complain(say::draft_number_twice(*number, numbers_.at(*number)), *table_.cell(row, "number"));
    }
    if (!number && name.empty()) return messages_.complain(say::draft_nameless(), row.front());
    const std::string id = ids_.make(name.empty() ? fmt::format("zone_{}", *number) : name);
    Zone zone;
    if (!twice) zone.number.value = number;  // told once is enough
    zone.name = name;
    zone.type.value = table_.word<ZoneType>(row, "type");
    zone.input.value = table_.count(row, "input");
    zone.panel.id = choices_.panel();
    if (const std::string partition = table_.words(row, "partition"); !partition.empty()) {
      zone.partition.id = named(site_.partitions, partitions_, partition);
    }
    const std::string area =
        table_.words(row, "area").empty() ? "" : named(site_.areas, areas_, table_.words(row, "area"));
    zone.loop = loop(row, {id, name.empty() ? text(say::zone_by_number(*number)) : name}, area);
    zone.medium.value = medium(row, zone.loop);
    remember(row, id);
    order_.push_back({id, table_.word<TriggerSource>(row, "trigger"), table_.count(row, "unit_input"),
                      table_.count(row, "channel"), &row});
    refuse_tap(zone, order_.back());
    site_.zones.emplace(id, std::move(zone));
  }

  /// A wire on such a circuit can stop it from calling help.
  void refuse_tap(const Zone& zone, const Planned& planned) {
    if (planned.source != TriggerSource::loop_tap) return;
    if (!zone.type.is(ZoneType::fire) && !zone.type.is(ZoneType::hold_up)) return;
    messages_.complain(say::draft_never_tap(std::string(word_of(*zone.type.value))),
                       *table_.cell(*planned.row, "trigger"));
  }

  /// A row that tells of a pair of wires is of a wired zone.
  std::optional<Medium> medium(const DraftRow& row, const Loop& loop) {
    if (const auto told = table_.word<Medium>(row, "medium"); told || table_.cell(row, "medium") != nullptr)
      return told;
    const bool pair =
        loop.arrangement.known() || loop.eol_ohm.known() || loop.alarm_ohm.known() || loop.mask_ohm.known();
    return pair ? std::optional(Medium::wired) : std::nullopt;
  }

  Loop loop(const DraftRow& row, const ZoneName& zone, const std::string& area) {
    Loop loop;
    loop.arrangement.value = table_.arrangement(row);
    std::optional<double> tolerance;
    if (const Value told = table_.number(row, "tolerance_pct", "pct"); told.known()) tolerance = told.nominal;
    loop.eol_ohm = table_.resistor(row, "eol_ohm", tolerance);
    loop.alarm_ohm = table_.resistor(row, "alarm_ohm", tolerance);
    loop.mask_ohm = table_.resistor(row, "mask_ohm", tolerance);
    loop.eol_place.value = table_.word<EolPlace>(row, "eol_place");
    loop.contacts_complete.value = table_.flag(row, "contacts_complete");
    const std::array<const Value*, 3> resistors = {&loop.eol_ohm, &loop.alarm_ohm, &loop.mask_ohm};
    if (tolerance && std::none_of(resistors.begin(), resistors.end(),
                                  [&](const Value* ohm) { return ohm->spread == Spread::tolerance_pct; })) {
      messages_.tell(say::draft_tolerance_alone(), *table_.cell(row, "tolerance_pct"));
    }
    add_cable(row, zone, area, loop);
    add_detector(row, zone, area, loop);
    return loop;
  }

  /// A name that is made of a person's, where the format has room for it; else none.
  static std::string made_name(const Message& words) {
    const std::string name = text(words);
    return utf8_length(name) <= Field().longest ? name : "";
  }

  void add_cable(const DraftRow& row, const ZoneName& zone, const std::string& area, Loop& loop) {
    const CsvCell* part = table_.cell(row, "cable");
    if (part == nullptr && table_.cell(row, "cable_m") == nullptr) return;
    if (part != nullptr && plain_word(part->text) == "none") {
      if (const CsvCell* length = table_.cell(row, "cable_m")) messages_.complain(say::draft_length_of_none(), *length);
      loop.cable.id = "none";
      return;
    }
    const std::string id = ids_.make(zone.id + "_cable");
    Cable& cable = site_.cables[id];
    cable.name = made_name(say::name_of_cable(zone.words));
    cable.length_m = table_.number(row, "cable_m", "m");
    if (part != nullptr && choices_.take_part(without_blanks_around(part->text), {PartKind::cable}, part))
      cable.part.id = without_blanks_around(part->text);
    if (!area.empty()) cable.areas.push_back({area, ""});
    loop.cable.id = id;
  }

  /// The zone's detector with those contacts that the arrangement puts on the pair.
  void add_detector(const DraftRow& row, const ZoneName& zone, const std::string& area, Loop& loop) {
    const CsvCell* part = table_.cell(row, "detector");
    if (part == nullptr || !choices_.take_part(without_blanks_around(part->text), {PartKind::detector}, part)) return;
    const std::string id = ids_.make(zone.id + "_detector");
    Detector& detector = site_.detectors[id];
    detector.name = made_name(say::name_of_detector(zone.words));
    detector.part.id = without_blanks_around(part->text);
    detector.area.id = area;
    const DetectorSpec& spec = *site_.parts.at(detector.part.id).detector;
    if (spec.supply_min_V.none()) detector.feed.from.id = "none";
    const bool tamper = loop.arrangement.is(Arrangement::double_eol) || loop.arrangement.is(Arrangement::triple_eol);
    add_contact(loop, id, spec, "alarm", ContactRole::alarm, loop.arrangement.known());
    add_contact(loop, id, spec, "tamper", ContactRole::tamper, tamper);
    add_contact(loop, id, spec, "mask", ContactRole::mask, loop.arrangement.is(Arrangement::triple_eol));
    if (loop.contacts.empty()) detector.zone.id = zone.id;  // no loop says whose it is, but this row does
  }

  /// The contact of a part that reports such a thing: the one called like it, unless that reports something else, or
  /// the only one. Empty where there is none, or several to choose from.
  static std::string contact_of(const DetectorSpec& spec, const std::string& word) {
    const std::optional<ContactReports> wanted = from_word<ContactReports>(word);
    const auto called = spec.contacts.find(word);
    if (called != spec.contacts.end() && called->second.reports.value.value_or(*wanted) == *wanted) return word;
    std::string only;
    for (const auto& [id, contact] : spec.contacts) {
      if (contact.reports.value != wanted) continue;
      if (!only.empty()) return {};
      only = id;
    }
    return only;
  }

  static void add_contact(Loop& loop, const std::string& detector, const DetectorSpec& spec, const std::string& word,
                          ContactRole role, bool on_the_pair) {
    const std::string contact = contact_of(spec, word);
    if (!on_the_pair || contact.empty()) return;
    LoopContact& entry = loop.contacts[contact];
    entry.detector.id = detector;
    entry.contact = contact;
    entry.role.value = role;
  }

  /// Where a person has to look when the finished site is refused for something of this row.
  void remember(const DraftRow& row, const std::string& zone) {
    const std::string pointer = pointer_child("/zones", zone);
    places_[pointer] = {messages_.place_of(row.front()), ""};
    for (const char* column : {"number", "name", "type", "input", "medium", "partition"}) {
      remember_cell(row, column, pointer_child(pointer, column));
    }
    // What is wrong with a loop as a whole is shown at the first of the cells that it was made from.
    for (const char* column : {"cable_m", "cable", "detector", "contacts_complete", "eol_place", "mask_ohm",
                               "alarm_ohm", "eol_ohm", "arrangement"}) {
      remember_cell(row, column, pointer + "/loop");
    }
    for (const char* column : {"arrangement", "eol_ohm", "alarm_ohm", "mask_ohm", "eol_place"}) {
      remember_cell(row, column, pointer + "/loop/" + column);
    }
    remember_cell(row, "cable", pointer + "/loop/cable");
    remember_cell(row, "cable", "/cables/" + zone + "_cable");
    remember_cell(row, "cable_m", "/cables/" + zone + "_cable/length_m");
  }

  void remember_cell(const DraftRow& row, const char* column, const std::string& pointer) {
    if (const CsvCell* found = table_.cell(row, column)) places_[pointer] = {messages_.place_of(*found), column};
  }

  // ---- Triggers ----------------------------------------------------------------------------------------------------
  /// Fire and hold-up circuits are never tapped, technical and access zones want no picture: if one is wanted all the
  /// same, a person says with which source.
  bool wants_trigger(const Zone& zone, const Planned& planned) const {
    if (planned.stated()) return true;
    if (choices_.units().empty()) return false;
    if (!zone.type.known()) return true;
    const ZoneType type = *zone.type.value;
    return type != ZoneType::fire && type != ZoneType::technical && type != ZoneType::access &&
           type != ZoneType::hold_up;
  }

  /// Inputs that rows name; told where the unit has no such input, or where there are several units to choose from.
  std::set<std::pair<std::size_t, long long>> stated_inputs(long long inputs) {
    std::set<std::pair<std::size_t, long long>> used;
    for (Planned& planned : order_) {
      if (!planned.input || choices_.units().empty()) continue;
      const CsvCell& typed = *table_.cell(*planned.row, "unit_input");
      if (inputs > 0 && (*planned.input < 1 || *planned.input > inputs)) {
        messages_.complain(say::draft_no_such_input(*planned.input, request_.unit, inputs), typed);
        planned.input.reset();  // told once is enough
      } else if (choices_.units().size() > 1) {
        messages_.tell(say::draft_input_of_which_unit(static_cast<long long>(choices_.units().size())), typed);
      } else {
        used.insert({0, *planned.input});
      }
    }
    return used;
  }

  void add_triggers() {
    const UnitSpec* spec = choices_.unit_spec();
    const long long inputs = spec == nullptr ? 0 : spec->inputs.value.value_or(0);
    const std::set<std::pair<std::size_t, long long>> used = stated_inputs(inputs);
    std::vector<std::string> without;
    for (const Planned& planned : order_) {
      if (!wants_trigger(site_.zones.at(planned.zone), planned)) continue;
      std::pair<std::size_t, long long> place = {0, 0};
      if (choices_.units().empty() || (planned.input && choices_.units().size() > 1)) {
        add_trigger(planned, "", planned.input);
      } else if (planned.input || !planned.wired()) {
        add_trigger(planned, choices_.units().size() == 1 ? choices_.units().front() : "", planned.input);
      } else if (next_free(used, inputs, place)) {
        add_trigger(planned, choices_.units()[place.first], place.second);
      } else {
        without.push_back(planned.zone);
        if (planned.stated()) add_trigger(planned, "", std::nullopt);
      }
    }
    if (choices_.units().empty() || any_error(messages_.all)) return;
    if (inputs == 0) messages_.note(say::draft_inputs_unknown(request_.unit));
    if (inputs != 0 && !without.empty()) {
      messages_.note(say::draft_no_room(inputs * static_cast<long long>(choices_.units().size()),
                                        static_cast<long long>(without.size()), without));
    }
  }

  /// The first input that nobody asked for, in the order of units and inputs.
  bool next_free(const std::set<std::pair<std::size_t, long long>>& used, long long inputs,
                 std::pair<std::size_t, long long>& place) {
    for (; next_.first < choices_.units().size(); next_ = {next_.first + 1, 1}) {
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
    const UnitSpec* spec = unit.empty() ? nullptr : choices_.unit_spec();
    const bool fixed = spec != nullptr && spec->channel_binding.is(ChannelBinding::fixed);
    if (!planned.channel && planned.wired() && fixed) trigger.channel.value = input;
    if (planned.source == TriggerSource::loop_tap && zone.input.known()) {
      trigger.at_panel.id = choices_.panel();
      trigger.at_input = zone.input;
    }
    const std::string pointer = pointer_child("/triggers", id);
    places_[pointer] = {messages_.place_of(planned.row->front()), ""};
    for (const auto& [column, key] :
         {std::pair("trigger", "source"), std::pair("unit_input", "input"), std::pair("channel", "channel")}) {
      remember_cell(*planned.row, column, pointer_child(pointer, key));
    }
    remember_cell(*planned.row, "input", pointer_child(pointer, "at_input"));
  }

  // ---- The end -----------------------------------------------------------------------------------------------------
  /// Read as any other site file: what a check refuses is told at the row that it comes from.
  void finish() {
    ReadResult read = read_site(write_site(site_), file_);
    for (Message& message : read.messages) {
      std::string pointer = message.place.pointer;
      while (!pointer.empty() && places_.count(pointer) == 0) pointer = pointer_parent(pointer);
      const auto place = places_.find(pointer);
      message.place = place != places_.end() ? place->second.place : Place{file_, message.place.pointer, 0, 0, false};
      if (place != places_.end()) call_by_column(message, place->second.column);
      if (!told(message)) messages_.all.push_back(std::move(message));
    }
    if (!any_error(messages_.all)) made_ = std::move(read.site);
  }

  /// A cell that the site holds in two places, a terminal and the tap on it, is wrong once.
  bool told(const Message& message) const {
    return message.place.line > 0 && std::any_of(messages_.all.begin(), messages_.all.end(), [&](const Message& other) {
             return other.place.line == message.place.line && other.place.column == message.place.column &&
                    text(other) == text(message);
           });
  }

  /// A field is called as the table calls it: "value" of a resistor is eol_ohm, a trigger's input is unit_input.
  static void call_by_column(Message& message, const std::string& column) {
    for (auto& [name, argument] : message.arguments) {
      if (name == "key" && !column.empty()) argument = column;
    }
  }

  /// A cell, and the column that it is of (empty: the row as a whole).
  struct Source {
    Place place;
    std::string column;
  };

  const std::string& file_;
  const DraftRequest& request_;
  Site site_;
  MadeIds ids_;
  DraftMessages messages_;
  DraftTable table_;
  DraftChoices choices_;
  std::optional<Site> made_;
  std::pair<std::size_t, long long> next_ = {0, 1};  ///< unit and input to be given out next
  std::map<std::string, std::string> partitions_, areas_;
  std::map<long long, long long> numbers_;
  std::vector<Planned> order_;
  std::map<std::string, Source> places_;
};

}  // namespace

DraftResult draft_site(std::string_view table, const std::string& file, const DraftRequest& request) {
  return Draft(file, request).make(table);
}

}  // namespace zoneproof::site
