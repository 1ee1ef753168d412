#include "handover/places.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "base/outward.hpp"
#include "chain/channels.hpp"
#include "electric/naming.hpp"
#include "messages/handover.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

namespace {

std::string joined(const std::vector<std::string>& words, const char* between) {
  return fmt::format("{}", fmt::join(words, between));
}

std::string on(const std::string& thing, const site::Count& number, Message (*says)(std::string, long long)) {
  return thing.empty() || !number.known() ? std::string() : text(says(thing, *number.value));
}

}  // namespace

std::string called(const site::Site& site, const site::Ref& thing) {
  return thing.known() ? electric::thing_words(site, thing.id) : std::string();
}

std::string panel_input(const site::Site& site, const site::Ref& panel, const site::Count& input) {
  return on(called(site, panel), input, say::place_input);
}

std::string unit_input(const site::Site& site, const site::Trigger& trigger) {
  return on(called(site, trigger.unit), trigger.input, say::place_input);
}

std::string output_screw(const site::Site& site, const site::Ref& output) {
  const auto found = site.outputs.find(output.id);
  if (found == site.outputs.end()) return {};
  return on(called(site, found->second.panel), found->second.number, say::place_output);
}

CableNames::CableNames(const site::Site& site) : site_(site), marks_(site) {}

std::string CableNames::operator()(const site::Ref& cable) const {
  if (cable.none()) return text(say::same_enclosure());
  const std::string name = called(site_, cable);
  return name.empty() ? name : wiring::marked(marks_, cable.id, name);
}

paper::Cell cores(const site::Site& site, const site::Ref& cable) {
  const auto found = site.cables.find(cable.id);
  if (cable.none()) return paper::said("–");
  if (found == site.cables.end() || !found->second.cores_in_parallel.known()) return paper::Blank{};
  return paper::Number{static_cast<double>(*found->second.cores_in_parallel.value), 0, paper::Digits::decimals};
}

std::string resistors_of(const site::Trigger& trigger) {
  std::vector<std::string> fitted;
  const auto add = [&](const site::Value& ohm, Message (*says)(Measure)) {
    if (ohm.known()) fitted.push_back(text(says(Measure{ohm.nominal, "ohm"})));
    return !ohm.unknown();
  };
  bool known = add(trigger.series_ohm, say::resistor_series);
  known = add(trigger.pullup_ohm, say::resistor_pullup) && known;
  known = add(trigger.pulldown_ohm, say::resistor_pulldown) && known;
  if (!known) return {};
  return fitted.empty() ? text(say::resistor_none()) : joined(fitted, "; ");
}

std::string channels_of(const site::Site& site, const std::string& trigger) {
  std::vector<chain::Gap> gaps;
  std::vector<std::string> numbers;
  for (const std::string& id : chain::channels_of_trigger(site, trigger, gaps)) {
    const auto channel = site.channels.find(id);
    if (channel != site.channels.end() && channel->second.number.known())
      numbers.push_back(std::to_string(*channel->second.number.value));
  }
  const site::Count& own = site.triggers.at(trigger).channel;
  if (numbers.empty() && own.known()) numbers.push_back(std::to_string(*own.value));
  return joined(numbers, ", ");
}

std::string cameras_of(const site::Site& site, const std::string& trigger) {
  std::vector<chain::Gap> gaps;
  std::vector<std::string> names;
  if (site.triggers.at(trigger).source.is(site::TriggerSource::live_view)) {  // no clip is kept, a camera is looked at
    for (const std::string& id : chain::channels_of_trigger(site, trigger, gaps))
      names.push_back(called(site, site.channels.at(id).camera));
    return joined(names, ", ");
  }
  for (const std::string& id : chain::cameras_of_trigger(site, trigger, gaps))
    names.push_back(electric::thing_words(site, id));
  if (!names.empty() && !gaps.empty()) names.push_back(text(say::more_unknown()));
  return joined(names, ", ");
}

void add_range(std::vector<paper::Cell>& cells, const Volts& volts) {
  if (!volts) {
    cells.insert(cells.end(), 2, paper::Blank{});
    return;
  }
  cells.push_back(paper::Number{rounded_down(volts->low, results::kVoltDecimals), results::kVoltDecimals});
  cells.push_back(paper::Number{rounded_up(volts->high, results::kVoltDecimals), results::kVoltDecimals});
}

void add_range_columns(std::vector<paper::Column>& columns, const std::string& id, const std::string& over) {
  constexpr drawing::Align right = drawing::Align::right;
  columns.push_back({id + "_low", text(say::volts_lowest()), "V", right, 0.0, 0.0, false, over});
  columns.push_back({id + "_high", text(say::volts_highest()), "V", right, 0.0, 0.0, false, over});
  columns.push_back({id + "_measured", text(say::volts_measured()), "V", drawing::Align::left, 0.0, 0.0, true, over});
}

paper::Cell figure(const site::Value& value, const std::string& unit) {
  if (value.none()) return paper::said(text(say::resistor_none()));
  if (!value.known()) return paper::Blank{};
  return paper::Number{value.nominal, kTypedDigits, paper::Digits::significant, unit};
}

paper::Cell figure(const site::Count& count) {
  if (!count.known()) return paper::Blank{};
  return paper::Number{static_cast<double>(*count.value), 0, paper::Digits::decimals};
}

}  // namespace zoneproof::handover
