#include <algorithm>
#include <cmath>
#include <limits>

#include "circuit/variation_inside.hpp"

namespace zoneproof::circuit {

namespace {

/// Of what a pivot is a difference of: more digits than that are not given away. Products of half columns keep all but
/// two or three, next to islands that hang on a leakage all but five, so 1e-5 V of 12 V are left at the worst.
constexpr double glance_smallest_pivot = 1e-7;
constexpr double glance_still_volts = 1e-11;
constexpr int glance_most_rounds = 25;

/// A sum of half columns, in full length: what goes through branches and loads, as the half of it that all others are
/// multiplied with. One for each thread, zero between two glances.
class Sum {
 public:
  explicit Sum(int unknowns) : full_(room()) {
    if (full_.size() < at(unknowns)) full_.resize(at(unknowns), 0.0);
  }
  Sum(const Sum&) = delete;
  Sum& operator=(const Sum&) = delete;
  ~Sum() {
    for (const HalfColumn* half : added_) {
      for (const HalfColumn::Entry& entry : half->entries) full_[at(entry.row)] = 0.0;
    }
  }

  void add(const HalfColumn& half, double ampere) {
    if (ampere == 0.0) return;
    added_.push_back(&half);
    for (const HalfColumn::Entry& entry : half.entries) full_[at(entry.row)] += ampere * entry.value;
  }
  /// V that all of it makes over the branch.
  double over(const HalfColumn& half) const {
    double sum = 0.0;
    for (const HalfColumn::Entry& entry : half.entries) sum += full_[at(entry.row)] * entry.value;
    return sum;
  }

 private:
  static std::vector<double>& room() {
    thread_local std::vector<double> full;
    return full;
  }
  std::vector<double>& full_;
  std::vector<const HalfColumn*> added_;
};

/// Woodbury's formula with nothing but the entries of A^-1 between what changes, what is nonlinear and what is asked.
/// Everything that changes is a current that leaves one node and enters another: v = v_before - A^-1 (these currents).
class Glance {
 public:
  using Ready = Variations::Ready::Inside;
  using Asked = Variations::Asked::Inside;

  Glance(const Linearised& network, const Branched& made, const Ready& first, const Ready& second)
      : in_(network), made_(made), first_(first), second_(second), moved_(network.system->unknowns()) {}

  std::optional<std::vector<double>> run(const Asked& asked) {
    if (made_.branches.size() > most_branches || !invert() || !settle()) return std::nullopt;
    std::vector<double> volts;
    volts.reserve(asked.nodes.size());
    for (std::size_t n = 0; n < asked.nodes.size(); ++n) {
      const Node node = asked.nodes[n];
      volts.push_back(made_.cut_off(node) ? std::numeric_limits<double>::quiet_NaN()
                                          : in_.before.voltage[at(node)] - moved_.over(asked.halves[n]));
    }
    return volts;
  }

 private:
  const HalfColumn& half(std::size_t change) const {
    const std::size_t n = first_.changes.size();
    return change < n ? first_.halves[change] : second_.halves[change - n];
  }
  const HalfColumn& half_of(Eigen::Index branch) const {
    return half(made_.branch_of[static_cast<std::size_t>(branch)]);
  }

  bool invert() {
    const Small small =
        products(made_.branches.size(), [&](std::size_t i) -> const HalfColumn& { return half(made_.branch_of[i]); });
    const std::optional<Small> inverse = inverse_of(small, made_.branches, glance_smallest_pivot);
    if (inverse) small_inverse_ = *inverse;
    return inverse.has_value();
  }

  /// The currents that move: of sources driven anew, of the branches, and what loads draw beyond their tangents, by the
  /// chord iteration. False where that does not stand still or an element is in another state there.
  bool settle() {
    for (std::size_t s = 0; s < made_.driven.size(); ++s)
      drive(made_.driven_of[s], made_.driven[s].second - in_.values[at(made_.driven[s].first)]);
    take_branches();
    if (calm()) return add_branches(), true;
    beyond_.assign(in_.bending.loads.size(), 0.0);
    feel_branches();
    for (int round = 0; round < glance_most_rounds; ++round) {
      const std::optional<double> change = take_loads();
      if (!change) return false;
      if (*change < glance_still_volts) return add_branches(), diodes_stay();
      take_branches();
    }
    return false;
  }

  void drive(std::size_t change, double ampere) {
    moved_.add(half(change), ampere);
    driven_.emplace_back(change, ampere);
  }

