#include "large_site.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>
#include <vector>

#include "large_network.hpp"
#include "large_values.hpp"
#include "site/file.hpp"
#include "site/shelf.hpp"

namespace zoneproof::large {

namespace {

using site::Origin;
using site::Ref;
using site::Value;

constexpr double kEntry_s = 30.0, kExit_s = 45.0;
constexpr unsigned zones_of_a_panel = 128;     ///< and of its expanders
constexpr unsigned inputs_of_a_terminal = 16;  ///< of panel, expander and unit

/// One kind of zone: what stands in its loop, how, and what its input is set to.
struct Kind {
  const char* name;
  const char* detector;
  site::Arrangement arrangement;
  unsigned most_detectors;
  unsigned weight;  ///< of a hundred
};

constexpr site::Arrangement double_eol = site::Arrangement::double_eol;
constexpr Kind kinds[] = {{"passage", "pir_wide_12m", double_eol, 1, 30},
                          {"room", "pir_wide_12m_relay", double_eol, 1, 10},
                          {"hall", "dual_wide_12m", double_eol, 1, 8},
                          {"window", "glass_break_acoustic", double_eol, 1, 8},
                          {"door", "contact_door", double_eol, 2, 20},
                          {"roller doors", "contact_roller_door", double_eol, 4, 8},
                          {"hatch", "contact_door_no_tamper", site::Arrangement::single_eol_closed, 1, 8},
                          {"floor mat", "floor_mat", site::Arrangement::single_eol_open, 1, 4},
                          {"cupboard", "contact_door_no_tamper", site::Arrangement::normally_closed, 1, 4}};

/// What all inputs of one panel or expander are: its end-of-line resistor, which is its pull-up too.
struct Terminals {
  const char* suffix;  ///< in the ids of the shelf
  double ohm;
};
constexpr Terminals terminal_kinds[] = {{"4k7", 4700.0}, {"5k6", 5600.0}};

std::string terminal_part(const Terminals& terminals, site::Arrangement arrangement) {
  const std::string suffix = terminals.suffix;
  switch (arrangement) {
    case site::Arrangement::double_eol: return "terminal_5v_double_" + suffix + "_pu" + suffix;
    case site::Arrangement::single_eol_closed:
    case site::Arrangement::single_eol_open: return "terminal_5v_single_" + suffix + "_pu" + suffix;
    default: return "terminal_5v_nc_pu" + suffix;
  }
}

class Maker {
 public:
  Maker(unsigned zones, std::uint64_t seed) : draw_(seed), zones_(zones), network_(site_, zones, seed) {
    if (zones == 0) throw std::invalid_argument("a site has one zone at least");
    site_.revision = 1;
    site_.name = "Generated site, " + std::to_string(zones) + " zones, seed " + std::to_string(seed);
    site_.note = "Invented by a program for measuring and for tests.";
    site_.origin = Origin::measured;
    site_.bonds_complete = flag(true);
    site_.rulebook = {ref("european_intruder"), count(2), {}};
    site_.rulebooks["european_intruder"] = site::rulebook_for_site("european_intruder").value();
  }

  site::Site make() {
    for (unsigned first = 0; first < zones_; first += zones_of_a_panel) {
      ++hall_;
      add_hall(std::min(zones_of_a_panel, zones_ - first));
    }
    return std::move(site_);
  }

 private:
  // --- names ----------------------------------------------------------------------------------------------------
  /// Ids of a hall and of what stands around one panel or expander in it: "h2_supply", "h2e3_supply".
  std::string hall_id(const char* what) const { return id_in_hall(hall_, what); }
  std::string group_id(const std::string& what) const { return id_in_group(hall_, group_, what); }
  std::string place() const {
    return group_ == 0 ? "hall " + std::to_string(hall_)
                       : "hall " + std::to_string(hall_) + ", expander " + std::to_string(group_);
  }

  Ref part(const std::string& id) { return part_of_shelf(site_, id); }

