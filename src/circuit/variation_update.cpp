#include <algorithm>
#include <cmath>
#include <limits>

#include "circuit/variation_inside.hpp"

namespace zoneproof::circuit {

namespace {

/// Of what a pivot is a difference of: below it the small matrix counts as singular. Products of half columns keep
/// enough digits for the refinement to close in from there.
constexpr double smallest_pivot = 1e-10;
constexpr double still_volts = 1e-10;  ///< a step that moves no more than this was the last
constexpr int most_rounds = 25;

using Wide = Eigen::Matrix<long double, Eigen::Dynamic, 1>;

/// One variation through the factors as they are: Woodbury's formula and what follows from it.
class Update {
 public:
  Update(const Linearised& network, const Branched& made)
      : in_(network), branches_(made.branches), driven_(made.driven), made_(made), start_(network.solution) {
    for (const auto& [source, ampere] : driven_) {
      const Element& element = in_.network.element(source);
      start_ -= (ampere - in_.values[at(source)]) * column(element.from, element.to);
    }
  }

  std::optional<Varied> run() {
    if (branches_.size() > most_branches || !invert()) return std::nullopt;
    return settle();
  }

 private:
  /// Of all nodes; NaN where one floated before.
  template <class Vector>
  auto node_voltages(const Vector& x) const {
    std::vector<typename Vector::Scalar> v(at(in_.network.node_count()));
    for (Node node = 0; node < in_.network.node_count(); ++node) {
      const int index = in_.system->unknown(node);
      v[at(node)] = in_.floats(node) ? std::numeric_limits<typename Vector::Scalar>::quiet_NaN()
                                     : in_.system->offset(node) + (index >= 0 ? x(index) : 0);
    }
    return v;
  }
  /// A^-1 of the incidence of a branch.
  Eigen::VectorXd column(Node a, Node b) const {
    Eigen::VectorXd z = Eigen::VectorXd::Zero(in_.solution.size());
    if (in_.system->unknown(a) >= 0) z(in_.system->unknown(a)) += 1.0;
    if (in_.system->unknown(b) >= 0) z(in_.system->unknown(b)) -= 1.0;
    in_.system->solve(z.data(), 1);
    return z;
  }
  /// Takes an extra current from node a to node b off what is missing there.
  void take(Wide& missing, Node a, Node b, long double ampere) const {
    if (in_.system->unknown(a) >= 0) missing(in_.system->unknown(a)) -= ampere;
    if (in_.system->unknown(b) >= 0) missing(in_.system->unknown(b)) += ampere;
  }
  /// What Kirchhoff's current law still misses at every unknown of the linearised network, some sources driven anew.
  Wide missing(const std::vector<long double>& v) const {
    Wide left = Wide::Zero(in_.solution.size());
    for (std::size_t i = 0; i < in_.values.size(); ++i) {
      const Companion& line = in_.system->companions()[i];
      const Element& element = in_.network.elements()[i];
      const long double u = v[at(element.from)] - v[at(element.to)];
      if (line.form != Companion::Form::norton || std::isnan(u)) continue;
      take(left, element.from, element.to, line.conductance * u + line.injection);
    }
    for (const auto& [source, ampere] : driven_) {
      const Element& element = in_.network.element(source);
      take(left, element.from, element.to, static_cast<long double>(ampere) - in_.values[at(source)]);
    }
    return left;
  }
  double across(const Eigen::VectorXd& x, Node a, Node b) const {
    const auto of = [&](Node node) { return in_.system->unknown(node) >= 0 ? x(in_.system->unknown(node)) : 0.0; };
    return of(a) - of(b);
  }

  /// The small matrix C^-1 + U^T Z, inverted; false where it is nearly singular.
  bool invert() {
    const auto k = static_cast<Eigen::Index>(branches_.size());
    z_.resize(in_.solution.size(), k);
    before_.resize(k);
    const std::vector<double> driven = node_voltages(start_);
    for (Eigen::Index i = 0; i < k; ++i) {
      const Branch& branch = branches_[static_cast<std::size_t>(i)];
      z_.col(i) = column(branch.a, branch.b);
      before_(i) = driven[at(branch.a)] - driven[at(branch.b)];
    }
    std::vector<HalfColumn> halves;
    for (const Branch& branch : branches_) halves.push_back(in_.system->half_column(branch.a, branch.b));
    const Small small = products(halves.size(), [&](std::size_t i) -> const HalfColumn& { return halves[i]; });
    const std::optional<Small> inverse = inverse_of(small, branches_, smallest_pivot);
    if (inverse) small_inverse_ = *inverse;
    return inverse.has_value();
  }

