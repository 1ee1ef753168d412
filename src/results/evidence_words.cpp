#include "results/evidence_words.hpp"

#include <algorithm>

#include "messages/results.hpp"
#include "results/field_words.hpp"

namespace zoneproof::results {

namespace {

/// The words of each reason of a gap; any other is "not known".
struct ReasonWords {
  const char* reason;
  Message (*words)();
};
constexpr ReasonWords kReasons[] = {{"typical", say::gap_typical},
                                    {"assumed", say::gap_assumed},
                                    {"incomplete_list", say::gap_incomplete_list},
                                    {"no_rule", say::gap_no_rule},
                                    {"undecided", say::gap_undecided},
                                    {"reading_open", say::gap_reading_open},
                                    {"reading_loaded", say::gap_reading_loaded},
                                    {"reading_shorted", say::gap_reading_shorted},
                                    {"reading_disagrees", say::gap_reading_disagrees},
                                    {"readings_disagree", say::gap_readings_disagree},
                                    {"sheet_disagrees", say::gap_sheet_disagrees},
                                    {"not_by_meter", say::gap_not_by_meter},
                                    {"lens_turns", say::gap_lens_turns},
                                    {"has_range", say::gap_has_range},
                                    {"later_issue", say::gap_later}};

std::string reason_words(const std::string& reason) {
  for (const ReasonWords& one : kReasons) {
    if (reason == one.reason) return text(one.words());
  }
  return text(say::gap_unknown());
}

/// What a field is, from its meaning: "Power that it takes, where ..." is "power that it takes", "Current source: the
/// current that it drives." is "the current that it drives".
std::string quantity_words(const site::Field& field) {
  std::string_view words = field.meaning;
  if (const std::size_t kind = words.find(": "); kind != std::string_view::npos) words.remove_prefix(kind + 2);
  std::size_t end = words.find_first_of(",;.");
  while (end != std::string_view::npos && end + 1 < words.size() && words[end + 1] != ' ')
    end = words.find_first_of(",;.", end + 1);  // the point of a number
  std::string out(words.substr(0, end));
  const bool abbreviation = out.size() > 1 && out[1] >= 'A' && out[1] <= 'Z';
  if (!out.empty() && !abbreviation && out[0] >= 'A' && out[0] <= 'Z') out[0] = static_cast<char>(out[0] - 'A' + 'a');
  return out;
}

/// The name of a part up to its first comma ("Panel supply" of "Panel supply, 13.8 V, 3 A"), where that is enough to
/// tell it from the other parts of the site.
std::string short_part_name(const site::Site& site, const std::string& id) {
  const auto head = [](const std::string& name) { return name.substr(0, name.find(',')); };
  const std::string& name = site.parts.at(id).name;
  const bool unique = std::none_of(site.parts.begin(), site.parts.end(), [&](const auto& other) {
    return other.first != id && head(other.second.name) == head(name);
  });
  return unique ? head(name) : name;
}

/// What is missing at a place that is called by `called`, and why.
std::string lacking(const site::Site& site, const chain::Gap& gap,
                    std::string (*called)(const site::Site&, const std::string&)) {
  return (gap.pointer.empty() ? "" : called(site, gap.pointer) + ": ") + reason_words(gap.reason);
}

}  // namespace

std::string gap_words(const site::Site& site, const chain::Gap& gap) { return lacking(site, gap, place_words); }

std::string missing_words(const site::Site& site, const chain::Gap& gap) {
  return lacking(site, gap, corner_place_words);
}

std::string corner_place_words(const site::Site& site, const std::string& pointer) {
  const auto place = place_of(site::record_of<site::Site>(), pointer);
  if (!place || pointer.empty()) return pointer;
  if (place->owner.empty())
    return place->field == nullptr ? pointer : text(say::place_in_site(quantity_words(*place->field)));
  std::string owner = owner_words(site, *place);
  const auto part = site.parts.find(place->owner);
  if (place->collection == "parts" && part != site.parts.end() && !part->second.name.empty())
    owner = short_part_name(site, part->first);
  if (place->field != nullptr) return text(say::quantity_of_owner(owner, quantity_words(*place->field)));
  return place->collection == "cables" ? text(say::core_of_cable(owner)) : owner;
}

std::function<std::string(const std::string&)> names_of_places(const site::Site& site) {
  return [&site](const std::string& pointer) { return corner_place_words(site, pointer); };
}

std::string corner_words(const site::Site& site, const std::vector<chain::CornerValue>& corner, std::size_t most) {
  std::vector<std::string> told;
  for (const chain::CornerValue& value : corner) {
    std::string words = text(say::corner_value(corner_place_words(site, value.pointer), {value.value, value.unit}));
    // The cores of a cable, and equal specimens of a part, have one line.
    if (std::find(told.begin(), told.end(), words) == told.end()) told.push_back(std::move(words));
  }
  std::string out;
  for (std::size_t i = 0; i < std::min(told.size(), most); ++i) out += (i == 0 ? "" : "; ") + told[i];
  if (told.size() > most) out += "; " + text(say::and_more(static_cast<long long>(told.size() - most)));
  return out;
}

std::string place_words(const site::Site& site, const std::string& pointer) {
  const auto place = place_of(site::record_of<site::Site>(), pointer);
  if (!place || pointer.empty()) return pointer;
  if (place->owner.empty()) return text(say::place_in_site(pointer.substr(1)));
  const std::size_t after = pointer.find(place->owner, 1 + place->collection.size());
  const std::string rest = pointer.substr(std::min(pointer.size(), after + place->owner.size()));
  const std::string owner = owner_words(site, *place);
  return rest.size() < 2 ? owner : text(say::place_of_owner(rest.substr(1), owner));
}

}  // namespace zoneproof::results