  // --- building -------------------------------------------------------------------------------------------------
  void add_hall(unsigned zones) {
    static constexpr int climates[][2] = {{12, 30}, {5, 32}, {-15, 34}, {0, 8}, {16, 26}};
    const auto& climate = climates[draw_.below(5)];
    const std::string name = "hall " + std::to_string(hall_);
    site_.areas[hall_id("hall")] = {"Floor of " + name, number(climate[0]), number(climate[1])};
    site_.areas[hall_id("offices")] = {"Offices of " + name, number(14), number(29)};
    site_.areas[hall_id("equipment")] = {"Equipment room of " + name, number(15), number(27)};
    site_.partitions[hall_id("partition")] = {"Hall " + std::to_string(hall_), count(hall_), number(kEntry_s),
                                              number(kExit_s)};
    group_ = 0;
    for (unsigned first = 0; first < zones; first += inputs_of_a_terminal, ++group_) {
      add_group(std::min(inputs_of_a_terminal, zones - first));
    }
  }

  /// A panel or an expander with its supply, its zones and its unit.
  void add_group(unsigned zones) {
    terminals_ = terminal_kinds[draw_.below(2)];
    add_supply(group_id("supply"), "Supply of " + place(),
               group_ == 0 ? "panel_supply_3a_early_cutoff" : "boxed_supply_2a_2_fused_early_cutoff", "battery_38ah");
    add_panel();
    if (group_ == 0) add_hall_loads();
    if (group_ != 0) join_bus();
    add_unit();
    network_.add_group({hall_, group_, zones, place()});
    shared_return_ = draw_.one_in(2) ? draw_.between(1, inputs_of_a_terminal - 1) : 0;
    for (unsigned input = 1; input <= zones; ++input) add_zone(input);
  }

  void add_supply(const std::string& id, const std::string& name, const char* kind, const char* battery) {
    site::Supply& supply = site_.supplies[id];
    supply = {name, part(kind), ref(hall_id("equipment")), flag(true), flag(true)};
    site::Battery& cells = site_.batteries[id + "_battery"];
    cells = {"Battery, " + name, part(battery), ref(id), supply.area, count(1), number(draw_.below(3))};
  }

  Ref cable(const std::string& id, const std::string& name, const char* kind, double length_m,
            const std::vector<const char*>& areas, unsigned joints) {
    site::Cable& made = site_.cables[id];
    made = {name, part(kind), number(length_m), {}, count(1), count(joints), {}, {}};
    for (const char* area : areas) made.areas.push_back(ref(hall_id(area)));
    return ref(id);
  }

  site::Feed feed(const std::string& from, const char* output, Ref over) {
    return {ref(from), output, std::move(over), none(), {}, {}};
  }

  void add_panel() {
    site::Panel& panel = site_.panels[group_id("panel")];
    panel.name = (group_ == 0 ? "Panel, " : "Expander, ") + place();
    panel.part = part(group_ == 0 ? "panel_16" : "expander_16");
    panel.area = ref(hall_id("equipment"));
    panel.feed = feed(group_id("supply"), group_ == 0 ? "board" : "out1", ref("none"));
    panel.zone_terminal = part(terminal_part(terminals_, double_eol));
    panel.access = {word(site::KnownState::known), word(site::KnownState::known), "Maintained by the firm",
                    flag(false)};
  }

  void add_hall_loads() {
    const auto load = [&](const char* what, const char* name, const char* kind, const char* area, const char* output,
                          Ref over) {
      site_.loads[hall_id(what)] = {name + (", hall " + std::to_string(hall_)), part(kind), ref(hall_id(area)),
                                    feed(group_id("supply"), output, std::move(over))};
    };
    load("dialler", "Dialler", "dialler_ip", "equipment", "aux3", ref("none"));
    load("keypad", "Keypad", "keypad", "offices", "aux2",
         cable(hall_id("k_keypad"), "Keypad, hall " + std::to_string(hall_), "alarm_8x0_22", draw_.between(5, 25),
               {"equipment", "offices"}, 2));
    load("sounder", "Sounder", "sounder_internal", "hall", "sounder",
         cable(hall_id("k_sounder"), "Sounder, hall " + std::to_string(hall_), "cable_2x1_0_flexible",
               draw_.between(10, 40), {"equipment", "hall"}, 2));
  }

  /// The bus of an expander joins the negatives of its supply and of the one before it.
  void join_bus() {
    const std::string before = id_in_group(hall_, group_ - 1, "supply");
    site_.bonds[group_id("bus")] = {"Negative in the bus, " + place(),
                                    word(site::BondKind::serial_line),
                                    ref(before),
                                    ref(group_id("supply")),
                                    cable(group_id("k_bus"), "Bus, " + place(), "cable_4x1_0_flexible",
                                          draw_.between(10, 80), {"equipment", "hall"}, 2),
                                    {},
                                    {}};
  }