  /// Woodbury's formula, refined. With i the branches' extra currents and d(v) what loads draw beyond their tangents it
  /// solves
  ///     A x + U i + d(x) = b,   U^T x = C^-1 i,
  /// whose residuals, of the network as it was, are put through the same formula until they move nothing: where a node
  /// is left hanging on a leakage the first answer has lost that many digits, and what is nonlinear is iterated by the
  /// same step (chord method). Nothing where a diode or load is in another state on the way.
  std::optional<Varied> settle() const {
    const SmallVector first = small_inverse_ * before_;
    Wide x = (start_ - z_ * first).cast<long double>();
    Wide current = first.cast<long double>();  // what is opened had amperes, and what hangs on it leaks picoamperes
    for (int round = 0; round < most_rounds; ++round) {
      const std::vector<long double> v = node_voltages(x);
      Wide left = missing(v);
      if (!take_beyond_tangents(left, v)) return std::nullopt;
      SmallVector over(current.size());
      for (Eigen::Index i = 0; i < current.size(); ++i) {
        const Branch& branch = branches_[static_cast<std::size_t>(i)];
        take(left, branch.a, branch.b, current(i));
        over(i) = static_cast<double>(v[at(branch.a)] - v[at(branch.b)] - branch.softness * current(i));
      }
      Eigen::VectorXd y = left.cast<double>();
      in_.system->solve(y.data(), 1);
      const SmallVector more = small_inverse_ * (felt(y) + over);
      const Eigen::VectorXd step = y - z_ * more;
      x += step.cast<long double>();
      current += more.cast<long double>();
      const double moved = step.size() == 0 ? 0.0 : step.cwiseAbs().maxCoeff();
      if (!std::isfinite(moved)) return std::nullopt;
      if (moved < still_volts) return Varied{made_.cut.any() ? Trouble::floating : in_.before.trouble, told(x), false};
    }
    return std::nullopt;
  }

  /// Takes off what is missing the currents that the nonlinear elements draw beyond their tangents at the voltages v;
  /// false where one of them is in another state there.
  bool take_beyond_tangents(Wide& left, const std::vector<long double>& v) const {
    for (const std::vector<ElementIndex>* kind : {&in_.bending.loads, &in_.bending.diodes}) {
      for (const ElementIndex e : *kind) {
        const Element& element = in_.network.element(e);
        if (made_.cut_off(element.from)) continue;
        const std::optional<double> beyond = in_.beyond_tangent(e, v[at(element.from)] - v[at(element.to)]);
        if (!beyond) return false;
        take(left, element.from, element.to, *beyond);
      }
    }
    return true;
  }

  /// U^T x: what a vector is over each of the branches.
  SmallVector felt(const Eigen::VectorXd& x) const {
    SmallVector over(static_cast<Eigen::Index>(branches_.size()));
    for (std::size_t i = 0; i < branches_.size(); ++i)
      over(static_cast<Eigen::Index>(i)) = across(x, branches_[i].a, branches_[i].b);
    return over;
  }

  /// Voltages of all nodes; NaN where one is cut off.
  std::vector<double> told(const Wide& x) const {
    const std::vector<long double> wide = node_voltages(x);
    std::vector<double> v(wide.begin(), wide.end());
    for (const auto& [node, part] : made_.cut.nodes) v[at(node)] = std::numeric_limits<double>::quiet_NaN();
    return v;
  }

  const Linearised& in_;
  const std::vector<Branch>& branches_;
  const std::vector<std::pair<ElementIndex, double>>& driven_;
  const Branched& made_;
  Eigen::MatrixXd z_;  ///< A^-1 U
  Small small_inverse_;
  Eigen::VectorXd start_;  ///< before the branches change
  SmallVector before_;     ///< the branches' voltages then
};

}  // namespace

std::optional<Varied> updated(const Linearised& network, const std::vector<Change>& changes) {
  const std::optional<Branched> made = branched(network, changes);
  return made ? Update(network, *made).run() : std::nullopt;
}

}  // namespace zoneproof::circuit
