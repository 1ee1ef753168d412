#include "circuit/yield.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "base/parallel_for.hpp"
#include "circuit/batch.hpp"
#include "circuit/halton.hpp"

namespace zoneproof::circuit {
namespace {

constexpr double slope_step = 0.01;       // standard deviations either way
constexpr std::uint64_t few_points = 10;  // of a replicate: fewer on one side of the limit make no normal mean

struct Uncertain {
  ElementIndex element;
  bool on_ohm;
  Spread spread;
};

using Held = std::map<std::pair<ElementIndex, bool>, double>;

Held held_by(const Corner& corner) {
  Held held;
  for (const CornerEntry& entry : corner) held[{entry.element, entry.on_ohm}] = entry.value;
  return held;
}

/// Everything that chance moves: the wide ranges that no side holds.
std::vector<Uncertain> parameters_of(const Network& network, const Held& held, const YieldOptions& options) {
  std::vector<Uncertain> parameters;
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    const Element& element = network.elements()[e];
    const auto index = static_cast<ElementIndex>(e);
    if (element.value.wide() && held.count({index, false}) == 0) {
      if (is_switch(element, options.solve.leakage_ohm))
        throw std::invalid_argument("a contact that may stand either way is not held: " + element.name);
      parameters.push_back({index, false, Spread(element.value, options.law)});
    }
    if (element.kind == Kind::diode && element.on_ohm.wide() && held.count({index, true}) == 0)
      parameters.push_back({index, true, Spread(element.on_ohm, options.law)});
  }
  return parameters;
}

std::vector<Batch::Varied> varied_by(const std::vector<Uncertain>& parameters) {
  std::vector<Batch::Varied> varied;
  for (const Uncertain& parameter : parameters) varied.push_back({parameter.element, parameter.on_ohm});
  return varied;
}

/// The sides that hold the same elements at the same values: one solution answers them together.
struct SidesTogether {
  Held held;
  Corner corner;  ///< of the first of them
  std::vector<const BandSide*> sides;
};

std::vector<SidesTogether> together(const std::vector<BandSide>& sides) {
  std::vector<SidesTogether> groups;
  for (const BandSide& side : sides) {
    const Held held = held_by(side.held);
    const auto same =
        std::find_if(groups.begin(), groups.end(), [&](const SidesTogether& group) { return group.held == held; });
    if (same == groups.end()) {
      groups.push_back({held, side.held, {&side}});
    } else {
      same->sides.push_back(&side);
    }
  }
  return groups;
}

class Sampling {
 public:
  Sampling(const Network& network, const std::vector<BandSide>& sides, const YieldOptions& options)
      : network_(network), options_(options), groups_(together(sides)) {
    Held any;
    for (const SidesTogether& group : groups_) any.insert(group.held.begin(), group.held.end());
    for (const SidesTogether& group : groups_) {
      // What one side holds and another leaves to chance would be neither.
      if (group.held.size() != any.size()) throw std::invalid_argument("the sides of a band hold different elements");
    }
    parameters_ = parameters_of(network, any, options);
    order_by_share(sides);
    batches_ = write_batches();
  }

  /// Points outside, of each replicate.
  std::vector<std::uint64_t> quasi_random() const {
    return of_replicates(0, [&](std::uint64_t seed) {
      const ScrambledHalton halton(parameters_.size(), seed);
      return [halton](std::uint64_t i, std::vector<double>& point) { halton.point(i, point); };
    });
  }
  std::vector<std::uint64_t> plainly_random() const {
    return of_replicates(options_.replicates, [&](std::uint64_t seed) {
      return [random = RandomBits(seed)](std::uint64_t, std::vector<double>& point) mutable {
        for (double& u : point) u = random.unit();
      };
    });
  }

 private:
  void order_by_share(const std::vector<BandSide>& sides) {
    std::map<std::pair<ElementIndex, bool>, double> weight;
    for (const BandSide& side : sides) {
      const LinearSpread linear = linear_spread(network_, side.quantity, side.held, options_);
      for (const VarianceShare& part : linear.shares) weight[{part.element, part.on_ohm}] += part.share;
    }
    std::stable_sort(parameters_.begin(), parameters_.end(), [&](const Uncertain& a, const Uncertain& b) {
      return weight[{a.element, a.on_ohm}] > weight[{b.element, b.on_ohm}];
    });
  }

  /// The networks of the groups, each with what it holds, written down once for all points.
  std::vector<Batch> write_batches() const {
    std::vector<Batch> batches;
    for (const SidesTogether& group : groups_) {
      std::vector<Quantity> quantities;
      for (const BandSide* side : group.sides) quantities.push_back(side->quantity);
      batches.emplace_back(network_at(network_, group.corner), varied_by(parameters_), std::move(quantities),
                           options_.solve);
    }
    return batches;
  }

  /// How many points of a replicate are outside. `values`: a row for each parameter.
  std::uint64_t outside(const std::vector<double>& values) const {
    const auto count = static_cast<std::size_t>(options_.points);
    std::vector<char> is_outside(count, 0);
    std::vector<double> results;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
      results.resize(groups_[g].sides.size() * count);
      batches_[g].solve(values.data(), count, results.data());
      for (std::size_t s = 0; s < groups_[g].sides.size(); ++s) {
        const BandSide& side = *groups_[g].sides[s];
        for (std::size_t i = 0; i < count; ++i) {
          // What has no operating point is no number, and inside of nothing.
          const double value = results[s * count + i];
          const bool inside = side.at_least ? value >= side.limit : value <= side.limit;
          if (!inside) is_outside[i] = 1;
        }
      }
    }
    return static_cast<std::uint64_t>(std::count(is_outside.begin(), is_outside.end(), 1));
  }

