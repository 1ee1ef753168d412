#include "handover/labels.hpp"

#include <algorithm>

#include "base/message.hpp"
#include "electric/naming.hpp"
#include "handover/findings.hpp"
#include "handover/places.hpp"
#include "messages/handover.hpp"
#include "messages/handover_chapters.hpp"
#include "site/file.hpp"
#include "site/relations.hpp"
#include "wiring/names.hpp"

namespace zoneproof::handover {

namespace {

constexpr std::size_t kHashShown = 12;

class Labels {
 public:
  Labels(const site::Site& site, const std::string& address)
      : site_(site), address_(address), hash_(site::site_hash(site).substr(0, kHashShown)), marks_(site) {}

  std::vector<paper::Label> all() {
    for (const std::string& zone : zones_in_order(site_))
      for (const auto& [id, trigger] : site_.triggers)
        if (trigger.zone.id == zone && site::has_wire(trigger)) trigger_wire(id, trigger);
    for (const auto& [id, trigger] : site_.triggers)
      if (!site_.zones.contains(trigger.zone.id) && site::has_wire(trigger)) trigger_wire(id, trigger);
    for (const auto& [id, unit] : site_.units) of_unit(id, unit);
    for (const std::string& id : in_order(site_.cameras))
      add("camera-" + id, {electric::thing_words(site_, id), text(say::label_camera())}, "/cameras/" + id);
    return std::move(labels_);
  }

 private:
  /// The same at both ends of a wire, but for what this end is: who holds one end knows the other.
  void both_ends(const std::string& id, const std::string& name, const std::string& from, const std::string& to,
                 const std::string& core, const std::string& place) {
    const auto end = [&](const std::string& here, const std::string& there) {
      std::vector<std::string> lines = {name, text(say::label_here(here)), text(say::label_leads_to(there))};
      if (!core.empty()) lines.push_back(core);
      return lines;
    };
    add(id + "-from", end(from, to), place);
    add(id + "-to", end(to, from), place);
  }

  template <class Things>
  static std::vector<std::string> in_order(const Things& things) {
    std::vector<std::string> ids;
    for (const auto& entry : things) ids.push_back(entry.first);
    std::sort(ids.begin(), ids.end(), wiring::before);
    return ids;
  }

  /// The cable's mark on the drawings and the colour of the core: "W12, WH"; what of it is known.
  std::string core(const site::Ref& cable, const std::string& colour) const {
    const std::string mark = site_.cables.contains(cable.id) ? marks_(cable.id) : std::string();
    return mark.empty() || colour.empty() ? mark + colour : mark + ", " + colour;
  }

  /// Of a pair: which core is which pole.
  std::string poles(const site::Feed& feed) const {
    const auto pole = [](const char* sign, const std::string& colour) {
      return colour.empty() ? std::string(sign) : std::string(sign) + " " + colour;
    };
    const std::string both = pole("+", feed.core_colour) + ", " + pole("–", feed.return_core_colour);
    const std::string mark = core(feed.cable, {});
    return mark.empty() ? both : mark + ", " + both;
  }

  void add(const std::string& id, std::vector<std::string> lines, const std::string& place) {
    // Short, so that its modules stay large: the id says which end of which wire it is, the hash of which revision.
    std::string code = address_.empty() ? text(say::label_code(id, hash_)) : address_ + place;
    labels_.push_back({"label-" + id, std::move(lines), std::move(code)});
  }

  static std::string or_not_known(const std::string& words) {
    return words.empty() ? text(say::paper_not_known()) : words;
  }

  void trigger_wire(const std::string& id, const site::Trigger& trigger) {
    const std::string zone = electric::zone_words(site_, trigger.zone.id);
    std::string from;
    if (trigger.source.is(site::TriggerSource::loop_tap))
      from = panel_input(site_, trigger.at_panel, trigger.at_input);
    else if (trigger.source.is(site::TriggerSource::following_output))
      from = output_screw(site_, trigger.output);
    else
      from = called(site_, trigger.detector);
    both_ends("trigger-" + id, zone, or_not_known(from), or_not_known(unit_input(site_, trigger)),
              core(trigger.cable, trigger.core_colour), "/zones/" + trigger.zone.id);
  }

  void of_unit(const std::string& id, const site::Unit& unit) {
    const std::string name = electric::thing_words(site_, id), place = "/units/" + id;
    add("unit-" + id, {name}, place);
    if (unit.arming.output.known())
      both_ends("arming-" + id, text(say::label_arming(name)), or_not_known(output_screw(site_, unit.arming.output)),
                text(say::label_arming_input(name)), core(unit.arming.cable, unit.arming.core_colour), place);
    if (unit.feed.from.known())
      both_ends("supply-" + id, text(say::label_supply(name)), electric::thing_words(site_, unit.feed.from.id), name,
                poles(unit.feed), place);
  }

  const site::Site& site_;
  const std::string& address_;
  std::string hash_;
  wiring::Marks marks_;
  std::vector<paper::Label> labels_;
};

}  // namespace

std::vector<paper::Label> labels_of(const site::Site& site, const std::string& address) {
  return Labels(site, address).all();
}

std::optional<paper::Table> labels_to_write(const std::vector<paper::Label>& left_out) {
  if (left_out.empty()) return std::nullopt;
  paper::Table table{"labels-to-write", text(say::labels_to_write()), {}, {{}}};
  table.columns = {{"done", text(say::column_done()), {}, drawing::Align::middle, 0.0},
                   {"name", text(say::column_label_name()), {}, {}, 2.0, 40.0},
                   {"says", text(say::column_label_says()), {}, {}, 4.0, 60.0}};
  for (const paper::Label& label : left_out) {
    std::string says;
    for (std::size_t i = 1; i < label.lines.size(); ++i) says += (i > 1 ? "; " : "") + label.lines[i];
    table.groups.front().rows.push_back(
        {{paper::Tick{}, paper::said(label.lines.empty() ? label.id : label.lines.front()), paper::said(says)}});
  }
  table.notes.push_back(text(say::labels_to_write_how()));
  return table;
}

std::optional<Message> address_problem(const std::string& address) {
  if (address.empty()) return std::nullopt;
  for (const std::string_view scheme : {"https://", "http://"}) {
    if (address.rfind(scheme, 0) != 0) continue;
    const std::string authority =
        address.substr(scheme.size(), address.find_first_of("/?#\\", scheme.size()) - scheme.size());
    if (authority.find('@') != std::string::npos) return say::page_address_with_person();
    const bool plain = std::all_of(address.begin(), address.end(), [](char c) { return c > ' ' && c < '\x7f'; });
    if (plain && !authority.empty() && authority.front() != ':') return std::nullopt;
  }
  // Whatever it is: what may be a password is not repeated.
  return address.find('@') == std::string::npos ? say::no_page_address(address) : say::page_address_with_person();
}

}  // namespace zoneproof::handover
