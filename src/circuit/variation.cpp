#include "circuit/variation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "circuit/variation_inside.hpp"

namespace zoneproof::circuit {

namespace {

State state_at(const Element& element, ElementIndex index, const Solution& solution) {
  const double u = solution.voltage[at(element.from)] - solution.voltage[at(element.to)];
  switch (element.kind) {
    case Kind::constant_power: {
      const auto& locked = solution.locked_out;
      return std::find(locked.begin(), locked.end(), index) == locked.end() ? State::running : State::locked;
    }
    case Kind::diode: return u > element.value.nominal ? State::on : State::off;
    default: return State::plain;
  }
}

/// Whether a network in this trouble still has an operating point to vary.
bool can_be_varied(Trouble trouble) {
  return trouble == Trouble::none || trouble == Trouble::leakage_defined || trouble == Trouble::floating ||
         trouble == Trouble::collapsed;
}

}  // namespace

Linearised::Linearised(const Network& solved) : network(solved), values(nominal_values(solved)), before(solve(solved)) {
  if (can_be_varied(before.trouble)) linearise();
}

void Linearised::linearise() {
  std::vector<Companion> companions;
  not_resistive.resize(at(network.node_count()));
  bool limited = false;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto e = static_cast<ElementIndex>(i);
    const Element& element = network.element(e);
    states.push_back(state_at(element, e, before));
    const double u = drop(before.voltage, e);
    const bool hangs_loose = std::isnan(u) && (element.kind == Kind::constant_power || element.kind == Kind::diode);
    companions.push_back(hangs_loose ? Companion{} : companion(element, values[i], states.back(), u));
    if (element.kind == Kind::constant_power) bending.loads.push_back(e);
    if (element.kind == Kind::diode) bending.diodes.push_back(e);
    if (element.kind == Kind::current || element.kind == Kind::constant_power || element.kind == Kind::diode) {
      not_resistive[at(element.from)].push_back(e);
      not_resistive[at(element.to)].push_back(e);
    }
    limited = limited || element.kind == Kind::limited_source;
  }
  system.emplace(network, std::move(companions));
  if (limited || !system->source_loop().empty() || !system->factorise()) return;
  ties.emplace(network, *system);
  std::vector<double> x = system->right_hand_side();
  system->solve(x.data(), 1);
  solution = Eigen::Map<Eigen::VectorXd>(x.data(), system->unknowns());
  look_at_bending();
  updatable = before.trouble != Trouble::collapsed || lock_for_good();
  find_room();
}

void Linearised::look_at_bending() {
  for (const std::vector<ElementIndex>* kind : {&bending.loads, &bending.diodes}) {
    for (const ElementIndex e : *kind) {
      const Element& element = network.element(e);
      bending.halves.push_back(system->half_column(element.from, element.to));
      bending.before.push_back(drop(before.voltage, e));
    }
  }
  for (std::size_t l = 0; l < bending.loads.size(); ++l)
    bending.own.push_back(product(bending.halves[l], bending.halves[l]));
}

// A load P at the voltage w has the tangent P / w - P / w^2 (x - w); x within half of w, the law is less than 4 P / w^3
// (x - w)^2 away from it.
void Linearised::find_room() {
  constexpr double infinite_volts = std::numeric_limits<double>::infinity();
  bending.room_volts = bending.calm_volts = infinite_volts;
  const auto stay_within = [](double& room, double volts) { room = std::min(room, std::isnan(volts) ? 0.0 : volts); };
  for (std::size_t i = 0; i < bending.size(); ++i) {
    const bool is_load = i < bending.loads.size();
    const ElementIndex e = is_load ? bending.loads[i] : bending.diodes[i - bending.loads.size()];
    const Element& element = network.element(e);
    const double u = bending.before[i];
    if (std::isnan(u)) continue;  // it hangs loose, and does whatever changes
    if (!is_load) {
      stay_within(bending.room_volts, std::abs(u - element.value.nominal));
      continue;
    }
    const auto locked = most_locked_volts.find(e);
    stay_within(bending.room_volts,
                std::abs(-u - (locked == most_locked_volts.end() ? lockout(element) : locked->second)));
    if (states[at(e)] != State::running || values[at(e)] == 0.0) continue;
    const double bend = 4.0 * values[at(e)] * bending.own[i] / std::abs(u * u * u);  // V of itself, per V^2
    stay_within(bending.room_volts, std::abs(u) / 2.0);
    stay_within(bending.calm_volts, std::sqrt(kNegligible_volts / bend));
    bending.sharpness += 2.0 * bend;
  }
  bending.calm_volts = std::min(bending.calm_volts, bending.room_volts);
}

