#include "circuit/variation.hpp"

#include <algorithm>
#include <cmath>

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
  bool limited = false;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto e = static_cast<ElementIndex>(i);
    const Element& element = network.element(e);
    states.push_back(state_at(element, e, before));
    const double u = drop(before.voltage, e);
    const bool hangs_loose = std::isnan(u) && (element.kind == Kind::constant_power || element.kind == Kind::diode);
    companions.push_back(hangs_loose ? Companion{} : companion(element, values[i], states.back(), u));
    if (element.kind == Kind::current) currents.push_back(e);
    if (element.kind == Kind::constant_power) loads.push_back(e);
    if (element.kind == Kind::diode) diodes.push_back(e);
    limited = limited || element.kind == Kind::limited_source;
  }
  system.emplace(network, std::move(companions));
  if (limited || !system->source_loop().empty() || !system->factorise()) return;
  ties.emplace(network, *system);
  const int n = system->unknowns();
  inverse = Eigen::MatrixXd::Identity(n, n);
  system->solve(inverse.data(), n);
  std::vector<double> x = system->right_hand_side();
  system->solve(x.data(), 1);
  solution = Eigen::Map<Eigen::VectorXd>(x.data(), n);
  updatable = before.trouble != Trouble::collapsed || lock_for_good();
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
  for (const ElementIndex e : loads) {
    const double w = -drop(before.voltage, e);
    if (states[at(e)] != State::locked || std::isnan(w)) continue;
    const Element& load = network.element(e);
    const int a = system->unknown(load.from), b = system->unknown(load.to);
    const auto entry = [&](int row, int column) { return row < 0 || column < 0 ? 0.0 : inverse(row, column); };
    const double z = entry(a, a) - entry(a, b) - entry(b, a) + entry(b, b);
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
  const std::vector<int>& part = made.cut.part;
  for (const ElementIndex e : network.currents) {
    const Element& source = network.network.element(e);
    if (part[at(source.from)] != part[at(source.to)] && driven_now(network, made, e) != 0.0) return false;
  }
  const auto cut = [&](Node node) { return part[at(node)] != 0; };
  const bool loaded = std::any_of(network.loads.begin(), network.loads.end(), [&](ElementIndex e) {
    return cut(network.network.element(e).from) || cut(network.network.element(e).to);
  });
  const bool hangs = std::any_of(network.diodes.begin(), network.diodes.end(), [&](ElementIndex e) {
    return cut(network.network.element(e).from) != cut(network.network.element(e).to);
  });
  return !loaded && !hangs;
}

}  // namespace

std::optional<Branched> branched(const Linearised& network, const std::vector<Change>& changes) {
  Branched made;
  made.cut = network.ties->cut_off(changes);
  for (const Change& change : changes) {
    Branch branch{change.a, change.b, 0.0};
    double old = 0.0;
    if (change.element) {
      const Element& element = network.network.element(*change.element);
      branch = {element.from, element.to, 0.0};
      if (element.kind == Kind::current) {
        if (!network.floats(branch.a) && !network.floats(branch.b))
          made.driven.emplace_back(*change.element, change.value);
        continue;
      }
      if (network.system->companions()[at(*change.element)].form == Companion::Form::link) return std::nullopt;
      old = 1.0 / network.values[at(*change.element)];  // of an open one: 0
      if (std::find(made.cut.kept.begin(), made.cut.kept.end(), *change.element) != made.cut.kept.end()) continue;
    }
    if (network.floats(branch.a) || network.floats(branch.b)) return std::nullopt;
    const double more = (change.value == 0.0 ? infinite : 1.0 / change.value) - old;
    if (more == 0.0) continue;
    branch.softness = 1.0 / more;
    made.branches.push_back(branch);
  }
  if (made.cut.any() && !quiet(network, made)) return std::nullopt;
  return made;
}

std::optional<Small> inverse_of(Small small, const std::vector<Branch>& branches, double smallest_pivot) {
  const Eigen::Index k = small.rows();
  if (k == 0) return small;
  SmallVector scale(k);
  for (Eigen::Index i = 0; i < k; ++i) {
    const double softness = branches[static_cast<std::size_t>(i)].softness;
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

struct Variations::Inside {
  Linearised linearised;

  explicit Inside(const Network& solved) : linearised(solved) {}

  Varied solved_anew(const std::vector<Change>& changes) const;
};

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

Varied Variations::with(const std::vector<Change>& changes) const {
  if (inside_->linearised.updatable) {
    if (std::optional<Varied> varied = updated(inside_->linearised, changes)) return *std::move(varied);
  }
  return inside_->solved_anew(changes);
}

std::optional<std::vector<double>> Variations::glance(const std::vector<Change>& changes,
                                                      const std::vector<Node>& asked) const {
  return inside_->linearised.updatable ? glanced(inside_->linearised, changes, asked) : std::nullopt;
}

}  // namespace zoneproof::circuit