  void add_unit() {
    const std::string own = group_id("unit_supply");
    add_supply(own, "Supply of the unit of " + place(), "boxed_supply_2a", "battery_24ah");
    site_.bonds[group_id("unit_bond")] = {"Negatives joined, unit of " + place(),
                                          word(site::BondKind::wire),
                                          ref(group_id("supply")),
                                          ref(own),
                                          cable(group_id("k_bond"), "Join of the negatives, unit of " + place(),
                                                "cable_2x1_5_flexible", 0.1 * draw_.between(5, 25), {"equipment"}, 2),
                                          {},
                                          {}};
    site::Output& output = site_.outputs[group_id("armed")];
    output.name = "Output 1, " + place();
    output.panel = ref(group_id("panel"));
    output.number = count(1);
    output.part = part("output_open_collector_100ma");
    output.follows = word(site::FollowedEvent::armed);
    output.partitions = {ref(hall_id("partition"))};
    output.partition_rule = word(site::PartitionRule::all);
    output.follows_part_set = flag(false);
    output.moment = word(site::ArmingMoment::exit_end);
    output.active_when = word(site::ActiveWhen::disarmed);
    output.mode = word(site::OutputMode::level);

    const double wires_m = 0.1 * draw_.between(10, 60);
    for (const char* which : {"k_wires", "k_more_wires"}) {
      cable(group_id(which), "Triggers and arming, unit of " + place(), "alarm_12x0_22", wires_m, {"equipment"}, 2);
    }
    site::Unit& unit = site_.units[group_id("unit")];
    unit.name = "Unit of " + place();
    unit.part = part("unit_16_ranges_1m");
    unit.area = ref(hall_id("equipment"));
    const Ref over = cable(group_id("k_unit"), "Supply cable, unit of " + place(), "cable_2x1_0_flexible",
                           0.1 * draw_.between(5, 20), {"equipment"}, 2);
    site_.cables[over.id].joint_ohm = Value::between(0.005, 0.01, 0.03, Origin::measured);
    unit.feed = feed(own, "out", over);
    unit.arming = {ref(group_id("armed")),  ref(group_id("k_wires")), resistor(10000),
                   word(site::Level::high), word(site::Level::high),  {}};
  }

  // --- zones ----------------------------------------------------------------------------------------------------
  const Kind& drawn_kind() {
    unsigned at = draw_.below(100);
    for (const Kind& kind : kinds) {
      if (at < kind.weight) return kind;
      at -= kind.weight;
    }
    throw std::logic_error("the weights do not add up to a hundred");
  }

  /// Two doors side by side that use one core for both ways back.
  bool shares_return(unsigned input) const {
    return shared_return_ != 0 && (input == shared_return_ || input == shared_return_ + 1);
  }

  void add_zone(unsigned input) {
    const unsigned n = ++zone_;
    const Kind& kind = shares_return(input) ? kinds[4] : drawn_kind();
    const std::string id = numbered("z", n);
    const bool office = draw_.one_in(3);
    const Ref run = cable(numbered("k", n), "Zone " + std::to_string(n), "alarm_6x0_22", 0.5 * draw_.between(10, 170),
                          office ? std::vector<const char*>{"equipment", "offices"}
                                 : std::vector<const char*>{"equipment", "offices", "hall"},
                          draw_.between(2, 4));
    site::Zone& zone = site_.zones[id];
    zone.number = count(n);
    zone.name = "Hall " + std::to_string(hall_) + ", " + kind.name + " " + std::to_string(n);
    zone.type = word(input == 1 && group_ == 0 ? site::ZoneType::entry_exit : site::ZoneType::intruder);
    zone.partition = ref(hall_id("partition"));
    zone.medium = word(site::Medium::wired);
    zone.panel = ref(group_id("panel"));
    zone.input = count(input);
    zone.doubled_with = ref("none");
    if (kind.arrangement != double_eol) zone.zone_terminal = part(terminal_part(terminals_, kind.arrangement));
    fill_loop(zone.loop, kind, run, input);
    const unsigned detectors = kind.most_detectors == 1 ? 1 : draw_.between(1, kind.most_detectors);
    for (unsigned d = 1; d <= detectors; ++d) add_detector(zone, kind, n, d, input, office ? "offices" : "hall");
    add_trigger(id, zone, kind, input);
  }