  /// The branches' currents with what sources and loads have moved so far.
  void take_branches() {
    const auto k = static_cast<Eigen::Index>(made_.branches.size());
    SmallVector over(k);
    for (Eigen::Index i = 0; i < k; ++i) {
      const Branch& branch = made_.branches[static_cast<std::size_t>(i)];
      over(i) = in_.before.voltage[at(branch.a)] - in_.before.voltage[at(branch.b)] - moved_.over(half_of(i));
    }
    current_ = small_inverse_ * over;
  }

  /// What loads draw beyond their tangents now; the largest change of voltage by that. Nothing where one changes its
  /// state.
  std::optional<double> take_loads() {
    const Bending& bending = in_.bending;
    const std::vector<double> volts = over_loads();
    double change = 0.0;
    for (std::size_t l = 0; l < volts.size(); ++l) {
      std::optional<double> beyond = in_.beyond_tangent(bending.loads[l], volts[l]);
      if (!beyond || !std::isfinite(*beyond)) return std::nullopt;
      if (std::abs(*beyond) * bending.own[l] < kNegligible_volts) beyond = 0.0;
      change = std::max(change, std::abs(*beyond - beyond_[l]) * bending.own[l]);
      moved_.add(bending.halves[l], *beyond - beyond_[l]);
      beyond_[l] = *beyond;
    }
    return change;
  }

  /// V over each load for an ampere through each branch.
  void feel_branches() {
    const std::vector<HalfColumn>& halves = in_.bending.halves;
    felt_.resize(static_cast<Eigen::Index>(beyond_.size()), current_.size());
    for (Eigen::Index i = 0; i < felt_.cols(); ++i) {
      for (Eigen::Index l = 0; l < felt_.rows(); ++l)
        felt_(l, i) = product(halves[static_cast<std::size_t>(l)], half_of(i));
    }
  }

  /// With what sources, loads and branches have moved.
  std::vector<double> over_loads() const {
    std::vector<double> volts(beyond_.size());
    for (std::size_t l = 0; l < volts.size(); ++l) {
      volts[l] = in_.bending.before[l] - moved_.over(in_.bending.halves[l]) -
                 felt_.row(static_cast<Eigen::Index>(l)).dot(current_);
    }
    return volts;
  }

  /// Whether nothing nonlinear feels enough of it to matter.
  bool calm() const {
    const auto most = [&](std::size_t change) {
      const std::size_t n = first_.changes.size();
      return change < n ? first_.most_bending[change] : second_.most_bending[change - n];
    };
    double volts = 0.0;
    for (const auto& [change, ampere] : driven_) volts += std::abs(ampere) * most(change);
    for (Eigen::Index i = 0; i < current_.size(); ++i)
      volts += std::abs(current_(i)) * most(made_.branch_of[static_cast<std::size_t>(i)]);
    return volts < in_.bending.calm_volts;
  }

  void add_branches() {
    for (Eigen::Index i = 0; i < current_.size(); ++i) moved_.add(half_of(i), current_(i));
  }

  /// In its own state a diode draws nothing beyond its tangent.
  bool diodes_stay() const {
    const Bending& bending = in_.bending;
    for (std::size_t d = 0; d < bending.diodes.size(); ++d) {
      if (made_.cut_off(in_.network.element(bending.diodes[d]).from)) continue;
      const std::size_t i = bending.loads.size() + d;
      const double volts = bending.before[i] - moved_.over(bending.halves[i]);
      if (!in_.beyond_tangent(bending.diodes[d], volts)) return false;
    }
    return true;
  }

  const Linearised& in_;
  const Branched& made_;
  const Ready& first_;
  const Ready& second_;
  Sum moved_;
  std::vector<std::pair<std::size_t, double>> driven_;  ///< changes of sources, with what more they drive
  std::vector<double> beyond_;                          ///< A beyond its tangent, by load
  Eigen::MatrixXd felt_;                                ///< by load and branch (feel_branches)
  SmallVector current_;
  Small small_inverse_;
};

}  // namespace

std::optional<std::vector<double>> glanced(const Linearised& network, const Variations::Ready::Inside& first,
                                           const Variations::Ready::Inside& second,
                                           const Variations::Asked::Inside& asked) {
  std::vector<Change> changes = first.changes;
  changes.insert(changes.end(), second.changes.begin(), second.changes.end());
  const std::optional<Branched> made = branched(network, changes);
  return made ? Glance(network, *made, first, second).run(asked) : std::nullopt;
}

}  // namespace zoneproof::circuit
