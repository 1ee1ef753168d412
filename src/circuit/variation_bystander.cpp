#include <algorithm>
#include <cmath>
#include <limits>

#include "circuit/variation_inside.hpp"

// How far changes far away can move what is looked at. With B the branches of what is done far away ("the shock"), m
// those that move here, Z = A^-1 between them, T and S the small matrices of each alone, inverted (variation.hpp):
//     i_B' = (S^-1 - Z_Bm T Z_mB)^-1 (u_B - Z_Bm i_m),    dv_w = -Z_wB i_B' + Z_wm T Z_mB i_B'
// is what the shock adds, exactly, to the linearised network in which the movement was made. With C the sum of |Z_mB|
// and t, s those of |T| and |S|, q = s C^2 t bounds the change of the small matrix, and
//     |i_B'| <= (|i_B| + s C |i_m|) / (1 - q),    |dv_w| <= |i_B'| (max |Z_wB| + max |Z_wm| t C).
// Two singular changes that only together cut something off have q = 1 or more, and are told nothing of. A load P at w
// volts that moves by x and then by y more draws at most 8 P / w^3 (x + y) y beyond its tangent for the latter, as long
// as neither takes it further than w / 2; times its own resistance that is the most it moves anything. The sum over all
// loads is the `sharpness` of the network, with a fifth more for what they do to each other.

namespace zoneproof::circuit {

namespace {

constexpr double kMostCoupling = 0.25;  ///< q: beyond, each is part of the other
constexpr double kMostSharpness = 0.1;  ///< of what loads do to each other: 1 / (1 - 0.1) is below 1.2
constexpr double kTogether = 1.2;

double sum_of_sizes(const Small& matrix) { return matrix.size() == 0 ? 0.0 : matrix.cwiseAbs().sum(); }

/// The small matrix of some branches, inverted, and the currents that they take alone in the linear network.
struct Taken {
  Small inverse;
  SmallVector current;
};

std::optional<Taken> taken_alone(const Linearised& network, const Branched& made,
                                 const Variations::Ready::Inside& ready) {
  constexpr double smallest_pivot = 1e-10;
  const auto k = static_cast<Eigen::Index>(made.branches.size());
  if (k > most_branches || !made.driven.empty()) return std::nullopt;
  const auto half = [&](Eigen::Index i) -> const HalfColumn& {
    return ready.halves[made.branch_of[static_cast<std::size_t>(i)]];
  };
  Small small(k, k);
  SmallVector over(k);
  for (Eigen::Index i = 0; i < k; ++i) {
    const Branch& branch = made.branches[static_cast<std::size_t>(i)];
    over(i) = network.before.voltage[at(branch.a)] - network.before.voltage[at(branch.b)];
    for (Eigen::Index j = 0; j <= i; ++j) small(i, j) = small(j, i) = product(half(i), half(j));
  }
  const auto inverse = inverse_of(small, made.branches, smallest_pivot);
  if (!inverse || !over.allFinite()) return std::nullopt;
  return Taken{*inverse, *inverse * over};
}

/// The largest of what an ampere through any of the branches makes over a nonlinear element.
double most_bending(const Branched& made, const Variations::Ready::Inside& ready) {
  double most = 0.0;
  for (const std::size_t change : made.branch_of) most = std::max(most, ready.most_bending[change]);
  return most;
}

}  // namespace

struct Variations::Alone::Inside {
  std::shared_ptr<const Asked::Inside> asked;
  Branched made;
  std::vector<HalfColumn> halves;  ///< of its branches
  double ampere = 0.0;             ///< sum of |i_m|
  double inverse = 0.0;            ///< t
  double seen = 0.0;               ///< max |Z_wm|
  double bending = 0.0;            ///< max over nonlinear elements, V/A
};

struct Variations::Shock::Inside {
  Branched made;
  std::vector<std::vector<double>> full;  ///< its half columns, by branch, in full length
  double ampere = 0.0, inverse = 0.0, bending = 0.0;
  const Asked::Inside* last_asked = nullptr;  ///< states of a zone come one after the other and look at the same nodes
  double last_seen = 0.0;

