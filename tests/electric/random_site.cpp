#include "electric/random_site.hpp"

#include <fstream>
#include <random>
#include <stdexcept>

#include "site/file.hpp"

namespace zoneproof::electric {
namespace {

using nlohmann::json;

class Maker {
 public:
  explicit Maker(unsigned seed) : random_(seed), seed_(seed) {}

  json make() {
    site_ = json::parse(std::ifstream(std::string(ZONEPROOF_SOURCE_DIR) + "/tests/electric/decks/base.site.json"));
    terminal();
    loop();
    unit();
    rules();
    return site_;
  }

 private:
  double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
  json number(double low, double high) {
    return {{"value", between(low, high)}, {"tolerance_pct", between(0.5, 6.0)}, {"origin", "measured"}};
  }

  void terminal() {
    json& spec = site_["parts"]["terminal_part"]["zone_terminal"];
    spec["source_V"] = {{"value", 5.0}, {"tolerance_pct", between(0.2, 2.0)}, {"origin", "measured"}};
    spec["pullup_ohm"] = number(2000, 4000);
    const double first = between(0.5, 1.0), second = between(2.6, 3.2), third = between(4.0, 4.7);
    spec["windows"] = {{"short", window("shorted", "none", first - 0.05)},
                       {"low", window("secure", first, second)},
                       {"middle", window("alarm", second + 0.05, third)},
                       {"high", window("tamper", third + 0.05, "none")}};
  }

  static json window(const char* means, const json& low, const json& high) {
    return {{"means", means}, {"min_V", low}, {"max_V", high}};
  }

  json contact(const char* detector, const char* role, const char* kind) {
    return {{"detector", detector}, {"contact", kind}, {"role", role}, {"shunt_ohm", "none"}};
  }

  void loop() {
    static const char* const arrangements[] = {"normally_closed", "normally_open", "single_eol_closed",
                                               "single_eol_open", "double_eol",    "triple_eol"};
    const std::string arrangement = arrangements[seed_ % 6];
    const bool open = arrangement == "normally_open" || arrangement == "single_eol_open";
    json& loop = site_["zones"]["z1"]["loop"];
    loop["arrangement"] = arrangement;
    loop["contacts"] = {{"a", contact("da", "alarm", open ? "open" : "closed")}};
    if (seed_ % 2 == 0) loop["contacts"]["b"] = contact("db", "alarm", open ? "open" : "closed");
    if (arrangement.find("eol") != std::string::npos) loop["eol_ohm"] = number(1500, 4000);
    if (arrangement == "double_eol" || arrangement == "triple_eol") loop["alarm_ohm"] = number(3000, 8000);
    if (arrangement == "triple_eol") {
      loop["mask_ohm"] = number(1000, 3000);
      loop["contacts"]["m"] = contact("dm", "mask", "closed");
    }
    if (arrangement.rfind("normally", 0) == 0) loop.erase("eol_place");
    json& cable = site_["cables"]["loop_cable"];
    cable["length_m"] = number(10, 120);
    cable["leakage_ohm"] = number(2e6, 2e7);
  }

  void unit() {
    json& spec = site_["parts"]["unit_part"]["unit"];
    spec["current_A"] = number(0.1, 0.4);
    json& input = spec["input"];
    input["impedance_ohm"] = number(30e3, 300e3);
    if (seed_ % 3 == 0) {
      input.update(json{{"pullup_ohm", number(100e3, 300e3)},
                        {"inner_rail_V", number(3.0, 5.5)},
                        {"inner_rail_load_ohm", number(2e3, 20e3)}});
    }
    site_["triggers"]["t1"]["setting"] = {{"normal_min_V", between(0.0, 0.8)}, {"normal_max_V", between(2.5, 3.2)}};
  }

  void rules() {
    json& book = site_["rulebooks"]["deck_rules"];
    const auto entry = [](double value, const char* unit) {
      return json{{"value", value},
                  {"unit", unit},
                  {"meaning", "Chosen for the test."},
                  {"source", "chosen for the test"},
                  {"verified", true}};
    };
    for (const char* id : {"loop_margin_V", "trigger_margin_V", "arming_margin_V", "supply_margin_V",
                           "detector_supply_margin_V", "load_supply_margin_V", "negative_shift_V"}) {
      book["entries"][id] = entry(0.1, "V");
    }
    for (const char* id : {"disturbance_share_pct", "supply_headroom_pct", "fuse_load_pct"})
      book["entries"][id] = entry(25, "pct");
    const auto state = [](const char* trigger) {
      return json{{"trigger", trigger}, {"source", "chosen for the test"}, {"verified", true}};
    };
    book["states"] = {{"rest", state("must_not")},
                      {"alarm", state("must_trigger")},
                      {"second_alarm", state("must_not")},
                      {"both_alarm", state("must_trigger")},
                      {"masked", state("either")},
                      {"fault", state("either")},
                      {"tamper_open", state("must_trigger")},
                      {"shorted", state("either")}};
  }

  std::mt19937 random_;
  unsigned seed_;
  json site_;
};

}  // namespace

json random_site(unsigned seed) { return Maker(seed).make(); }

std::vector<std::string> telling_numbers(const json& site) {
  std::vector<std::string> found;
  for (const char* pointer : {"/parts/terminal_part/zone_terminal/source_V",
                              "/parts/terminal_part/zone_terminal/pullup_ohm",
                              "/parts/terminal_part/zone_terminal/windows/low/min_V",
                              "/parts/terminal_part/zone_terminal/windows/low/max_V",
                              "/parts/terminal_part/zone_terminal/windows/middle/min_V",
                              "/parts/terminal_part/zone_terminal/windows/middle/max_V",
                              "/zones/z1/loop/eol_ohm",
                              "/zones/z1/loop/alarm_ohm",
                              "/zones/z1/loop/mask_ohm",
                              "/cables/loop_cable/length_m",
                              "/cables/loop_cable/leakage_ohm",
                              "/cables/feed_cable/length_m",
                              "/parts/signal_cable/cable/resistance_ohm_per_km",
                              "/parts/detector_part/detector/contacts/closed/closed_ohm",
                              "/parts/unit_part/unit/current_A",
                              "/parts/unit_part/unit/input/impedance_ohm",
                              "/parts/unit_part/unit/input/pullup_ohm",
                              "/parts/unit_part/unit/input/inner_rail_V",
                              "/parts/unit_part/unit/input/error_V",
                              "/parts/unit_part/unit/input/hysteresis_V",
                              "/parts/unit_part/unit/input/damage_max_V",
                              "/triggers/t1/setting/normal_min_V",
                              "/triggers/t1/setting/normal_max_V"}) {
    const json::json_pointer at(pointer);
    if (site.contains(at) && !site.at(at).is_string()) found.push_back(pointer);
  }
  return found;
}

site::Site read(const json& site) {
  const site::ReadResult result = site::read_site(site.dump(1), "site");
  if (result.site) return *result.site;
  std::string said;
  for (const Message& message : result.messages) said += full_text(message) + "\n";
  throw std::runtime_error(said);
}

}  // namespace zoneproof::electric
