#include "handover/settings_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "base/message.hpp"
#include "chain/words.hpp"
#include "electric/naming.hpp"
#include "handover/places.hpp"
#include "handover/set_words.hpp"
#include "handover/wire_tables.hpp"
#include "messages/handover.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {

using chain::Verdict;
using paper::Cell;
using paper::said;
using paper::said_or_blank;

namespace {

/// A limit of a range: "none" is no limit on that side.
Cell limit(const site::Value& volts) { return volts.none() ? said(text(say::range_open())) : figure(volts, "V"); }

std::string as_typed(const site::Value& volts) { return shown(Measure{volts.nominal, "V", kTypedDigits}); }

/// What the unit takes as alarm: the stated alarm range, else all that is not normal. Empty: not known.
std::string taken_as_alarm(const site::Site& site, const site::Trigger& trigger) {
  const site::InputSetting& setting = trigger.setting;
  const site::UnitSpec* spec = site::unit_spec(site, trigger.unit.id);
  if (!setting.preset.empty()) {
    if (spec == nullptr) return {};
    const auto preset = spec->input.presets.find(setting.preset);
    return text(say::sense_preset(
        preset == spec->input.presets.end() ? setting.preset : site::name_or_id(preset->second.name, setting.preset)));
  }
  if (!setting.alarm_min_V.unknown() || !setting.alarm_max_V.unknown()) return text(say::sense_alarm_range());
  const site::Value& low = setting.normal_min_V;
  const site::Value& high = setting.normal_max_V;
  if (low.unknown() || high.unknown()) return {};
  if (low.none() && high.known()) return text(say::sense_above(as_typed(high)));
  if (high.none() && low.known()) return text(say::sense_below(as_typed(low)));
  return low.known() && high.known() ? text(say::sense_outside()) : std::string();
}

/// The same, and whether the unit acts on it while it is disarmed too.
std::string sense_of(const site::Site& site, const site::Trigger& trigger) {
  std::string alarm = taken_as_alarm(site, trigger);
  return alarm.empty() || !trigger.setting.at_any_hour.yes() ? alarm : text(say::sense_at_any_hour(alarm));
}

std::vector<paper::Column> input_columns() {
  constexpr drawing::Align right = drawing::Align::right;
  const std::string normal = text(say::over_normal()), alarm = text(say::over_alarm());
  return {{"input", text(say::column_input()), {}, right, 0.0},
          {"zone_number", text(say::column_zone_number_typed()), {}, right, 0.0},
          {"zone_name", text(say::typed_zone_name())},
          {"type", text(say::column_zone_type())},
          {"normal_min", text(say::column_range_from()), "V", right, 0.0, 0.0, false, normal},
          {"normal_max", text(say::column_range_to()), "V", right, 0.0, 0.0, false, normal},
          {"alarm_min", text(say::column_range_from()), "V", right, 0.0, 0.0, false, alarm},
          {"alarm_max", text(say::column_range_to()), "V", right, 0.0, 0.0, false, alarm},
          {"sense", text(say::column_sense())},
          {"channel", text(say::column_channel()), {}, drawing::Align::left, 0.0},
          {"camera", text(say::column_camera())},
          {"proof", text(say::column_by_the_proof())},
          {"typed", text(say::column_typed_in()), {}, drawing::Align::middle, 0.0}};
}

/// What the proof says of the trigger of a zone; nothing for one without a chain.
std::optional<Verdict> trigger_verdict(const proof::Proof& proof, const std::string& zone) {
  const auto chain =
      std::find_if(proof.chains.begin(), proof.chains.end(), [&](const proof::Chain& one) { return one.zone == zone; });
  if (chain == proof.chains.end()) return std::nullopt;
  std::vector<Verdict> verdicts;  // what a unit or an output does wrong is no fault of this row
  for (const chain::Evidence& one : chain->links[static_cast<std::size_t>(chain::Link::trigger)].evidence)
    if (one.subject == zone) verdicts.push_back(one.verdict);
  return chain::together(verdicts);
}

/// A row that does not hold says so, and one that is broken has no box to tick: it is not typed in as it stands.
void add_verdict(paper::Row& row, std::optional<Verdict> verdict) {
  const std::string words = verdict ? chain::words(*verdict) : std::string();
  const bool holds = !verdict || *verdict == Verdict::proven;
  row.cells.push_back(said(holds ? words : text(say::verdict_see_summary(words))));
  row.cells.push_back(verdict == Verdict::broken ? said("") : Cell{paper::Tick{}});
}

/// An alarm range is stated where the unit wants one; where the normal range is, all else is alarm.
Cell alarm_limit(const site::InputSetting& setting, const site::Value& volts) {
  const bool stated = !setting.alarm_min_V.unknown() || !setting.alarm_max_V.unknown();
  return stated ? limit(volts) : said("");
}

paper::Row input_row(const site::Site& site, const proof::Proof& proof, const std::string& id) {
  const site::Trigger& trigger = site.triggers.at(id);
  const site::InputSetting& setting = trigger.setting;
  const bool wire = !trigger.source.known() || site::has_wire(trigger);
  const bool by_preset = !setting.preset.empty(), live = trigger.source.is(site::TriggerSource::live_view);
  const auto typed = [&](Cell cell) {  // nothing comes in by a live view that would have a name there
    return live && std::holds_alternative<paper::Blank>(cell) ? said("") : std::move(cell);
  };
  const auto volts = [&](Cell cell) { return wire && !by_preset ? std::move(cell) : said(""); };
  paper::Row row;
  row.id = "input-" + id;
  row.cells = {wire ? figure(trigger.input) : said("–"),
               typed(figure(setting.zone_number)),
               typed(said_or_blank(setting.zone_name)),
               typed(said_or_blank(words(setting.zone_type))),
               volts(limit(setting.normal_min_V)),
               volts(limit(setting.normal_max_V)),
               volts(alarm_limit(setting, setting.alarm_min_V)),
               volts(alarm_limit(setting, setting.alarm_max_V)),
               wire   ? said_or_blank(sense_of(site, trigger))
               : live ? said(text(say::channel_live_only()))
                      : said(text(say::sense_over_network())),
               said_or_blank(channels_of(site, id)),
               said_or_blank(cameras_of(site, id))};
  add_verdict(row, trigger_verdict(proof, trigger.zone.id));
  return row;
}

std::vector<paper::Row> input_rows(const site::Site& site, const proof::Proof& proof, const std::string& unit) {
  std::vector<paper::Row> rows;
  for (const std::string& id : triggers_in_order(site, unit, false)) rows.push_back(input_row(site, proof, id));
  return rows;
}

std::vector<paper::Column> channel_columns() {
  return {{"channel", text(say::column_channel()), {}, drawing::Align::right, 0.0},
          {"camera", text(say::column_camera())},
          {"address", text(say::column_address())},
          {"recorder", text(say::column_recorder())},
          {"recorder_channel", text(say::column_recorder_channel()), {}, drawing::Align::right, 0.0},
          {"stream", text(say::column_stream())},
          {"kept", text(say::column_kept())},
          {"typed", text(say::column_typed_in()), {}, drawing::Align::middle, 0.0}};
}

/// The addresses of a device in one of these networks; of one that the network's pool gives, that it does. A device
/// with a foot in several networks answers each of them at its own.
std::string addresses_of(const site::Site& site, const std::string& device, const std::set<std::string>& networks) {
  if (device.empty()) return {};  // an address whose device nobody knows is not that of one
  std::vector<std::string> all;
  for (const auto& [id, address] : site.addresses) {
    if (address.device.id != device || networks.count(address.network.id) == 0) continue;
    if (!address.address.empty()) all.push_back(address.address);
    if (address.address.empty() && address.given_by.is(site::AddressBy::pool)) all.push_back(words(address.given_by));
  }
  return fmt::format("{}", fmt::join(all, ", "));
}

/// The networks that a device stands in.
std::set<std::string> networks_of(const site::Site& site, const std::string& device) {
  std::set<std::string> networks;
  for (const auto& [id, address] : site.addresses)
    if (address.device.id == device) networks.insert(address.network.id);
  return networks;
}

/// Under which a unit reaches a device: in a network of its own, or, behind a router, wherever the device is.
std::string reached_at(const site::Site& site, const std::string& unit, const std::string& device) {
  std::string beside = addresses_of(site, device, networks_of(site, unit));
  return beside.empty() ? addresses_of(site, device, networks_of(site, device)) : beside;
}

std::vector<paper::Row> channel_rows(const site::Site& site, const std::string& unit) {
  std::vector<const site::Channel*> channels;
  for (const auto& entry : site.channels)
    if (entry.second.unit.id == unit) channels.push_back(&entry.second);
  std::stable_sort(channels.begin(), channels.end(), [](const auto* a, const auto* b) {
    return a->number.value.value_or(0) < b->number.value.value_or(0);
  });
  std::vector<paper::Row> rows;
  for (const site::Channel* channel : channels) {
    const bool recorded = !channel->recorder.none();
    const std::string kept = !channel->live_only.known() ? std::string()
                             : channel->live_only.yes()  ? text(say::channel_live_only())
                                                         : text(say::channel_kept());
    rows.push_back(
        {{figure(channel->number), said_or_blank(called(site, channel->camera)),
          said_or_blank(reached_at(site, unit, recorded ? channel->recorder.id : channel->camera.id)),
          recorded ? said_or_blank(called(site, channel->recorder)) : said(text(say::straight_from_camera())),
          recorded ? figure(channel->recorder_channel) : said(""), said_or_blank(channel->stream), said_or_blank(kept),
          paper::Tick{}}});
  }
  return rows;
}

/// As it is typed in: no unit takes 16.7 minutes.
Cell seconds(const site::Value& value) { return figure(value, "s"); }

void add_arming(paper::KeyValues& values, const site::Site& site, const site::Unit& unit) {
  const auto output = site.outputs.find(unit.arming.output.id);
  if (unit.arming.output.none()) {
    values.rows.emplace_back(text(say::setting_arming_from()), said(text(say::no_arming())));
    return;
  }
  values.rows.emplace_back(text(say::setting_arming_from()), said_or_blank(output_screw(site, unit.arming.output)));
  values.rows.emplace_back(text(say::setting_armed_level()), said_or_blank(words(unit.arming.armed_level)));
  values.rows.emplace_back(text(say::setting_output_active()), output == site.outputs.end()
                                                                   ? Cell{paper::Blank{}}
                                                                   : said_or_blank(words(output->second.active_when)));
}

void add_network(paper::KeyValues& values, const site::Site& site, const std::string& id) {
  bool any = false;
  for (const auto& [address_id, address] : site.addresses) {
    if (address.device.id != id) continue;
    any = true;
    const auto network = site.networks.find(address.network.id);
    values.rows.emplace_back(text(say::setting_address()),
                             said_or_blank(address.address.empty() ? words(address.given_by) : address.address));
    values.rows.emplace_back(text(say::setting_network()), network == site.networks.end()
                                                               ? Cell{paper::Blank{}}
                                                               : said_or_blank(network->second.range));
    std::string gateway = address.gateway.none() ? text(say::setting_no_gateway())
                                                 : addresses_of(site, address.gateway.id, {address.network.id});
    values.rows.emplace_back(text(say::setting_gateway()), said_or_blank(gateway));
  }
  if (!any) values.rows.emplace_back(text(say::setting_address()), paper::Blank{});
}

void add_station(paper::KeyValues& values, const site::Site& site, const site::Unit& unit) {
  const auto path = site.monitoring_paths.find(unit.monitoring.id);
  values.rows.emplace_back(text(say::setting_station()), said_or_blank(called(site, unit.monitoring)));
  values.rows.emplace_back(text(say::setting_port_out()),
                           path == site.monitoring_paths.end() ? Cell{paper::Blank{}} : figure(path->second.port));
  values.rows.emplace_back(text(say::setting_missed_by()), said_or_blank(words(unit.missed_by)));
  if (unit.missed_by.is(site::MissedBy::station))
    values.rows.emplace_back(text(say::setting_poll()), seconds(unit.poll_s));
}

paper::KeyValues general(const site::Site& site, const std::string& id) {
  const site::Unit& unit = site.units.at(id);
  const site::Part* part = site::part_of(site, unit.part);
  paper::KeyValues values;
  values.rows.emplace_back(text(say::setting_part()), said_or_blank(part == nullptr ? "" : part->name));
  add_arming(values, site, unit);
  values.rows.emplace_back(text(say::setting_pre()), seconds(unit.clip.pre_s));
  values.rows.emplace_back(text(say::setting_post()), seconds(unit.clip.post_s));
  values.rows.emplace_back(text(say::setting_sending()), said_or_blank(words(unit.clip.sending)));
  values.rows.emplace_back(text(say::setting_clock()), said_or_blank(words(unit.clock.source)));
  add_network(values, site, id);
  add_station(values, site, unit);
  values.rows.emplace_back(text(say::setting_password()), said(text(say::setting_password_never_here())));
  return values;
}

/// What is typed in of a unit as a whole, each with its box; what is only told has none.
paper::Table general_table(const site::Site& site, const std::string& unit) {
  const std::string told[] = {text(say::setting_part()), text(say::setting_missed_by()), text(say::setting_password())};
  paper::Table table{"general-of-" + unit, {}, {}, {{}}};
  table.columns = {{"setting", text(say::column_setting()), {}, {}, 1.0, 60.0},
                   {"value", text(say::column_setting_value()), {}, {}, 2.0, 60.0},
                   {"typed", text(say::column_typed_in()), {}, drawing::Align::middle, 0.0}};
  for (auto& [name, value] : general(site, unit).rows) {
    const bool typed = std::find(std::begin(told), std::end(told), name) == std::end(told);
    table.groups.front().rows.push_back({{said(name), value, typed ? Cell{paper::Tick{}} : said("")}});
  }
  return table;
}

std::vector<paper::Column> camera_columns() {
  constexpr drawing::Align right = drawing::Align::right;
  return {{"camera", text(say::column_camera())},
          {"stream", text(say::column_stream())},
          {"goes_to", text(say::column_stream_to())},
          {"width", text(say::column_picture_width()), "px", right, 0.0},
          {"height", text(say::column_picture_height()), "px", right, 0.0},
          {"rate", text(say::column_picture_rate()), "fps", right, 0.0},
          {"codec", text(say::column_codec())},
          {"most", text(say::column_most_data()), "kbps", right, 0.0},
          {"key", text(say::column_key_picture()), "s", right, 0.0},
          {"typed", text(say::column_typed_in()), {}, drawing::Align::middle, 0.0}};
}

std::string codec_words(const site::Word<site::Codec>& codec) {
  if (!codec.known()) return {};
  switch (*codec.value) {
    case site::Codec::h264: return "H.264";  // as the recommendations of the ITU-T call them
    case site::Codec::h265: return "H.265";
    case site::Codec::mjpeg: break;
  }
  return "MJPEG";
}

/// What the cameras of a unit's channels send: the proof took it so.
std::vector<paper::Row> camera_rows(const site::Site& site, const std::string& unit) {
  std::set<std::string> cameras;
  for (const auto& entry : site.channels)
    if (entry.second.unit.id == unit && site.cameras.contains(entry.second.camera.id))
      cameras.insert(entry.second.camera.id);
  std::vector<paper::Row> rows;
  for (const std::string& id : cameras) {
    const site::Camera& camera = site.cameras.at(id);
    for (const auto& [name, stream] : camera.streams) {
      const bool free = stream.rate_control.is(site::RateControl::free);
      rows.push_back({{said(electric::thing_words(site, id)), said(name), said_or_blank(called(site, stream.to)),
                       figure(camera.encoded_width_px), figure(camera.encoded_height_px),
                       figure(stream.rate_fps, "fps"), said_or_blank(codec_words(stream.codec)),
                       free ? said(text(say::rate_free())) : figure(stream.rate_kbps, "kbps"),
                       figure(stream.key_frame_s, "s"), paper::Tick{}}});
    }
  }
  return rows;
}

/// An alarm range that no input of the unit states is no column.
void drop_empty_alarm_range(paper::Table& inputs) {
  const auto is = [](const char* id) { return [id](const paper::Column& column) { return column.id == id; }; };
  for (const char* id : {"alarm_min", "alarm_max"}) {
    const auto column = std::find_if(inputs.columns.begin(), inputs.columns.end(), is(id));
    const auto at = column - inputs.columns.begin();
    const auto stated = [&](const paper::Row& row) {
      const auto* words = std::get_if<paper::Words>(&row.cells.at(static_cast<std::size_t>(at)));
      return words == nullptr || !words->says.empty();
    };
    const auto& rows = inputs.groups.front().rows;
    if (std::any_of(rows.begin(), rows.end(), stated)) continue;
    inputs.columns.erase(column);
    for (paper::Row& row : inputs.groups.front().rows) row.cells.erase(row.cells.begin() + at);
  }
}

/// Inputs of the unit that nothing is on: they are to be switched off, or a loose wire beside them calls the operator.
std::string unused_inputs(const site::Site& site, const std::string& unit) {
  const site::UnitSpec* spec = site::unit_spec(site, unit);
  if (spec == nullptr || !spec->inputs.known()) return {};
  std::set<long long> used;
  for (const auto& [id, trigger] : site.triggers)
    if (trigger.unit.unknown() && (!trigger.source.known() || site::has_wire(trigger)))
      return {};  // it may be on any of them
  for (const std::string& id : triggers_in_order(site, unit, true)) {
    if (!site.triggers.at(id).input.known()) return {};  // it may be any of them
    used.insert(*site.triggers.at(id).input.value);
  }
  std::vector<std::string> free;
  for (long long input = 1; input <= *spec->inputs.value; ++input)
    if (used.count(input) == 0) free.push_back(std::to_string(input));
  return fmt::format("{}", fmt::join(free, ", "));
}

void add_unit(paper::Chapter& chapter, const site::Site& site, const proof::Proof& proof, const std::string& unit) {
  chapter.blocks.emplace_back(paper::Heading{2, electric::thing_words(site, unit), "settings-" + unit});
  chapter.blocks.emplace_back(general_table(site, unit));
  paper::Table inputs{
      "inputs-of-" + unit, text(say::title_inputs()), input_columns(), {{"", input_rows(site, proof, unit)}}};
  inputs.says_empty = text(say::no_inputs());
  drop_empty_alarm_range(inputs);
  if (const std::string free = unused_inputs(site, unit); !free.empty())
    inputs.notes.push_back(text(say::note_unused_inputs(free)));
  chapter.blocks.emplace_back(std::move(inputs));
  paper::Table channels{
      "channels-of-" + unit, text(say::title_channels()), channel_columns(), {{"", channel_rows(site, unit)}}};
  channels.says_empty = text(say::no_channels());
  chapter.blocks.emplace_back(std::move(channels));
  if (std::vector<paper::Row> rows = camera_rows(site, unit); !rows.empty())
    chapter.blocks.emplace_back(
        paper::Table{"cameras-of-" + unit, text(say::title_cameras_set()), camera_columns(), {{"", std::move(rows)}}});
  chapter.blocks.emplace_back(paper::FillIn{text(say::settings_signed()), 1});
}

}  // namespace