double product(const HalfColumn& a, const HalfColumn& b) {
  double sum = 0.0;
  auto p = a.entries.begin(), q = b.entries.begin();
  while (p != a.entries.end() && q != b.entries.end()) {
    if (p->row == q->row) sum += p->value * q->value;
    const bool behind = p->row <= q->row, level = p->row == q->row;
    p += behind ? 1 : 0;
    q += !behind || level ? 1 : 0;
  }
  return sum;
}

namespace {

/// Whether a load has a voltage to run at behind `ohm` of a source of `volts`: the upper root of w (volts - w) / ohm =
/// P.
bool can_run(const Element& load, double watt, double volts, double ohm) {
  const double under_root = volts * volts - 4.0 * watt * ohm;
  return volts > 0.0 && under_root >= 0.0 && 0.5 * (volts + std::sqrt(under_root)) >= lockout(load);
}

}  // namespace

// With the conductance g that it has below its lockout taken away, a load sees the voltage w / (1 - g z) behind z / (1
// - g z), z being what the network with it answers a current with. A tenth of the lockout leaves room for what
// varies.
bool Linearised::lock_for_good() {
  for (std::size_t l = 0; l < bending.loads.size(); ++l) {
    const ElementIndex e = bending.loads[l];
    const double w = -drop(before.voltage, e);
    if (states[at(e)] != State::locked || std::isnan(w)) continue;
    const Element& load = network.element(e);
    const double z = bending.own[l];
    const double share = 1.0 - system->companions()[at(e)].conductance * z;
    const double most = w + 0.1 * lockout(load) * share;
    if (!(share > 0.0) || can_run(load, values[at(e)], most / share, z / share)) return false;
    most_locked_volts[e] = most;
  }
  return true;
}

/// Whether a nonlinear element stays in its state at the voltage u over it.
bool Linearised::keeps(ElementIndex e, long double u) const {
  const Element& element = network.element(e);
  const State state = states[at(e)];
  if (element.kind == Kind::diode) return (u > element.value.nominal) == (state == State::on);
  const auto least = most_locked_volts.find(e);
  if (least != most_locked_volts.end()) return -u < least->second;
  return (-u >= lockout(element)) == (state == State::running);
}

std::optional<double> Linearised::beyond_tangent(ElementIndex e, long double u) const {
  const Element& element = network.element(e);
  if (std::isnan(u)) return 0.0;
  if (!keeps(e, u)) return std::nullopt;
  const Companion& tangent = system->companions()[at(e)];
  return static_cast<double>(current_at(element, values[at(e)], states[at(e)], u) -
                             (tangent.conductance * u + tangent.injection));
}

namespace {

/// What a source drives after the changes.
double driven_now(const Linearised& network, const Branched& made, ElementIndex source) {
  for (const auto& [changed, ampere] : made.driven) {
    if (changed == source) return ampere;
  }
  return network.values[at(source)];
}

/// Whether nothing feeds current into what is cut off, nor draws any: then no way out of it carries any. A diode that
/// is off may yet be the way by which a part hangs on the rest.
bool quiet(const Linearised& network, const Branched& made) {
  const auto part = [&](Node node) { return made.cut.part(node); };
  for (const auto& [node, own] : made.cut.nodes) {
    for (const ElementIndex e : network.not_resistive[at(node)]) {
      const Element& element = network.network.element(e);
      const int from = part(element.from), to = part(element.to);
      if (element.kind == Kind::constant_power) return false;
      if (element.kind == Kind::current && from != to && driven_now(network, made, e) != 0.0) return false;
      if (element.kind == Kind::diode && (from == 0) != (to == 0)) return false;
    }
  }
  return true;
}

}  // namespace

std::optional<Branched> branched(const Linearised& network, const std::vector<Change>& changes) {
  Branched made;
  made.cut = network.ties->cut_off(changes);
  for (std::size_t c = 0; c < changes.size(); ++c) {
    const Change& change = changes[c];
    Branch branch{change.a, change.b, 0.0L};
    double old = 0.0;
    if (change.element) {
      const Element& element = network.network.element(*change.element);
      branch = {element.from, element.to, 0.0L};
      if (element.kind == Kind::current) {
        if (network.floats(branch.a) || network.floats(branch.b)) continue;
        made.driven.emplace_back(*change.element, change.value);
        made.driven_of.push_back(c);
        continue;
      }
      if (network.system->companions()[at(*change.element)].form == Companion::Form::link) return std::nullopt;
      old = 1.0 / network.values[at(*change.element)];  // of an open one: 0
      if (std::find(made.cut.kept.begin(), made.cut.kept.end(), *change.element) != made.cut.kept.end()) continue;
    }
    if (network.floats(branch.a) && network.floats(branch.b)) continue;  // they still do, unless another change tells
    if (network.floats(branch.a) || network.floats(branch.b)) return std::nullopt;
    const double more = (change.value == 0.0 ? infinite : 1.0 / change.value) - old;
    if (more == 0.0) continue;
    branch.softness = 1.0L / more;
    made.branches.push_back(branch);
    made.branch_of.push_back(c);
  }
  if (made.cut.any() && !quiet(network, made)) return std::nullopt;
  return made;
}

