#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "site/parts.hpp"

/// What meter readings at the two screws of a zone terminal say about the source behind them.
///
/// Model. A steady terminal without papers is an open-circuit source V behind a series resistance R >= 0 (Thevenin). A
/// voltmeter of conductance g, with everything else that lies on the screws counted into g, reads V / (1 + R g); an
/// ammeter of burden b beside a conductance g reads V / (b + R (1 + b g)). The meter's data sheet bounds its error, so
/// what was really there is some x in [x_lo, x_hi], g in [g_lo, g_hi], b in [b_lo, b_hi], and the reading says
///
///     x_lo (p + q R) <= V <= x_hi (p + q R),        voltage: p = 1, q = g;   current: p = b, q = 1 + b g,
///
/// with p and q at their low ends where that is the weaker claim and at their high ends where not (below zero). Both
/// sides are straight lines in the plane of R and V: a reading is two half planes, several readings are a convex
/// polygon, which may be open towards large R, or empty. That is exact and uses no statistics: every pair inside gives
/// these readings with some errors that the meter may have, no pair outside does. (Where the same meter takes several
/// readings its input resistance is one number; here it is free in each: safe, and as good as without effect.)
///
/// On mains and on battery the terminal has one R and two V, or one V where the source is regulated: TerminalModel.
///
/// Numerics. Points are kept as rays (r, v, w) of a cone, w = 0 being a direction, and clipped one half plane after the
/// other, each new ray a sum of two old ones with weights that are not negative: nothing can leave the region. Every
/// half plane is first moved outward by 1e-12 of itself, far more than double precision loses, so rounding never shuts
/// out the true pair, and readings that contradict each other by less than that are not noticed. What lies beyond
/// 10^15 ohm counts as infinitely far.
///
/// Fails where the terminal is no source behind a resistance: current sources, LEDs in series, pulsed sources read with
/// a direct-current meter. Such readings usually contradict each other. Method and checks:
/// docs/methods/unknown-terminals.md.
namespace zoneproof::electric {

/// From low to high; either end may be infinite.
struct Extent {
  double low = 0.0;
  double high = 0.0;

  static Extent exactly(double value) { return {value, value}; }
  double width() const { return high - low; }
};

enum class MeterKind { voltage, current };

using site::ReadingSupply;  ///< on what the system was while a reading was taken

/// One reading at the two screws, the loop taken off. Volts, amperes, ohms, siemens. Counted positive as the panel
/// counts its windows: the zone's screw above its reference (below it, where the terminal refers to the positive).
struct MeterReading {
  std::string name;  ///< for whoever asks which one
  MeterKind kind = MeterKind::voltage;
  ReadingSupply supply = ReadingSupply::mains;
  Extent shown;              ///< what the meter showed; a range where its last digits moved
  double error_share = 0.0;  ///< of what is shown: 0.005 for 0.5 %
  double error_fixed = 0.0;  ///< V or A: digits times what one digit is worth
  Extent load_S = {};        ///< all that lies across the screws: the voltmeter itself, a resistor, the panel's input
  Extent burden_ohm = {};    ///< current only: the ammeter's own resistance
  Extent really() const;     ///< what was there: shown, less and more the meter's error
};

/// One corner of a region, or a direction in which it has no end.
struct TerminalPoint {
  double ohm = 0.0;
  double volts = 0.0;
};

/// The convex set of pairs (R, V) that agree with everything that it was cut by; at first all with R >= 0.
class TerminalRegion {
 public:
  TerminalRegion();

  void cut(const MeterReading& reading);
  void cut_ohm(const Extent& ohm);
  void cut_volts(const Extent& volts);
  /// V / R, the current into a short.
  void cut_amperes(const Extent& amperes);

  bool empty() const { return vertices_.empty(); }
  bool bounded() const { return !empty() && directions_.empty(); }
  /// Corners, counter-clockwise with R to the right and V upward.
  const std::vector<TerminalPoint>& vertices() const { return vertices_; }
  /// Where the region goes on without end: each (ohm, volts) step can be repeated for ever. Empty: it is bounded.
  const std::vector<TerminalPoint>& directions() const { return directions_; }

  /// Not to be asked of an empty region.
  Extent ohm() const;
  Extent volts() const;
  /// Extremes of V / (1 + R g) over the region and over `load_S` (0: the open screws): the voltage that any resistive
  /// load brings the screws to. A ratio of two linear functions has its extremes at corners; of an unbounded region its
  /// limit along each direction counts. Cost: linear in the corners.
  Extent voltage_over(const Extent& load_S) const;
  /// Extremes of the current through an ammeter of that burden, `load_S` beside it.
  Extent current_through(const Extent& burden_ohm, const Extent& load_S) const;

 private:
  /// r is in kilohm: of the order of v.
  struct Ray {
    double r, v, w;
  };
  /// a r + b v + c w >= 0.
  struct HalfPlane {
    double a, b, c;
    double at(const Ray& ray) const { return a * ray.r + b * ray.v + c * ray.w; }
  };

  void build();
  void clip(const HalfPlane& half);
  void settle();
  Extent ratio(double p, double q) const;

  Extent kohm_;                    ///< all cuts by R alone
  std::vector<HalfPlane> slopes_;  ///< all others, in the order in which they came
  std::vector<Ray> rays_;
  std::vector<TerminalPoint> vertices_, directions_;
};

/// What is known of a terminal beside readings (a data sheet); the whole of it where nothing is.
///
/// Behind an input. A sheet tells V and R of the source; where nobody knows the panel's measuring input X >= 0, the
/// readings tell source and input together: V' = t V and R' = t R with t = X / (R + X), any number from 0 to 1. So the
/// pairs (R', V') that the sheet allows are the box of (R, V) with all that lies between it and the origin: R' no more
/// than R, V' no farther from zero than V, and V' / R' = V / R, for the input draws nothing of a short's current.
struct KnownSource {
  Extent ohm, volts;
  bool behind_input = false;  ///< readings hold an input of which nothing is known, `ohm` and `volts` do not
  KnownSource();
};

/// One R and the V of each supply: the exact joint set of all readings.
struct TerminalModel {
  bool same_source = true;        ///< one V for both supplies: both regions are then the same
  TerminalRegion mains, battery;  ///< pairs that agree with all readings, those of the other supply included
  bool empty() const { return mains.empty() || battery.empty(); }
  bool bounded() const { return mains.bounded() && (same_source || battery.bounded()); }
  const TerminalRegion& on(ReadingSupply supply) const { return supply == ReadingSupply::mains ? mains : battery; }
};

/// Cost: linear in the readings.
TerminalModel terminal_model(const std::vector<MeterReading>& readings, bool same_source,
                             const KnownSource& known = {});

/// Of readings that contradict each other: the index of each one without which the others agree. One: that reading is
/// wrong, or was taken in another state; several: one of them is; none: more than one is, or the terminal is no source
/// behind a resistance. Empty too where nothing contradicts. Cost: quadratic in the readings.
std::vector<std::size_t> against_the_others(const std::vector<MeterReading>& readings, bool same_source,
                                            const KnownSource& known = {});

}  // namespace zoneproof::electric
