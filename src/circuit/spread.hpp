#pragma once
#include "circuit/network.hpp"

/// How chance fills a range: the distribution of one value between its ends.
///
/// A tolerance says how far a value may be, not how often it is where. Three laws, each with nothing beyond the ends:
///  - most ranges: a normal distribution about the middle of the range, cut at its ends, with `sigmas` standard
///    deviations between middle and end. 0 is the limit in which every value of the range is equally likely;
///  - ranges of positive ends whose ratio is `log_ratio` or more: every value equally likely on a logarithmic scale. An
///    envelope over decades says nothing about the scale, and evenly in ohms it would nearly never be below a tenth;
///  - resistances up to infinity (leakage): every conductance from zero to that of the low end equally likely.
/// A resistance anywhere between a wire and open is a contact that may stand either way: no law of chance, is_switch().
///
/// Sources: cut normal distribution: Johnson, Kotz, Balakrishnan, Continuous Univariate Distributions 1, 1994, 13.10;
/// even distribution where only ends are known: JCGM 100:2008, 4.3.7. Both from memory.
namespace zoneproof::circuit {

struct SpreadLaw {
  double sigmas;     ///< >= 0
  double log_ratio;  ///< > 1
};

/// A resistance that is conductor at one end and leakage or open at the other.
bool is_switch(const Element& element, double leakage_ohm);

/// The scale on which a value is spread evenly or normally.
enum class Scale { linear, logarithmic, conductance };

/// The distribution of one range; values in the range's own unit, moments on its scale (ohm, ln ohm, siemens).
class Spread {
 public:
  /// `range` is wide, and not from 0 to infinity.
  Spread(const Range& range, const SpreadLaw& law);

  Scale scale() const { return scale_; }
  /// The value below which the share u of all values lies, 0 <= u <= 1: from low to high end. Of a conductance from the
  /// high end.
  double at_share(double u) const;
  double middle() const { return value_at(middle_); }
  /// The value `sigmas` standard deviations from the mean, both on the scale; at most an end.
  double from_mean(double sigmas) const;
  double sigma() const { return sigma_; }  ///< on the scale

 private:
  double value_at(double on_scale) const;

  Scale scale_ = Scale::linear;
  double middle_ = 0.0, half_ = 0.0, sigma_ = 0.0;  ///< on the scale
  double cut_ = 0.0;                                ///< standard deviations of the uncut normal between middle and end
  double below_ = 0.5;                              ///< share of the uncut normal below the low end
};

}  // namespace zoneproof::circuit
