#include <algorithm>
#include <cmath>
#include <limits>

#include "circuit/variation_inside.hpp"

namespace zoneproof::circuit {

namespace {

constexpr double smallest_pivot = 1e-6;  ///< of what it is a difference of: more digits than that are not given away
constexpr double still_volts = 1e-11;
constexpr int most_rounds = 25;

/// Woodbury's formula with nothing but the entries of A^-1 between what changes, what is nonlinear and what is asked.
/// Everything that changes is a current that leaves one node and enters another: v = v_before - A^-1 (these currents).
class Glance {
 public:
  Glance(const Linearised& network, const Branched& made) : in_(network), made_(made) {}

  std::optional<std::vector<double>> run(const std::vector<Node>& asked) {
    const auto k = static_cast<Eigen::Index>(made_.branches.size());
    if (k > most_branches || !invert(k) || !settle(k)) return std::nullopt;
    std::vector<double> volts;
    volts.reserve(asked.size());
    for (const Node node : asked)
      volts.push_back(made_.cut_off(node) ? std::numeric_limits<double>::quiet_NaN() : volt(node));
    return volts;
  }

 private:
  /// A current from unknown a to unknown b; below 0: no unknown.
  struct Moved {
    int a, b;
    double ampere;
  };
  struct Ends {
    int a, b;
  };

  Ends ends(Node a, Node b) const { return {in_.system->unknown(a), in_.system->unknown(b)}; }
  Ends ends(const Branch& branch) const { return ends(branch.a, branch.b); }
  Ends ends(ElementIndex e) const { return ends(in_.network.element(e).from, in_.network.element(e).to); }
  const Branch& branch(Eigen::Index i) const { return made_.branches[static_cast<std::size_t>(i)]; }
  double entry(int row, int column) const { return row < 0 || column < 0 ? 0.0 : in_.inverse(row, column); }
  double between(Ends p, Ends q) const { return entry(p.a, q.a) - entry(p.a, q.b) - entry(p.b, q.a) + entry(p.b, q.b); }

  /// Over a branch or element, what it was and what has moved.
  double over(Node a, Node b) const {
    double u = in_.before.voltage[at(a)] - in_.before.voltage[at(b)];
    const Ends here = ends(a, b);
    for (const Moved& moved : moved_) u -= moved.ampere * between(here, {moved.a, moved.b});
    return u;
  }
  double over(ElementIndex e) const { return over(in_.network.element(e).from, in_.network.element(e).to); }
  double volt(Node node) const {
    double v = in_.before.voltage[at(node)];
    const int row = in_.system->unknown(node);
    for (const Moved& moved : moved_) v -= moved.ampere * (entry(row, moved.a) - entry(row, moved.b));
    return v;
  }

  bool invert(Eigen::Index k) {
    Small small(k, k);
    for (Eigen::Index i = 0; i < k; ++i) {
      for (Eigen::Index j = 0; j < k; ++j) small(i, j) = between(ends(branch(i)), ends(branch(j)));
    }
    const std::optional<Small> inverse = inverse_of(small, made_.branches, smallest_pivot);
    if (inverse) small_inverse_ = *inverse;
    return inverse.has_value();
  }

  /// The currents that move: of sources driven anew, of the branches, and what loads draw beyond their tangents, by the
  /// chord iteration. False where that does not stand still or an element is in another state there.
  bool settle(Eigen::Index k) {
    for (const auto& [source, ampere] : made_.driven) {
      const Ends here = ends(source);
      moved_.push_back({here.a, here.b, ampere - in_.values[at(source)]});
    }
    const std::size_t sources = moved_.size();
    std::vector<Moved> drawn;
    for (const ElementIndex e : in_.loads) drawn.push_back({ends(e).a, ends(e).b, 0.0});
    for (int round = 0; round < most_rounds; ++round) {
      moved_.resize(sources);
      moved_.insert(moved_.end(), drawn.begin(), drawn.end());
      add_branches(k);
      double change = 0.0, sum = 0.0;
      for (std::size_t l = 0; l < drawn.size(); ++l) {
        const double u = over(in_.loads[l]);
        const std::optional<double> beyond = in_.beyond_tangent(in_.loads[l], u);
        if (!beyond) return false;
        change = std::max(
            change, std::abs(*beyond - drawn[l].ampere) * std::abs(between(ends(in_.loads[l]), ends(in_.loads[l]))));
        drawn[l].ampere = *beyond;
        sum += *beyond;
      }
      if (!std::isfinite(sum)) return false;
      if (change < still_volts) return diodes_stay();
    }
    return false;
  }

  /// The branches' currents with what has moved so far.
  void add_branches(Eigen::Index k) {
    SmallVector before(k);
    for (Eigen::Index i = 0; i < k; ++i) before(i) = over(branch(i).a, branch(i).b);
    const SmallVector current = small_inverse_ * before;
    for (Eigen::Index i = 0; i < k; ++i) moved_.push_back({ends(branch(i)).a, ends(branch(i)).b, current(i)});
  }

  /// Beyond its tangent a diode that stays in its state draws nothing.
  bool diodes_stay() const {
    return std::all_of(in_.diodes.begin(), in_.diodes.end(), [&](ElementIndex e) {
      const Element& diode = in_.network.element(e);
      return made_.cut_off(diode.from) || in_.beyond_tangent(e, over(e)).has_value();
    });
  }

  const Linearised& in_;
  const Branched& made_;
  std::vector<Moved> moved_;
  Small small_inverse_;
};

}  // namespace

std::optional<std::vector<double>> glanced(const Linearised& network, const std::vector<Change>& changes,
                                           const std::vector<Node>& asked) {
  const std::optional<Branched> made = branched(network, changes);
  return made ? Glance(network, *made).run(asked) : std::nullopt;
}

}  // namespace zoneproof::circuit
