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
//
// A current source that changes is a current d of the shock that answers nothing: with u_B - Z_Bd d for u_B in S (...),
// and |i_m' - i_m| <= t C (|i_B'| + |d|), the above holds for i_B' and d together, with |i_B| + |d| for |i_B|, d among
// the branches in C and Z_wB, and s of the branches alone.
//
// All of it grows with C, |Z_w.|, t, the currents and the bendings: with the largest of each among many movements it
// holds for every one of them. Z_mB is a product of half columns, L^-1 b_m and L^-1 b_B, and the sum over their rows of
// the largest size that any of the movements has there times that of B bounds it for all. What a crowd of movements far
// away shares with a shock is the way to the root of the elimination tree alone, so a site of a thousand zones is told
// in a few hundred products that it does not feel a broken wire.

namespace zoneproof::circuit {

namespace {

constexpr double kMostCoupling = 0.25;  ///< q: beyond, each is part of the other
constexpr double kMostSharpness = 0.1;  ///< of what loads do to each other: 1 / (1 - 0.1) is below 1.2
constexpr double kTogether = 1.2;

/// What the bound wants to know of a movement, or of the worst of many.
struct Felt {
  double ampere = 0.0;   ///< sum of the sizes of its currents
  double inverse = 0.0;  ///< sum of the sizes of its small matrix, inverted
  double bending =
      0.0;            ///< the largest of what an ampere through any of its branches makes over a nonlinear element, V/A
  double seen = 0.0;  ///< max |Z_wm|
};

/// Some branches alone in the linear network.
struct Taken {
  Branched made;
  std::vector<ElementIndex> elements;  ///< all that change, in order
  Felt felt;                           ///< without what is seen
};

/// Which of the changes are currents through something: the branches, and sources that are driven anew.
std::vector<std::size_t> currents_of(const Branched& made) {
  std::vector<std::size_t> changes = made.branch_of;
  changes.insert(changes.end(), made.driven_of.begin(), made.driven_of.end());
  return changes;
}

/// A more that each of the sources drives, in the order of `made.driven`.
std::vector<double> driven_more(const Linearised& network, const Branched& made) {
  std::vector<double> amperes;
  for (const auto& [source, ampere] : made.driven) amperes.push_back(ampere - network.values[at(source)]);
  return amperes;
}

std::optional<Taken> taken_alone(const Linearised& network, const Variations::Ready::Inside& ready) {
  constexpr double smallest_pivot = 1e-10;
  if (!network.updatable) return std::nullopt;
  auto made = branched(network, ready.changes);
  if (!made || made->branches.size() > most_branches) return std::nullopt;
  const Small small = products(made->branches.size(),
                               [&](std::size_t i) -> const HalfColumn& { return ready.halves[made->branch_of[i]]; });
  const auto inverse = inverse_of(small, made->branches, smallest_pivot);
  const std::vector<double> driven = driven_more(network, *made);
  SmallVector over(small.rows());
  for (Eigen::Index i = 0; i < over.size(); ++i) {
    const Branch& branch = made->branches[static_cast<std::size_t>(i)];
    over(i) = network.before.voltage[at(branch.a)] - network.before.voltage[at(branch.b)];
    const HalfColumn& half = ready.halves[made->branch_of[static_cast<std::size_t>(i)]];
    for (std::size_t d = 0; d < driven.size(); ++d)
      over(i) -= product(half, ready.halves[made->driven_of[d]]) * driven[d];
  }
  if (!inverse || !over.allFinite()) return std::nullopt;
  Taken taken{*std::move(made), {}, {(*inverse * over).cwiseAbs().sum(), inverse->cwiseAbs().sum(), 0.0, 0.0}};
  for (const double ampere : driven) taken.felt.ampere += std::abs(ampere);
  for (const std::size_t change : currents_of(taken.made))
    taken.felt.bending = std::max(taken.felt.bending, ready.most_bending[change]);
  for (const Change& change : ready.changes) {
    if (change.element) taken.elements.push_back(*change.element);
  }
  std::sort(taken.elements.begin(), taken.elements.end());
  return taken;
}

/// The bound itself. `coupling`: C; `seen`: max |Z_wB|.
double moved_at_most(const Felt& far, double seen, const Felt& here, double coupling, const Bending& bending) {
  constexpr double untold = std::numeric_limits<double>::infinity();
  const double q = far.inverse * coupling * coupling * here.inverse;
  if (!(q <= kMostCoupling)) return untold;
  const double ampere = (far.ampere + far.inverse * coupling * here.ampere) / (1.0 - q);
  const double before = kTogether * here.ampere * here.bending;
  const double more = kTogether * ampere * (far.bending + here.bending * here.inverse * coupling);
  if (!(before + more <= bending.room_volts) || !(bending.sharpness * (before + more) <= kMostSharpness)) return untold;
  return ampere * (seen + here.seen * here.inverse * coupling) + kTogether * bending.sharpness * (before + more) * more;
}

}  // namespace

struct Variations::Alone::Inside {
  Taken taken;
  std::shared_ptr<const Asked::Inside> asked;
  std::vector<HalfColumn> halves;  ///< of its branches
};

struct Variations::Shock::Inside {
  Taken taken;
  std::vector<HalfColumn> halves;             ///< of its branches, then of the sources that it drives anew
  std::vector<std::vector<double>> full;      ///< the same in full length
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
  if (!taken || !taken->made.driven.empty()) return {};
  auto made = std::make_shared<Alone::Inside>(Alone::Inside{*std::move(taken), asked.inside, {}});
  for (const std::size_t change : made->taken.made.branch_of) {
    made->halves.push_back(movement.inside->halves[change]);
    for (const HalfColumn& half : asked.inside->halves)
      made->taken.felt.seen = std::max(made->taken.felt.seen, std::abs(product(half, made->halves.back())));
  }
  return {std::move(made)};
}

Variations::Shock Variations::shock(const Ready& changes) const {
  auto taken = taken_alone(inside_->linearised, *changes.inside);
  if (!taken) return {};
  auto made = std::make_shared<Shock::Inside>();
  made->taken = *std::move(taken);
  for (const std::size_t change : currents_of(made->taken.made)) {
    made->halves.push_back(changes.inside->halves[change]);
    std::vector<double>& full = made->full.emplace_back(at(inside_->linearised.system->unknowns()), 0.0);
    for (const HalfColumn::Entry& entry : made->halves.back().entries) full[at(entry.row)] = entry.value;
  }
  return {std::move(made)};
}

namespace {

/// Both ends of everything that changes.
std::vector<Node> ends_of(const Linearised& network, const Branched& made) {
  std::vector<Node> ends;
  for (const Branch& branch : made.branches) ends.insert(ends.end(), {branch.a, branch.b});
  for (const auto& [source, ampere] : made.driven)
    ends.insert(ends.end(), {network.network.element(source).from, network.network.element(source).to});
  return ends;
}

/// Whether something of one ends in what the other cuts off.
bool meets(const Branched& cutting, const std::vector<Node>& other) {
  if (!cutting.cut.any()) return false;
  return std::any_of(other.begin(), other.end(), [&](Node node) { return cutting.cut_off(node); });
}

bool share_an_element(const Taken& a, const Taken& b) {
  return std::any_of(a.elements.begin(), a.elements.end(), [&](ElementIndex element) {
    return std::binary_search(b.elements.begin(), b.elements.end(), element);
  });
}

}  // namespace

double Variations::most_moved(const Shock& shock, const Alone& movement) const {
  constexpr double untold = std::numeric_limits<double>::infinity();
  if (!shock.inside || !movement.inside) return untold;
  Shock::Inside& far = *shock.inside;
  const Alone::Inside& here = *movement.inside;
  if (share_an_element(far.taken, here.taken)) return untold;
  const Linearised& network = inside_->linearised;
  if (meets(far.taken.made, ends_of(network, here.taken.made)) ||
      meets(here.taken.made, ends_of(network, far.taken.made)))
    return untold;
  double coupling = 0.0;
  for (const HalfColumn& half : here.halves) {
    for (std::size_t b = 0; b < far.full.size(); ++b) coupling += far.over(half, b);
  }
  return moved_at_most(far.taken.felt, far.seen(*here.asked), here.taken.felt, coupling, inside_->linearised.bending);
}

namespace {

/// A thing of the network, and a group that has to do with it.
template <class Thing>
class GroupsOf {
 public:
  void add(Thing thing, int group) { entries_.emplace_back(thing, group); }
  void sort() {
    std::sort(entries_.begin(), entries_.end());
    entries_.erase(std::unique(entries_.begin(), entries_.end()), entries_.end());
  }
  template <class Do>
  void each(Thing thing, Do&& what) const {
    for (auto at = std::lower_bound(entries_.begin(), entries_.end(), std::pair(thing, 0));
         at != entries_.end() && at->first == thing; ++at)
      what(at->second);
  }

