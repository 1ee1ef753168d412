#include "electric/drive.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace zoneproof::electric {

namespace {

using site::TerminalDrive;
using site::TerminalWave;
using site::Value;

TerminalWave wave_of(const site::ZoneTerminalSpec& spec) { return spec.wave.value.value_or(TerminalWave::sine); }

bool alternating(const site::ZoneTerminalSpec& spec) { return spec.drive.is(TerminalDrive::alternating); }

/// Mean of a wave of amplitude 1 over a period.
double wave_mean(TerminalWave wave) {
  switch (wave) {
    case TerminalWave::half_wave: return 1.0 / std::numbers::pi;
    case TerminalWave::full_wave: return 2.0 / std::numbers::pi;
    default: return 0.0;
  }
}

/// share x a + (1 - share) x b, over all corners: it is linear in each of the three.
Tracked mixed(const Tracked& share, const Tracked& a, const Tracked& b) {
  const auto mix = [](double s, double x, double y) { return s * x + (1.0 - s) * y; };
  const auto end = [](double s) { return std::clamp(s, 0.0, 1.0); };
  Tracked result{circuit::Range::exactly(mix(end(share.range.nominal), a.range.nominal, b.range.nominal)), share.bases};
  for (double s : {end(share.range.low), end(share.range.high)}) {
    for (double x : {a.range.low, a.range.high}) {
      for (double y : {b.range.low, b.range.high}) {
        result.range.low = std::min(result.range.low, mix(s, x, y));
        result.range.high = std::max(result.range.high, mix(s, x, y));
      }
    }
  }
  for (const Tracked* part : {&a, &b}) result.bases.insert(result.bases.end(), part->bases.begin(), part->bases.end());
  return result;
}

Tracked share_of_period(const Value& seconds, const Value& period) {
  return tracked(seconds, 0.0) / tracked(period, 0.0);
}

/// The mean of the source over a period.
Tracked mean_volts(const site::ZoneTerminalSpec& spec, const Tracked& on_volts) {
  if (alternating(spec))
    return scaled(tracked(spec.rms_V, 0.0), crest_factor(wave_of(spec)) * wave_mean(wave_of(spec)));
  const Tracked off = tracked(spec.off_V, 0.0);
  const Tracked on_share = share_of_period(spec.on_s, spec.period_s);
  if (spec.drive.is(TerminalDrive::scanned)) return mixed(on_share, on_volts, off);
  const Tracked reverse = tracked(spec.reverse_V, 0.0);
  if (spec.reverse_s.none()) return mixed(on_share, on_volts, reverse);
  // mean = on + reverse + off = a V + b R + (1 - a - b) O, with O taken out of both
  const Tracked both = mixed(on_share, on_volts, off);
  const Tracked other = mixed(share_of_period(spec.reverse_s, spec.period_s), reverse, off);
  return both + other + scaled(off, -1.0);
}

void take(DriveTiming& timing, const Value& value, Seconds& into) {
  add_if_weak(timing.gaps, value);
  if (!value.known()) {
    timing.known = false;
    return;
  }
  timing.origin = std::max(timing.origin, value.origin);
  into = {value.low, value.high};
}

void take_pulses(const site::ZoneTerminalSpec& spec, DriveTiming& timing) {
  take(timing, spec.on_s, timing.on);
  timing.on.high = std::min(timing.on.high, timing.period.high);
  const bool bipolar = spec.drive.is(TerminalDrive::bipolar);
  if (bipolar && !spec.reverse_s.none()) take(timing, spec.reverse_s, timing.reverse);
  if (!timing.known) return;
  const Seconds rest = {std::max(0.0, timing.period.low - timing.on.high - timing.reverse.high),
                        std::max(0.0, timing.period.high - timing.on.low - timing.reverse.low)};
  (bipolar && spec.reverse_s.none() ? timing.reverse : timing.off) = rest;
}

}  // namespace

const char* word(DrivePart part) {
  switch (part) {
    case DrivePart::on: return "on";
    case DrivePart::off: return "off";
    case DrivePart::reverse: return "reverse";
    case DrivePart::mean: return "mean";
  }
  return "";
}

bool pulsed(const site::ZoneTerminalSpec& spec) { return spec.drive.known() && !spec.drive.is(TerminalDrive::steady); }

Seconds DriveTiming::of(DrivePart part) const {
  switch (part) {
    case DrivePart::on: return on;
    case DrivePart::off: return off;
    case DrivePart::reverse: return reverse;
    default: return period;
  }
}

std::vector<DrivePart> parts_of(const site::ZoneTerminalSpec& spec) {
  if (alternating(spec)) return {DrivePart::on, DrivePart::reverse};
  if (spec.drive.is(TerminalDrive::scanned)) return {DrivePart::on, DrivePart::off};
  if (spec.reverse_s.none()) return {DrivePart::on, DrivePart::reverse};
  return {DrivePart::on, DrivePart::off, DrivePart::reverse};
}

DriveTiming timing_of(const site::ZoneTerminalSpec& spec) {
  DriveTiming timing;
  timing.known = true;
  timing.parts = parts_of(spec);
  take(timing, spec.period_s, timing.period);
  if (alternating(spec)) {
    if (!spec.wave.known()) chain::add_gap(timing.gaps, {spec.wave.pointer, "unknown"});
    timing.known = timing.known && spec.wave.known();
  } else {
    take_pulses(spec, timing);
  }
  if (timing.known && !(timing.period.low > 0.0)) {  // a period of nothing says nothing
    timing.known = false;
    chain::add_gap(timing.gaps, {spec.period_s.pointer, "unknown"});
  }
  return timing;
}

Tracked drive_volts(const site::ZoneTerminalSpec& spec, DrivePart part, const Tracked& on_volts) {
  if (part == DrivePart::mean) return mean_volts(spec, on_volts);
  if (alternating(spec)) {
    const double crest = crest_factor(wave_of(spec));
    return scaled(tracked(spec.rms_V, 0.0), part == DrivePart::on ? crest : crest * wave_bottom(wave_of(spec)));
  }
  if (part == DrivePart::reverse) return tracked(spec.reverse_V, 0.0);
  return part == DrivePart::off && !spec.off_V.none() ? tracked(spec.off_V, 0.0) : on_volts;
}

bool lets_go(const site::ZoneTerminalSpec& spec, DrivePart part) { return part == DrivePart::off && spec.off_V.none(); }

double wave_at(TerminalWave wave, double share) {
  const double angle = 2.0 * std::numbers::pi * share;
  switch (wave) {
    case TerminalWave::square: return std::sin(angle) >= 0.0 ? 1.0 : -1.0;
    case TerminalWave::half_wave: return std::max(0.0, std::sin(angle));
    case TerminalWave::full_wave: return std::fabs(std::sin(angle));
    default: return std::sin(angle);
  }
}

double wave_bottom(TerminalWave wave) {
  return wave == TerminalWave::half_wave || wave == TerminalWave::full_wave ? 0.0 : -1.0;
}

double crest_factor(TerminalWave wave) {
  switch (wave) {
    case TerminalWave::square: return 1.0;
    case TerminalWave::half_wave: return 2.0;
    default: return std::sqrt(2.0);
  }
}

}  // namespace zoneproof::electric
