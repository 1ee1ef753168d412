#include "circuit/variation.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "circuit/laws.hpp"
#include "circuit/nodal.hpp"

namespace zoneproof::circuit {

namespace {

constexpr double smallest_pivot = 1e-7;  ///< of the largest: below it the small matrix counts as singular
constexpr double still_volts = 1e-11;    ///< the iteration stands
constexpr int most_rounds = 25;

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

/// Whether a nonlinear element stays in its state at the voltage u over it.
bool keeps(const Element& element, State state, double u) {
  if (std::isnan(u)) return true;
  if (element.kind == Kind::diode) return (u > element.value.nominal) == (state == State::on);
  return (-u >= lockout(element)) == (state == State::running);
}

}  // namespace

struct Variations::Inside {
  const Network& network;
  Values values;
  Solution before;
  States states;
  std::optional<NodalSystem> system;
  Eigen::MatrixXd inverse;
  Eigen::VectorXd solution;
  std::vector<std::size_t> nonlinear;
  bool updatable = false;

  explicit Inside(const Network& solved) : network(solved), values(nominal_values(solved)), before(solve(solved)) {
    if (before.usable()) linearise();
  }

  void linearise() {
    std::vector<Companion> companions;
    bool limited = false;
    for (std::size_t e = 0; e < values.size(); ++e) {
      const Element& element = network.elements()[e];
      states.push_back(state_at(element, static_cast<ElementIndex>(e), before));
      companions.push_back(companion(element, values[e], states.back(), drop(before.voltage, e)));
      if (element.kind == Kind::constant_power || element.kind == Kind::diode) nonlinear.push_back(e);
      limited = limited || element.kind == Kind::limited_source;
    }
    system.emplace(network, std::move(companions));
    if (limited || !system->source_loop().empty() || !system->factorise()) return;
    const int n = system->unknowns();
    inverse = Eigen::MatrixXd::Identity(n, n);
    system->solve(inverse.data(), n);
    std::vector<double> x = system->right_hand_side();
    system->solve(x.data(), 1);
    solution = Eigen::Map<Eigen::VectorXd>(x.data(), n);
    updatable = true;
  }

  double drop(const std::vector<double>& v, std::size_t e) const {
    return v[at(network.elements()[e].from)] - v[at(network.elements()[e].to)];
  }
  bool floats(Node node) const { return system->unknown(node) == NodalSystem::floats; }
  std::vector<double> node_voltages(const Eigen::VectorXd& x) const {
    return system->node_voltages(std::vector<double>(x.data(), x.data() + x.size()));
  }

  /// A^-1 of the incidence of a branch.
  Eigen::VectorXd column(Node a, Node b) const {
    Eigen::VectorXd z = Eigen::VectorXd::Zero(inverse.rows());
    if (system->unknown(a) >= 0) z += inverse.col(system->unknown(a));
    if (system->unknown(b) >= 0) z -= inverse.col(system->unknown(b));
    return z;
  }
  double across(const Eigen::VectorXd& x, Node a, Node b) const {
    const auto of = [&](Node node) { return system->unknown(node) >= 0 ? x(system->unknown(node)) : 0.0; };
    return of(a) - of(b);
  }

  Varied solved_anew(const std::vector<Change>& changes) const;
};

namespace {

/// One variation through the inverse as it is: Woodbury's formula and what follows from it.
template <class Inside>
class Update {
 public:
  Update(const Inside& inside, const std::vector<Change>& changes) : in_(inside), changes_(changes) {}

  std::optional<Varied> run() {
    if (!in_.updatable || !collect() || !invert()) return std::nullopt;
    Eigen::VectorXd linear = in_.solution;
    if (!branches_.empty()) linear -= z_ * (small_inverse_ * before_);
    return settle(linear);
  }

 private:
  struct Branch {
    Node a, b;
    double softness;  ///< 1 / c
  };

  bool collect() {
    for (const Change& change : changes_) {
      Branch branch{change.a, change.b, 0.0};
      double old = 0.0;
      if (change.resistor) {
        const Element& element = in_.network.element(*change.resistor);
        if (in_.system->companions()[at(*change.resistor)].form == Companion::Form::link) return false;
        branch = {element.from, element.to, 0.0};
        old = 1.0 / in_.values[at(*change.resistor)];  // of an open one: 0
      }
      if (in_.floats(branch.a) || in_.floats(branch.b)) return false;
      const double more = (change.ohm == 0.0 ? infinite : 1.0 / change.ohm) - old;
      if (more == 0.0) continue;
      branch.softness = 1.0 / more;
      branches_.push_back(branch);
    }
    return true;
  }

