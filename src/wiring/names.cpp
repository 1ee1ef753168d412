#include "wiring/names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <vector>

#include "base/language.hpp"
#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"

namespace zoneproof::wiring {

namespace {

bool digit(char c) { return c >= '0' && c <= '9'; }

/// The run of digits at `at`, without leading zeros.
std::string run_of_digits(const std::string& text, std::size_t& at) {
  std::string run;
  for (; at < text.size() && digit(text[at]); ++at)
    if (!run.empty() || text[at] != '0') run += text[at];
  return run;
}

template <class T>
void number(const site::Map<T>& collection, const char* letter, std::map<std::string, std::string>& marks) {
  std::vector<std::string> ids;
  for (const auto& [id, value] : collection) ids.push_back(id);
  std::sort(ids.begin(), ids.end(), before);
  for (std::size_t i = 0; i < ids.size(); ++i) marks[ids[i]] = fmt::format("{}{}", letter, i + 1);
}

}  // namespace

bool before(const std::string& a, const std::string& b) {
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    if (digit(a[i]) && digit(b[j])) {
      const std::string first = run_of_digits(a, i), second = run_of_digits(b, j);
      if (first.size() != second.size()) return first.size() < second.size();
      if (first != second) return first < second;
    } else if (a[i] != b[j]) {
      return a[i] < b[j];
    } else {
      ++i;
      ++j;
    }
  }
  const std::size_t left_a = a.size() - i, left_b = b.size() - j;
  return left_a != left_b ? left_a < left_b : a < b;
}

Marks::Marks(const site::Site& site) {
  number(site.detectors, "B", marks_);
  number(site.supplies, "T", marks_);
  number(site.batteries, "G", marks_);
  number(site.cables, "W", marks_);
  number(site.junctions, "X", marks_);
}

const std::string& Marks::operator()(const std::string& id) const {
  const auto found = marks_.find(id);
  return found == marks_.end() ? id : found->second;
}

std::string ohms(const site::Value& value) {
  if (!value.known()) return text(say::wiring_unknown());
  const auto [factor, prefix] = value.nominal >= 1e6   ? std::pair{1e6, "M"}
                                : value.nominal >= 1e3 ? std::pair{1e3, "k"}
                                                       : std::pair{1.0, ""};
  return text(say::wiring_ohm(with_decimal_sign(fmt::format("{:.6g} {}", value.nominal / factor, prefix))));
}

std::string amperes(const site::Value& value) {
  if (!value.known()) return text(say::wiring_unknown());
  return text(say::wiring_ampere(with_decimal_sign(fmt::format("{:g}", value.nominal))));
}

std::string counted(const site::Count& count) {
  return count.known() ? fmt::format("{}", *count.value) : text(say::wiring_unknown());
}

std::string part_name(const site::Site& site, const site::Ref& part) {
  const site::Part* found = site::part_of(site, part);
  return found == nullptr ? std::string() : site::name_or_id(found->name, part.id);
}

std::string zone_called(const site::Site& site, const std::string& id) {
  const auto zone = site.zones.find(id);
  if (zone == site.zones.end()) return id.empty() ? text(say::wiring_unknown()) : id;
  return text(say::wiring_zone(counted(zone->second.number), site::name_or_id(zone->second.name, id)));
}

std::string cable_says(const site::Site& site, const std::string& id) {
  const auto cable = site.cables.find(id);
  if (cable == site.cables.end()) return {};
  std::string part = part_name(site, cable->second.part);
  if (part.empty()) part = text(say::wiring_unknown());
  if (!cable->second.length_m.known()) return part;
  return text(say::wiring_cable_length(part, {cable->second.length_m.nominal, "m"}));
}

std::string marked(const Marks& marks, const std::string& id, const std::string& name) {
  return text(say::wiring_named(marks(id), name));
}

std::string name_of(const site::Site& site, const std::string& id) {
  if (site.supplies.count(id) != 0) return site::called(site.supplies, id);
  if (site.junctions.count(id) != 0) return site::called(site.junctions, id);
  if (site.panels.count(id) != 0) return site::called(site.panels, id);
  if (site.units.count(id) != 0) return site::called(site.units, id);
  return id.empty() ? text(say::wiring_unknown()) : id;
}

}  // namespace zoneproof::wiring
