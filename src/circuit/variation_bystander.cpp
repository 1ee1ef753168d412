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

/// Some branches alone in the linear network.
struct Taken {
  Branched made;
  double ampere = 0.0;   ///< sum of the sizes of their currents
  double inverse = 0.0;  ///< sum of the sizes of their small matrix, inverted
  double bending = 0.0;  ///< the largest of what an ampere through any of them makes over a nonlinear element, V/A
};

std::optional<Taken> taken_alone(const Linearised& network, const Variations::Ready::Inside& ready) {
  constexpr double smallest_pivot = 1e-10;
  if (!network.updatable) return std::nullopt;
  auto made = branched(network, ready.changes);
  if (!made || made->branches.size() > most_branches || !made->driven.empty()) return std::nullopt;
  const Small small = products(made->branches.size(),
                               [&](std::size_t i) -> const HalfColumn& { return ready.halves[made->branch_of[i]]; });
  const auto inverse = inverse_of(small, made->branches, smallest_pivot);
  SmallVector over(small.rows());
  for (Eigen::Index i = 0; i < over.size(); ++i) {
    const Branch& branch = made->branches[static_cast<std::size_t>(i)];
    over(i) = network.before.voltage[at(branch.a)] - network.before.voltage[at(branch.b)];
  }
  if (!inverse || !over.allFinite()) return std::nullopt;
  Taken taken{*std::move(made), (*inverse * over).cwiseAbs().sum(), inverse->cwiseAbs().sum(), 0.0};
  for (const std::size_t change : taken.made.branch_of)
    taken.bending = std::max(taken.bending, ready.most_bending[change]);
  return taken;
}

}  // namespace

struct Variations::Alone::Inside {
  Taken taken;
  std::shared_ptr<const Asked::Inside> asked;
  std::vector<HalfColumn> halves;  ///< of its branches
  double seen = 0.0;               ///< max |Z_wm|
};

struct Variations::Shock::Inside {
  Taken taken;
  std::vector<std::vector<double>> full;      ///< its half columns, by branch, in full length
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
      if (taken.made.cut_off(asked.nodes[n])) last_seen = std::numeric_limits<double>::infinity();
      for (std::size_t b = 0; b < full.size(); ++b) last_seen = std::max(last_seen, over(asked.halves[n], b));
    }
    return last_seen;
  }
};

Variations::Alone Variations::alone(const Ready& movement, const Asked& asked) const {
  auto taken = taken_alone(inside_->linearised, *movement.inside);
  if (!taken) return {};
  auto made = std::make_shared<Alone::Inside>(Alone::Inside{*std::move(taken), asked.inside, {}, 0.0});
  for (const std::size_t change : made->taken.made.branch_of) {
    made->halves.push_back(movement.inside->halves[change]);
    for (const HalfColumn& half : asked.inside->halves)
      made->seen = std::max(made->seen, std::abs(product(half, made->halves.back())));
  }
  return {std::move(made)};
}

Variations::Shock Variations::shock(const Ready& changes) const {
  auto taken = taken_alone(inside_->linearised, *changes.inside);
  if (!taken) return {};
  auto made = std::make_shared<Shock::Inside>();
  made->taken = *std::move(taken);
  for (const std::size_t change : made->taken.made.branch_of) {
    std::vector<double>& full = made->full.emplace_back(at(inside_->linearised.system->unknowns()), 0.0);
    for (const HalfColumn::Entry& entry : changes.inside->halves[change].entries) full[at(entry.row)] = entry.value;
  }
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
  if (meets(far.taken.made, here.taken.made) || meets(here.taken.made, far.taken.made)) return untold;
  double coupling = 0.0;
  for (const HalfColumn& half : here.halves) {
    for (std::size_t b = 0; b < far.full.size(); ++b) coupling += far.over(half, b);
  }
  const double q = far.taken.inverse * coupling * coupling * here.taken.inverse;
  if (!(q <= kMostCoupling)) return untold;
  const double ampere = (far.taken.ampere + far.taken.inverse * coupling * here.taken.ampere) / (1.0 - q);
  const Bending& bending = inside_->linearised.bending;
  const double before = kTogether * here.taken.ampere * here.taken.bending;
  const double more = kTogether * ampere * (far.taken.bending + here.taken.bending * here.taken.inverse * coupling);
  if (!(before + more <= bending.room_volts) || !(bending.sharpness * (before + more) <= kMostSharpness)) return untold;
  return ampere * (far.seen(*here.asked) + here.seen * here.taken.inverse * coupling) +
         kTogether * bending.sharpness * (before + more) * more;
}

}  // namespace zoneproof::circuit