std::optional<Small> inverse_of(Small small, const std::vector<Branch>& branches, double smallest_pivot) {
  const Eigen::Index k = small.rows();
  if (k == 0) return small;
  SmallVector scale(k);
  for (Eigen::Index i = 0; i < k; ++i) {
    const auto softness = static_cast<double>(branches[static_cast<std::size_t>(i)].softness);
    const double largest = std::max(std::abs(small(i, i)), std::abs(softness));
    if (!(largest > 0.0)) return std::nullopt;
    scale(i) = 1.0 / std::sqrt(largest);
    small(i, i) += softness;
  }
  small = (scale.asDiagonal() * small * scale.asDiagonal()).eval();
  const Eigen::FullPivLU<Small> lu(small);
  for (Eigen::Index i = 0; i < k; ++i) {
    if (!(std::abs(lu.matrixLU()(i, i)) > smallest_pivot)) return std::nullopt;
  }
  small = lu.inverse();
  return Small(scale.asDiagonal() * small * scale.asDiagonal());
}

Varied Variations::Inside::solved_anew(const std::vector<Change>& changes) const {
  Solution anew = solve(changed(linearised.network, changes));
  return {anew.trouble, std::move(anew.voltage), true};
}

Network changed(Network network, const std::vector<Change>& changes) {
  for (const Change& change : changes) {
    if (change.element) {
      network.element(*change.element).value = Range::exactly(change.value);
    } else {
      std::string name = "bridge ";  // a space: no name of a network has one
      network.resistor(name.append(std::to_string(network.elements().size())), change.a, change.b,
                       Range::exactly(change.value));
    }
  }
  return network;
}

Variations::Variations(const Network& network) : inside_(std::make_unique<Inside>(network)) {}
Variations::~Variations() = default;
Variations::Variations(Variations&&) noexcept = default;

const Solution& Variations::before() const { return inside_->linearised.before; }

std::optional<Varied> Variations::by_formula(const std::vector<Change>& changes) const {
  return inside_->linearised.updatable ? updated(inside_->linearised, changes) : std::nullopt;
}

Varied Variations::with(const std::vector<Change>& changes) const {
  if (std::optional<Varied> varied = by_formula(changes)) return *std::move(varied);
  return inside_->solved_anew(changes);
}

Variations::Ready Variations::ready(const std::vector<Change>& changes) const {
  auto made = std::make_shared<Ready::Inside>();
  made->changes = changes;
  const Linearised& network = inside_->linearised;
  if (!network.updatable) return {std::move(made)};
  for (const Change& change : changes) {
    const Node a = change.element ? network.network.element(*change.element).from : change.a;
    const Node b = change.element ? network.network.element(*change.element).to : change.b;
    made->halves.push_back(network.system->half_column(a, b));
    double most = 0.0;
    for (const HalfColumn& half : network.bending.halves)
      most = std::max(most, std::abs(product(half, made->halves.back())));
    made->most_bending.push_back(most);
  }
  return {std::move(made)};
}

Variations::Asked Variations::asked(const std::vector<Node>& nodes) const {
  auto made = std::make_shared<Asked::Inside>();
  made->nodes = nodes;
  if (!inside_->linearised.updatable) return {std::move(made)};
  for (const Node node : nodes) made->halves.push_back(inside_->linearised.system->half_column(node, reference));
  return {std::move(made)};
}

const std::vector<Node>& Variations::Asked::nodes() const { return inside->nodes; }

std::optional<std::vector<double>> Variations::glance(const Ready& first, const Ready& second,
                                                      const Asked& asked) const {
  if (!inside_->linearised.updatable) return std::nullopt;
  return glanced(inside_->linearised, *first.inside, *second.inside, *asked.inside);
}

std::optional<std::vector<double>> Variations::glance(const std::vector<Change>& changes,
                                                      const std::vector<Node>& nodes) const {
  return glance(ready(changes), ready({}), asked(nodes));
}

}  // namespace zoneproof::circuit