 private:
  std::vector<std::pair<Thing, int>> entries_;
};

}  // namespace

struct Variations::Crowds::Inside {
  /// The largest size of a half column in one row, of all of a group.
  struct Size {
    int group = 0;
    double moved = 0.0;  ///< of the branches that move
    double seen = 0.0;   ///< of the nodes that are looked at
  };
  std::vector<Felt> worst;                    ///< by group
  std::vector<std::size_t> branches;          ///< by group: the most of one movement
  std::vector<bool> told;                     ///< by group: every movement is one that the formula takes
  std::vector<std::vector<Size>> in_row;      ///< by row of the half columns
  GroupsOf<ElementIndex> moving;              ///< that change it
  GroupsOf<Node> touching, looking, cutting;  ///< that have a branch there, look there, cut it off

  void take(int group, const Alone::Inside& movement);
  void widen(int group, const HalfColumn& half, double Size::*which);
};

void Variations::Crowds::Inside::widen(int group, const HalfColumn& half, double Size::*which) {
  for (const HalfColumn::Entry& entry : half.entries) {
    std::vector<Size>& sizes = in_row[at(entry.row)];
    if (sizes.empty() || sizes.back().group != group) sizes.push_back({group, 0.0, 0.0});
    double& size = sizes.back().*which;
    size = std::max(size, std::abs(entry.value));
  }
}

void Variations::Crowds::Inside::take(int group, const Alone::Inside& movement) {
  const Taken& taken = movement.taken;
  Felt& felt = worst[at(group)];
  felt.ampere = std::max(felt.ampere, taken.felt.ampere);
  felt.inverse = std::max(felt.inverse, taken.felt.inverse);
  felt.bending = std::max(felt.bending, taken.felt.bending);
  felt.seen = std::max(felt.seen, taken.felt.seen);
  branches[at(group)] = std::max(branches[at(group)], movement.halves.size());
  for (const HalfColumn& half : movement.halves) widen(group, half, &Size::moved);
  for (const HalfColumn& half : movement.asked->halves) widen(group, half, &Size::seen);
  for (const ElementIndex element : taken.elements) moving.add(element, group);
  for (const Node node : movement.asked->nodes) looking.add(node, group);
  for (const Branch& branch : taken.made.branches) touching.add(branch.a, group), touching.add(branch.b, group);
  for (const auto& [node, part] : taken.made.cut.nodes) cutting.add(node, group);
}

Variations::Crowds Variations::crowds(const std::vector<std::vector<Alone>>& groups) const {
  auto made = std::make_shared<Crowds::Inside>();
  made->worst.resize(groups.size());
  made->branches.resize(groups.size(), 0);
  made->told.resize(groups.size(), true);
  if (inside_->linearised.updatable) made->in_row.resize(at(inside_->linearised.system->unknowns()));
  for (std::size_t group = 0; group < groups.size(); ++group) {
    for (const Alone& movement : groups[group]) {
      if (movement.inside) {
        made->take(static_cast<int>(group), *movement.inside);
      } else {
        made->told[group] = false;
      }
    }
  }
  made->moving.sort();
  for (GroupsOf<Node>* nodes : {&made->touching, &made->looking, &made->cutting}) nodes->sort();
  return {std::move(made)};
}

namespace {

/// By group: whether it and the shock change the same thing, or one cuts off what the other touches or looks at.
std::vector<bool> tangled(const Linearised& network, const Taken& far, const Variations::Crowds::Inside& here) {
  std::vector<bool> is(here.worst.size(), false);
  const auto mark = [&](int group) { is[at(group)] = true; };
  for (const ElementIndex element : far.elements) here.moving.each(element, mark);
  for (const auto& [node, part] : far.made.cut.nodes) {
    here.touching.each(node, mark);
    here.looking.each(node, mark);
  }
  for (const Node end : ends_of(network, far.made)) here.cutting.each(end, mark);
  return is;
}

}  // namespace

std::vector<double> Variations::most_moved(const Shock& shock, const Crowds& crowds) const {
  const Crowds::Inside& here = *crowds.inside;
  const std::size_t groups = here.worst.size();
  std::vector<double> most(groups, std::numeric_limits<double>::infinity());
  if (!shock.inside) return most;
  const Shock::Inside& far = *shock.inside;
  const std::vector<bool> untold = tangled(inside_->linearised, far.taken, here);
  std::vector<double> moved(groups), seen(groups), coupling(groups, 0.0), most_seen(groups, 0.0);
  for (const HalfColumn& half : far.halves) {
    std::fill(moved.begin(), moved.end(), 0.0);
    std::fill(seen.begin(), seen.end(), 0.0);
    for (const HalfColumn::Entry& entry : half.entries) {
      const double size = std::abs(entry.value);
      for (const Crowds::Inside::Size& felt : here.in_row[at(entry.row)]) {
        moved[at(felt.group)] += size * felt.moved;
        seen[at(felt.group)] += size * felt.seen;
      }
    }
    for (std::size_t group = 0; group < groups; ++group) {
      coupling[group] += static_cast<double>(here.branches[group]) * moved[group];
      most_seen[group] = std::max(most_seen[group], seen[group]);
    }
  }
  for (std::size_t group = 0; group < groups; ++group) {
    if (!here.told[group] || untold[group]) continue;
    most[group] = moved_at_most(far.taken.felt, most_seen[group], here.worst[group], coupling[group],
                                inside_->linearised.bending);
  }
  return most;
}

}  // namespace zoneproof::circuit