  double over(const HalfColumn& half, std::size_t branch) const {
    double sum = 0.0;
    for (const HalfColumn::Entry& entry : half.entries) sum += entry.value * full[branch][at(entry.row)];
    return std::abs(sum);
  }
  /// max |Z_wB|; infinite where one of the nodes is cut off by the shock.
  double seen(const Asked::Inside& asked) {
    if (last_asked == &asked) return last_seen;
    last_asked = &asked;
    last_seen = 0.0;
    for (std::size_t n = 0; n < asked.nodes.size(); ++n) {
      if (made.cut_off(asked.nodes[n])) last_seen = std::numeric_limits<double>::infinity();
      for (std::size_t b = 0; b < full.size(); ++b) last_seen = std::max(last_seen, over(asked.halves[n], b));
    }
    return last_seen;
  }
};

Variations::Alone Variations::alone(const Ready& movement, const Asked& asked) const {
  const Linearised& network = inside_->linearised;
  if (!network.updatable) return {};
  auto branches = branched(network, movement.inside->changes);
  if (!branches) return {};
  const auto taken = taken_alone(network, *branches, *movement.inside);
  if (!taken) return {};
  auto made = std::make_shared<Alone::Inside>();
  made->asked = asked.inside;
  made->ampere = taken->current.cwiseAbs().sum();
  made->inverse = sum_of_sizes(taken->inverse);
  made->bending = most_bending(*branches, *movement.inside);
  for (const std::size_t change : branches->branch_of) {
    made->halves.push_back(movement.inside->halves[change]);
    for (const HalfColumn& half : asked.inside->halves)
      made->seen = std::max(made->seen, std::abs(product(half, made->halves.back())));
  }
  made->made = *std::move(branches);
  return {std::move(made)};
}

Variations::Shock Variations::shock(const Ready& changes) const {
  const Linearised& network = inside_->linearised;
  if (!network.updatable) return {};
  auto branches = branched(network, changes.inside->changes);
  if (!branches) return {};
  const auto taken = taken_alone(network, *branches, *changes.inside);
  if (!taken) return {};
  auto made = std::make_shared<Shock::Inside>();
  made->ampere = taken->current.cwiseAbs().sum();
  made->inverse = sum_of_sizes(taken->inverse);
  made->bending = most_bending(*branches, *changes.inside);
  for (const std::size_t change : branches->branch_of) {
    std::vector<double>& full = made->full.emplace_back(at(network.system->unknowns()), 0.0);
    for (const HalfColumn::Entry& entry : changes.inside->halves[change].entries) full[at(entry.row)] = entry.value;
  }
  made->made = *std::move(branches);
  return {std::move(made)};
}

namespace {

/// Whether a branch of one ends in what the other cuts off.
bool meets(const Branched& cutting, const Branched& other) {
  if (!cutting.cut.any()) return false;
  return std::any_of(other.branches.begin(), other.branches.end(),
                     [&](const Branch& branch) { return cutting.cut_off(branch.a) || cutting.cut_off(branch.b); });
}

}  // namespace

double Variations::most_moved(const Shock& shock, const Alone& movement) const {
  constexpr double untold = std::numeric_limits<double>::infinity();
  if (!shock.inside || !movement.inside) return untold;
  Shock::Inside& far = *shock.inside;
  const Alone::Inside& here = *movement.inside;
  if (meets(far.made, here.made) || meets(here.made, far.made)) return untold;
  double coupling = 0.0;
  for (const HalfColumn& half : here.halves) {
    for (std::size_t b = 0; b < far.full.size(); ++b) coupling += far.over(half, b);
  }
  const double q = far.inverse * coupling * coupling * here.inverse;
  if (!(q <= kMostCoupling)) return untold;
  const double ampere = (far.ampere + far.inverse * coupling * here.ampere) / (1.0 - q);
  const Bending& bending = inside_->linearised.bending;
  const double before = kTogether * here.ampere * here.bending;
  const double more = kTogether * ampere * (far.bending + here.bending * here.inverse * coupling);
  if (!(before + more <= bending.room_volts) || !(bending.sharpness * (before + more) <= kMostSharpness)) return untold;
  return ampere * (far.seen(*here.asked) + here.seen * here.inverse * coupling) +
         kTogether * bending.sharpness * (before + more) * more;
}

}  // namespace zoneproof::circuit
