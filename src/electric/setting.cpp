#include "electric/setting.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "electric/answer.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

std::optional<double> low_end(const site::Value& value) {
  return value.known() ? std::optional<double>(value.low) : std::nullopt;
}
std::optional<double> high_end(const site::Value& value) {
  return value.known() ? std::optional<double>(value.high) : std::nullopt;
}

NormalRange narrowest(const site::Value& min, const site::Value& max) { return {high_end(min), low_end(max)}; }
NormalRange widest(const site::Value& min, const site::Value& max) { return {low_end(min), high_end(max)}; }

void take_normal(Setting& setting, const site::Value& min, const site::Value& max) {
  for (const site::Value* value : {&min, &max}) add_if_weak(setting.gaps, *value);
  setting.certainly_normal = narrowest(min, max);
  setting.possibly_normal = widest(min, max);
}

/// An alarm range is set where one of its limits is; then the other has to be stated too, if only as none.
void take_alarm(Setting& setting, const site::Value& min, const site::Value& max) {
  if (!min.known() && !max.known()) return;
  for (const site::Value* value : {&min, &max}) add_if_weak(setting.gaps, *value);
  setting.certain_alarm = narrowest(min, max);
}

class Fitting {
 public:
  Fitting(const site::Site& site, const std::string& trigger)
      : site_(site), set_(site.triggers.at(trigger).setting), unit_(site.triggers.at(trigger).unit.id) {}

  std::vector<SettingFault> run(const site::UnitInputSpec& input) {
    if (!input.judging.known()) faults_.push_back({std::nullopt, chain::Gap{input.judging.pointer, "unknown"}});
    if (input.judging.is(site::Judging::presets)) return faults_;
    if (input.judging.is(site::Judging::threshold) && set_.normal_min_V.known() && set_.normal_max_V.known()) {
      faults_.push_back({say::setting_has_two_limits(thing_words(site_, unit_)), std::nullopt});
    }
    ranges_apart();
    for (const site::Value* limit : limits()) {
      if (!limit->known()) continue;
      against_range(*limit, input);
      against_grid(*limit, input.step_V);
    }
    return faults_;
  }

 private:
  std::array<const site::Value*, 4> limits() const {
    return {&set_.normal_min_V, &set_.normal_max_V, &set_.alarm_min_V, &set_.alarm_max_V};
  }

  /// What lies in both ranges is normal and alarm at once: nobody knows what the unit does there.
  void ranges_apart() {
    const NormalRange normal = widest(set_.normal_min_V, set_.normal_max_V);
    if (!set_.alarm_min_V.known() && !set_.alarm_max_V.known()) return;
    const NormalRange alarm = widest(set_.alarm_min_V, set_.alarm_max_V);
    const double from = std::max(normal.min_V.value_or(-HUGE_VAL), alarm.min_V.value_or(-HUGE_VAL));
    const double to = std::min(normal.max_V.value_or(HUGE_VAL), alarm.max_V.value_or(HUGE_VAL));
    if (from < to) faults_.push_back({say::setting_overlaps(thing_words(site_, unit_)), std::nullopt});
  }

  /// Above what it measures an input reads full scale: a limit up there is never crossed.
  void against_range(const site::Value& limit, const site::UnitInputSpec& input) {
    if (input.measuring_max_V.none()) return;
    if (!input.measuring_max_V.known()) {
      faults_.push_back({std::nullopt, chain::Gap{input.measuring_max_V.pointer, "unknown"}});
      return;
    }
    const double reach = limit.high + allowance_of(input).error_V;
    if (reach <= input.measuring_max_V.low) return;
    faults_.push_back({say::setting_beyond_input(Measure{limit.nominal, "V"}, thing_words(site_, unit_),
                                                 Measure{input.measuring_max_V.low, "V"}),
                       std::nullopt});
  }

  void against_grid(const site::Value& limit, const site::Value& step) {
    constexpr double same = 1e-6;  // of a step
    if (step.unknown()) {
      faults_.push_back({std::nullopt, chain::Gap{step.pointer, "unknown"}});
      return;
    }
    if (!step.known() || !(step.nominal > 0.0)) return;
    const double steps = limit.nominal / step.nominal;
    if (std::fabs(steps - std::round(steps)) < same) return;
    faults_.push_back(
        {say::setting_off_grid(Measure{limit.nominal, "V"}, thing_words(site_, unit_), Measure{step.nominal, "V"},
                               Measure{std::round(steps) * step.nominal, "V"}),
         std::nullopt});
  }

  const site::Site& site_;
  const site::InputSetting& set_;
  const std::string& unit_;
  std::vector<SettingFault> faults_;
};

}  // namespace

Setting setting_of(const site::Site& site, const std::string& trigger) {
  const site::Trigger& own = site.triggers.at(trigger);
  const site::InputSetting& set = own.setting;
  Setting setting;
  const site::UnitSpec* spec = site::unit_spec(site, own.unit.id);
  if (spec != nullptr && spec->input.judging.is(site::Judging::presets)) {
    const auto preset = spec->input.presets.find(set.preset);
    if (preset == spec->input.presets.end()) {
      setting.gaps.push_back({"/triggers/" + trigger + "/setting/preset", "unknown"});
      return setting;
    }
    take_normal(setting, preset->second.normal_min_V, preset->second.normal_max_V);
    return setting;
  }
  take_normal(setting, set.normal_min_V, set.normal_max_V);
  take_alarm(setting, set.alarm_min_V, set.alarm_max_V);
  return setting;
}

std::vector<SettingFault> setting_faults(const site::Site& site, const std::string& trigger) {
  const site::UnitSpec* spec = site::unit_spec(site, site.triggers.at(trigger).unit.id);
  if (spec == nullptr) return {};
  return Fitting(site, trigger).run(spec->input);
}

}  // namespace zoneproof::electric