  void fill_loop(site::Loop& loop, const Kind& kind, const Ref& run, unsigned input) {
    loop.arrangement = word(kind.arrangement);
    loop.cable = run;
    loop.shared_return = ref("none");
    loop.contacts_complete = flag(true);
    if (kind.arrangement != site::Arrangement::normally_closed) {
      loop.eol_ohm = resistor(terminals_.ohm);
      loop.eol_place = word(site::EolPlace::at_end);
    }
    if (kind.arrangement == double_eol) loop.alarm_ohm = resistor(terminals_.ohm);
    if (!shares_return(input)) return;
    loop.shared_return = ref(group_id("return"));
    site::SharedReturn& shared = site_.shared_returns[group_id("return")];
    if (shared.cable.unknown()) shared = {"Way back of two doors, " + place(), ref(group_id("panel")), run, {}};
  }

  void add_detector(site::Zone& zone, const Kind& kind, unsigned n, unsigned which, unsigned input, const char* area) {
    const std::string id = numbered("d", n) + "_" + std::to_string(which);
    site::Detector& detector = site_.detectors[id];
    detector.name = zone.name + ", detector " + std::to_string(which);
    detector.part = part(kind.detector);
    detector.area = ref(hall_id(area));
    const site::DetectorSpec& spec = *site_.parts.at(kind.detector).detector;
    if (spec.current_A.none()) {
      detector.feed.from = ref("none");
    } else {
      const char* output = group_ == 0 ? "aux1" : input % 2 == 0 ? "out1" : "out2";
      detector.feed = feed(group_id("supply"), output, zone.loop.cable);
    }
    for (const auto& [contact, sheet] : spec.contacts) {
      const bool tamper = sheet.reports.is(site::ContactReports::tamper);
      if (!tamper && !sheet.reports.is(site::ContactReports::alarm)) continue;
      zone.loop.contacts[contact + "_" + std::to_string(which)] = {
          ref(id), contact, word(tamper ? site::ContactRole::tamper : site::ContactRole::alarm), {}, none()};
    }
  }

  void add_trigger(const std::string& id, const site::Zone& zone, const Kind& kind, unsigned input) {
    site::Trigger& trigger = site_.triggers["t" + id.substr(1)];
    trigger.zone = ref(id);
    trigger.source = word(site::TriggerSource::loop_tap);
    trigger.unit = ref(group_id("unit"));
    trigger.input = trigger.channel = count(input);
    trigger.cable = ref(group_id(input < 11 ? "k_wires" : "k_more_wires"));
    trigger.at_panel = zone.panel;
    trigger.at_input = zone.input;
    trigger.series_ohm = trigger.pulldown_ohm = trigger.pullup_ohm = none();
    site::InputSetting& setting = trigger.setting;
    setting.zone_number = zone.number;
    setting.zone_name = zone.name;
    setting.zone_type = zone.type;
    switch (kind.arrangement) {
      case site::Arrangement::double_eol: set_range(setting, number(1.3), number(2.9)); break;
      case site::Arrangement::normally_closed: set_range(setting, none(), number(2.5)); break;
      default: set_range(setting, number(1.3), number(3.3)); break;
    }
  }

  static void set_range(site::InputSetting& setting, Value low, Value high) {
    setting.normal_min_V = std::move(low);
    setting.normal_max_V = std::move(high);
  }

  Draw draw_;
  unsigned zones_;
  site::Site site_;
  Network network_;
  unsigned hall_ = 0;           ///< counted from 1
  unsigned group_ = 0;          ///< panel or expander of the hall: 0 is the panel
  unsigned zone_ = 0;           ///< zones made so far
  unsigned shared_return_ = 0;  ///< input of the first of two doors that share a way back; 0: none do
  Terminals terminals_ = terminal_kinds[0];
};

}  // namespace

std::string site_text(unsigned zones, std::uint64_t seed) { return site::write_site(Maker(zones, seed).make()); }

}  // namespace zoneproof::large