  /// The small matrix C^-1 + U^T Z, inverted; false where it is nearly singular.
  bool invert() {
    const auto k = static_cast<Eigen::Index>(branches_.size());
    z_.resize(in_.inverse.rows(), k);
    before_.resize(k);
    for (Eigen::Index i = 0; i < k; ++i) {
      const Branch& branch = branches_[static_cast<std::size_t>(i)];
      z_.col(i) = in_.column(branch.a, branch.b);
      before_(i) = in_.before.voltage[at(branch.a)] - in_.before.voltage[at(branch.b)];
    }
    if (k == 0) return true;
    Eigen::MatrixXd small(k, k);
    for (Eigen::Index j = 0; j < k; ++j) small.col(j) = felt(z_.col(j));
    for (Eigen::Index i = 0; i < k; ++i) {
      const double softness = branches_[static_cast<std::size_t>(i)].softness;
      const double scale = std::max(std::abs(small(i, i)), std::abs(softness));
      small(i, i) += softness;
      if (!(std::abs(small(i, i)) > smallest_pivot * scale)) return false;
    }
    Eigen::FullPivLU<Eigen::MatrixXd> lu(small);
    lu.setThreshold(smallest_pivot);
    if (!lu.isInvertible()) return false;
    small_inverse_ = lu.inverse();
    return true;
  }

  /// U^T x: what a vector is over each of the branches.
  Eigen::VectorXd felt(const Eigen::VectorXd& x) const {
    Eigen::VectorXd over(static_cast<Eigen::Index>(branches_.size()));
    for (std::size_t i = 0; i < branches_.size(); ++i)
      over(static_cast<Eigen::Index>(i)) = in_.across(x, branches_[i].a, branches_[i].b);
    return over;
  }

  /// The chord iteration from the solution of the linear network.
  std::optional<Varied> settle(const Eigen::VectorXd& linear) const {
    Eigen::VectorXd x = linear;
    for (int round = 0; round < most_rounds; ++round) {
      const std::optional<Eigen::VectorXd> next = beyond_tangents(linear, in_.node_voltages(x));
      if (!next) return std::nullopt;
      const double moved = x.size() == 0 ? 0.0 : (*next - x).cwiseAbs().maxCoeff();
      x = *next;
      if (!std::isfinite(moved)) return std::nullopt;
      if (moved < still_volts) return Varied{in_.before.trouble, in_.node_voltages(x), false};
    }
    return std::nullopt;
  }

  /// The linear solution with the currents that the nonlinear elements draw beyond their tangents at the voltages v;
  /// nothing where one of them is in another state there.
  std::optional<Eigen::VectorXd> beyond_tangents(const Eigen::VectorXd& linear, const std::vector<double>& v) const {
    Eigen::VectorXd next = linear;
    for (const std::size_t e : in_.nonlinear) {
      const Element& element = in_.network.elements()[e];
      const double u = in_.drop(v, e);
      if (!keeps(element, in_.states[e], u)) return std::nullopt;
      if (std::isnan(u)) continue;
      const Companion& tangent = in_.system->companions()[e];
      const double beyond = static_cast<double>(current_at(element, in_.values[e], in_.states[e], u)) -
                            (tangent.conductance * u + tangent.injection);
      if (beyond == 0.0) continue;
      const Eigen::VectorXd z = in_.column(element.from, element.to);
      next -= beyond * z;
      if (!branches_.empty()) next += beyond * (z_ * (small_inverse_ * felt(z)));
    }
    return next;
  }

  const Inside& in_;
  const std::vector<Change>& changes_;
  std::vector<Branch> branches_;
  Eigen::MatrixXd z_;  ///< A^-1 U
  Eigen::MatrixXd small_inverse_;
  Eigen::VectorXd before_;  ///< the branches' voltages before
};

}  // namespace

Varied Variations::Inside::solved_anew(const std::vector<Change>& changes) const {
  Network changed = network;
  for (const Change& change : changes) {
    if (change.resistor) {
      changed.element(*change.resistor).value = Range::exactly(change.ohm);
    } else {
      std::string name = "bridge ";  // a space: no name of a network has one
      changed.resistor(name.append(std::to_string(changed.elements().size())), change.a, change.b,
                       Range::exactly(change.ohm));
    }
  }
  Solution anew = solve(changed);
  return {anew.trouble, std::move(anew.voltage), true};
}

Variations::Variations(const Network& network) : inside_(std::make_unique<Inside>(network)) {}
Variations::~Variations() = default;
Variations::Variations(Variations&&) noexcept = default;

const Solution& Variations::before() const { return inside_->before; }

Varied Variations::with(const std::vector<Change>& changes) const {
  if (std::optional<Varied> varied = Update(*inside_, changes).run()) return *std::move(varied);
  return inside_->solved_anew(changes);
}

}  // namespace zoneproof::circuit