  /// `used`: seeds that earlier points have taken.
  template <typename MakePoints>
  std::vector<std::uint64_t> of_replicates(int used, const MakePoints& make_points) const {
    RandomBits seeds(options_.seed);
    for (int i = 0; i < used; ++i) seeds.next();
    std::vector<std::uint64_t> seed(static_cast<std::size_t>(options_.replicates));
    for (std::uint64_t& one : seed) one = seeds.next();
    return parallel_map<std::uint64_t>(seed.size(), [&](std::size_t r) {
      auto fill = make_points(seed[r]);
      const auto count = static_cast<std::size_t>(options_.points);
      std::vector<double> point(parameters_.size()), values(parameters_.size() * count);
      for (std::size_t i = 0; i < count; ++i) {
        fill(i, point);
        for (std::size_t p = 0; p < parameters_.size(); ++p)
          values[p * count + i] = parameters_[p].spread.at_share(point[p]);
      }
      return outside(values);
    });
  }

  const Network& network_;
  const YieldOptions& options_;
  std::vector<SidesTogether> groups_;
  std::vector<Uncertain> parameters_;
  std::vector<Batch> batches_;  ///< as groups_
};

/// All parameters at the middle; then for each one set with it a little below and one a little above.
std::vector<double> sets_about_the_middle(const std::vector<Uncertain>& parameters) {
  const std::size_t count = 1 + 2 * parameters.size();
  std::vector<double> values(parameters.size() * count);
  for (std::size_t p = 0; p < parameters.size(); ++p) {
    const Spread& spread = parameters[p].spread;
    std::fill_n(values.begin() + static_cast<std::ptrdiff_t>(p * count), count, spread.middle());
    values[p * count + 1 + 2 * p] = spread.from_mean(-slope_step);
    values[p * count + 2 + 2 * p] = spread.from_mean(slope_step);
  }
  return values;
}

}  // namespace

LinearSpread linear_spread(const Network& network, const Quantity& quantity, const Corner& corner,
                           const YieldOptions& options) {
  const Held held = held_by(corner);
  const std::vector<Uncertain> parameters = parameters_of(network, held, options);
  const std::size_t count = 1 + 2 * parameters.size();
  const std::vector<double> values = sets_about_the_middle(parameters);
  Corner middle_corner = corner;
  for (const Uncertain& p : parameters) middle_corner.push_back({p.element, p.spread.middle(), false, p.on_ohm});
  const Network middle = network_at(network, middle_corner);
  LinearSpread linear;
  linear.trouble = solve(middle, options.solve).trouble;
  std::vector<double> results(count);
  Batch(middle, varied_by(parameters), {quantity}, options.solve).solve(values.data(), count, results.data());
  if (!std::isfinite(results.front())) return linear;
  linear.middle = results.front();
  double variance = 0.0;
  for (std::size_t p = 0; p < parameters.size(); ++p) {
    const double sigma = (results[2 + 2 * p] - results[1 + 2 * p]) / (2.0 * slope_step);
    if (!std::isfinite(sigma)) return {Trouble::not_converged, 0.0, 0.0, {}};
    variance += sigma * sigma;
    linear.shares.push_back({parameters[p].element, parameters[p].on_ohm, sigma * sigma});
  }
  linear.sigma = std::sqrt(variance);
  if (!(variance > 0.0)) linear.shares.clear();
  for (VarianceShare& part : linear.shares) part.share /= variance;
  std::stable_sort(linear.shares.begin(), linear.shares.end(),
                   [](const VarianceShare& a, const VarianceShare& b) { return a.share > b.share; });
  return linear;
}

Chance chance_outside(const Network& network, const std::vector<BandSide>& sides, const YieldOptions& options) {
  if (sides.empty() || options.replicates < 2 || options.points < 1) throw std::invalid_argument("a chance of nothing");
  const Sampling sampling(network, sides, options);
  Chance chance;
  chance.tries = static_cast<std::uint64_t>(options.replicates) * static_cast<std::uint64_t>(options.points);
  const auto points = static_cast<std::uint64_t>(options.points);
  std::vector<std::uint64_t> counts = sampling.quasi_random();
  chance.replicated = std::all_of(counts.begin(), counts.end(), [&](std::uint64_t count) {
    return count >= few_points && points - count >= few_points;
  });
  if (!chance.replicated) counts = sampling.plainly_random();
  chance.outliers = std::accumulate(counts.begin(), counts.end(), std::uint64_t{0});
  chance.outside = static_cast<double>(chance.outliers) / static_cast<double>(chance.tries);
  if (!chance.replicated) {
    chance.interval = exact_interval(chance.outliers, chance.tries, options.confidence);
    return chance;
  }
  std::vector<double> shares;
  for (const std::uint64_t count : counts) shares.push_back(static_cast<double>(count) / options.points);
  chance.interval = interval_of_mean(shares, options.confidence);
  chance.interval = {std::max(chance.interval.low, 0.0), std::min(chance.interval.high, 1.0)};
  return chance;
}

}  // namespace zoneproof::circuit