paper::Chapter settings_sheet(const site::Site& site, const proof::Proof& proof) {
  paper::Chapter chapter{"settings", text(say::chapter_settings()), {}};
  chapter.blocks = {paper::Turn{true}, paper::Paragraph{text(say::settings_how_to_read())}};
  if (site.units.empty()) chapter.blocks.emplace_back(paper::Paragraph{text(say::no_units())});
  for (const auto& entry : site.units) {
    if (entry.first != site.units.begin()->first) chapter.blocks.emplace_back(paper::NewPage{});
    add_unit(chapter, site, proof, entry.first);
  }
  return chapter;
}

std::vector<paper::Table> settings_tables(const site::Site& site, const proof::Proof& proof) {
  paper::Table inputs{"inputs", text(say::title_inputs()), input_columns(), {}};
  paper::Table channels{"channels", text(say::title_channels()), channel_columns(), {}};
  for (paper::Table* table : {&inputs, &channels}) table->grouped_by = text(say::column_unit());
  for (const auto& entry : site.units) {
    const std::string name = electric::thing_words(site, entry.first);
    inputs.groups.push_back({name, input_rows(site, proof, entry.first)});
    channels.groups.push_back({name, channel_rows(site, entry.first)});
  }
  return {inputs, channels};
}

}  // namespace zoneproof::handover
