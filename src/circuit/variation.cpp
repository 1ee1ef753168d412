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
constexpr double refined_volts = 1e-10;  ///< a refinement that moves no more than this was the last
constexpr int most_refinements = 6;

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
  /// Takes an extra current from node a to node b off what is missing there.
  void take(Eigen::VectorXd& missing, Node a, Node b, double ampere) const {
    if (system->unknown(a) >= 0) missing(system->unknown(a)) -= ampere;
    if (system->unknown(b) >= 0) missing(system->unknown(b)) += ampere;
  }
  /// What Kirchhoff's current law still misses at every unknown of the linearised network, some sources driven anew.
  Eigen::VectorXd missing(const std::vector<double>& v,
                          const std::vector<std::pair<ElementIndex, double>>& driven) const {
    Eigen::VectorXd left = Eigen::VectorXd::Zero(inverse.rows());
    for (std::size_t e = 0; e < values.size(); ++e) {
      const Companion& line = system->companions()[e];
      const double u = drop(v, e);
      if (line.form != Companion::Form::norton || std::isnan(u)) continue;
      take(left, network.elements()[e].from, network.elements()[e].to, line.conductance * u + line.injection);
    }
    for (const auto& [source, ampere] : driven) {
      const Element& element = network.element(source);
      take(left, element.from, element.to, ampere - values[at(source)]);
    }
    return left;
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
    Eigen::VectorXd linear = start_;
    if (!branches_.empty() && !branch_out(linear)) return std::nullopt;
    return settle(linear);
  }

 private:
  struct Branch {
    Node a, b;
    double softness;  ///< 1 / c
  };

  bool collect() {
    start_ = in_.solution;
    for (const Change& change : changes_) {
      if (change.element && in_.network.element(*change.element).kind == Kind::current) {
        drive(*change.element, change.value);
        continue;
      }
      Branch branch{change.a, change.b, 0.0};
      double old = 0.0;
      if (change.element) {
        const Element& element = in_.network.element(*change.element);
        if (in_.system->companions()[at(*change.element)].form == Companion::Form::link) return false;
        branch = {element.from, element.to, 0.0};
        old = 1.0 / in_.values[at(*change.element)];  // of an open one: 0
      }
      if (in_.floats(branch.a) || in_.floats(branch.b)) return false;
      const double more = (change.value == 0.0 ? infinite : 1.0 / change.value) - old;
      if (more == 0.0) continue;
      branch.softness = 1.0 / more;
      branches_.push_back(branch);
    }
    return true;
  }

  /// A current source drives another current: what follows before anything else changes.
  void drive(ElementIndex source, double ampere) {
    const Element& element = in_.network.element(source);
    if (in_.floats(element.from) || in_.floats(element.to)) return;
    start_ -= (ampere - in_.values[at(source)]) * in_.column(element.from, element.to);
    driven_.emplace_back(source, ampere);
  }

  /// The small matrix C^-1 + U^T Z, inverted; false where it is nearly singular.
  bool invert() {
    const auto k = static_cast<Eigen::Index>(branches_.size());
    z_.resize(in_.inverse.rows(), k);
    before_.resize(k);
    const std::vector<double> driven = in_.node_voltages(start_);
    for (Eigen::Index i = 0; i < k; ++i) {
      const Branch& branch = branches_[static_cast<std::size_t>(i)];
      z_.col(i) = in_.column(branch.a, branch.b);
      before_(i) = driven[at(branch.a)] - driven[at(branch.b)];
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

  /// Woodbury's formula, refined: with i the branches' extra currents it solves
  ///     A x + U i = b,   U^T x = C^-1 i,
  /// whose residuals, of the network as it was, are put through the same formula until they move nothing. Where a node
  /// is left hanging on a leakage, the first answer has lost that many digits.
  bool branch_out(Eigen::VectorXd& x) const {
    Eigen::VectorXd current = small_inverse_ * before_;
    x -= z_ * current;
    for (int round = 0; round < most_refinements; ++round) {
      const std::vector<double> v = in_.node_voltages(x);
      Eigen::VectorXd missing = in_.missing(v, driven_);
      Eigen::VectorXd over(current.size());
      for (Eigen::Index i = 0; i < current.size(); ++i) {
        const Branch& branch = branches_[static_cast<std::size_t>(i)];
        in_.take(missing, branch.a, branch.b, current(i));
        over(i) = v[at(branch.a)] - v[at(branch.b)] - branch.softness * current(i);
      }
      const Eigen::VectorXd y = in_.inverse * missing;
      const Eigen::VectorXd more = small_inverse_ * (felt(y) + over);
      const Eigen::VectorXd step = y - z_ * more;
      x += step;
      current += more;
      const double moved = step.size() == 0 ? 0.0 : step.cwiseAbs().maxCoeff();
      if (moved < refined_volts) return true;
      if (!std::isfinite(moved)) return false;
    }
    return false;
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
  std::vector<std::pair<ElementIndex, double>> driven_;  ///< current sources that changed
  Eigen::VectorXd start_;                                ///< before the branches change
  Eigen::VectorXd before_;                               ///< the branches' voltages then
};

}  // namespace

Varied Variations::Inside::solved_anew(const std::vector<Change>& changes) const {
  Network changed = network;
  for (const Change& change : changes) {
    if (change.element) {
      changed.element(*change.element).value = Range::exactly(change.value);
    } else {
      std::string name = "bridge ";  // a space: no name of a network has one
      changed.resistor(name.append(std::to_string(changed.elements().size())), change.a, change.b,
                       Range::exactly(change.value));
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
