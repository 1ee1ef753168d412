// What is asked of an enclosure: a functional of the voltages, its sensitivities, its vertices.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "circuit/enclosure.hpp"

namespace zoneproof::circuit {
namespace {

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

}  // namespace

// lambda: how the functional answers to what each row's correction drives. mu: the functional's adjoint solution;
// scale: its largest entry.
void Enclosure::row_sensitivities(const std::vector<double>& mu, double scale, Functional& f) const {
  const NodalSystem& system = system_.front();
  const std::size_t m = rows_.size();
  f.lambda.resize(m);
  std::vector<double> base(m);
  for (std::size_t k = 0; k < m; ++k) {
    const Element& e = network_.elements()[at(rows_[k].element)];
    const int a = system.unknown(e.from);
    const int b = system.unknown(e.to);
    f.lambda[k] = rows_[k].scale_d * ((a >= 0 ? mu[at(a)] : 0.0) - (b >= 0 ? mu[at(b)] : 0.0));
    base[k] = std::abs(f.lambda[k]);
    f.centre -= f.lambda[k] * correction_mid_[k];
    f.radius += std::abs(f.lambda[k]) * correction_[k];
  }
  if (!super_solution(base, true, f.lambda_most)) {
    f.lambda_most.assign(m, infinite);
    f.lambda_radius.assign(m, infinite);
    return;
  }
  std::vector<double> reach(m);
  for (std::size_t k = 0; k < m; ++k) reach[k] = rows_[k].half_lambda * f.lambda_most[k];
  f.lambda_radius = spread(reach, true);
  for (std::size_t k = 0; k < m; ++k) {
    f.lambda_radius[k] =
        f.lambda_radius[k] * (1.0 + relative_slack) + absolute_slack * scale * std::abs(rows_[k].scale_d);
  }
}

// kappa: how the functional answers to each source; asks for lambda first.
void Enclosure::column_sensitivities(const Quantity& quantity, const std::vector<double>& mu, double scale,
                                     Functional& f) const {
  const std::size_t m = rows_.size();
  const std::size_t s = columns_.size();
  f.kappa.resize(s);
  f.kappa_radius.resize(s);
  for (std::size_t j = 0; j < s; ++j) {
    double centre = 0.0;
    for (std::size_t i = 0; i < mu.size(); ++i) centre += mu[i] * columns_[j].rhs[i];
    if (!columns_[j].jump.empty()) {
      for (const Quantity::Term& term : quantity.terms) centre += term.weight * columns_[j].jump[at(term.node)];
    }
    double radius = 0.0;
    for (std::size_t k = 0; k < m; ++k) {
      if (rows_[k].half_lambda > 0.0) radius += std::abs(drive_[k * s + j]) * rows_[k].half_lambda * f.lambda_most[k];
    }
    f.kappa[j] = centre;
    f.kappa_radius[j] = radius * (1.0 + relative_slack) + absolute_slack * std::max(1.0, scale);
    f.radius += std::abs(centre) * columns_[j].half;
  }
}

Enclosure::Functional Enclosure::functional(const Quantity& quantity) const {
  Functional f;
  const NodalSystem& system = system_.front();
  std::vector<double> mu(at(system.unknowns()), 0.0);
  for (const Quantity::Term& term : quantity.terms) {
    const int index = system.unknown(term.node);
    if (index == NodalSystem::floats) {
      f.floats = true;
      return f;
    }
    if (index >= 0) mu[at(index)] += term.weight;
    f.centre += term.weight * base_volts_[at(term.node)];
  }
  system.solve(mu.data(), 1);
  double scale = 0.0;
  for (const double entry : mu) scale = std::max(scale, std::abs(entry));
  row_sensitivities(mu, scale, f);
  column_sensitivities(quantity, mu, scale, f);
  f.radius = f.radius * (1.0 + relative_slack) + absolute_slack * volt_scale_;
  return f;
}

namespace {
int certain(double centre, double radius) { return std::abs(centre) > radius ? (centre > 0.0 ? 1 : -1) : 0; }
}  // namespace

int Enclosure::sign(const Functional& f, const Parameter& parameter) const { return sign_with(f, parameter, 1.0); }
int Enclosure::leaning(const Functional& f, const Parameter& parameter) const { return sign_with(f, parameter, 0.0); }

double Enclosure::gain(const Parameter& parameter) const {
  const int row = row_of_[at(parameter.element)];
  if (row < 0 || size_.empty()) return 0.0;
  return size_[at(row) * rows_.size() + at(row)] * rows_[at(row)].half;
}

std::vector<std::pair<ElementIndex, double>> Enclosure::open_diodes(const Functional& f) const {
  std::vector<std::pair<ElementIndex, double>> result;
  for (std::size_t e = 0; e < network_.elements().size(); ++e) {
    if (network_.elements()[e].kind != Kind::diode || box_.conducts[e] != Conduction::unknown) continue;
    const int row = row_of_[e];
    double effect = infinite;
    if (regular_ && !f.floats && row >= 0)
      effect = 2.0 * rows_[at(row)].half * w_most_[at(row)] * f.lambda_most[at(row)];
    result.emplace_back(static_cast<ElementIndex>(e), effect);
  }
  return result;
}

Conduction Enclosure::certain_state(std::size_t e) const {
  const Element& diode = network_.elements()[e];
  const Functional across = functional(Quantity::voltage(diode.from, diode.to));
  if (across.floats) return Conduction::unknown;
  if (across.centre + across.radius < box_.value[e].low) return Conduction::off;
  return across.centre - across.radius > box_.value[e].high ? Conduction::on : Conduction::unknown;
}

bool Enclosure::contradictory() const {
  for (std::size_t e = 0; e < network_.elements().size(); ++e) {
    if (box_.conducts[e] == Conduction::unknown) continue;
    const Conduction certain = certain_state(e);
    if (certain != Conduction::unknown && certain != box_.conducts[e]) return true;
  }
  return false;
}

int Enclosure::sign_with(const Functional& f, const Parameter& parameter, double share_of_radius) const {
  const std::size_t e = at(parameter.element);
  const Kind kind = network_.elements()[e].kind;
  const int row = row_of_[e];
  const int column = column_of_[e];
  if (row >= 0) {
    const int lambda = certain(f.lambda[at(row)], share_of_radius * f.lambda_radius[at(row)]);
    const Form form = rows_[at(row)].form;
    if (kind == Kind::constant_power) return lambda;  // dq/dP = lambda / w
    if (kind == Kind::diode && form == Form::diode)
      return lambda;  // more forward volts or ohms: less current, or nothing
    if (kind == Kind::resistor || parameter.on_ohm) {
      const int w = certain(w_[at(row)], share_of_radius * w_radius_[at(row)]);
      return form == Form::ohm ? -lambda * w : lambda * w;
    }
  }
  if (column < 0 || parameter.on_ohm) return 0;
  return certain(f.kappa[at(column)], share_of_radius * f.kappa_radius[at(column)]);
}

double Enclosure::effect(const Functional& f, const Parameter& parameter) const {
  const std::size_t e = at(parameter.element);
  const Kind kind = network_.elements()[e].kind;
  const int row = row_of_[e];
  const int column = column_of_[e];
  if (row >= 0) {
    const Row& r = rows_[at(row)];
    const double lambda = f.lambda_most[at(row)];
    if (kind == Kind::constant_power && r.form == Form::relaxed) return infinite;
    if (kind == Kind::constant_power) return 2.0 * box_.value[e].half_width() * lambda / box_.load_volts[e].low;
    if (kind == Kind::diode && r.form == Form::diode && !parameter.on_ohm) {
      return 2.0 * box_.value[e].half_width() * lambda * (r.centre + r.half);
    }
    if (kind == Kind::resistor || parameter.on_ohm) return 2.0 * r.half * w_most_[at(row)] * lambda;
  }
  if (column >= 0 && !parameter.on_ohm) {
    return 2.0 * columns_[at(column)].half * (std::abs(f.kappa[at(column)]) + f.kappa_radius[at(column)]);
  }
  return must_split_.empty() || kind != Kind::resistor ? 0.0 : infinite;
}

// q = q0 - lambda S w + sum |kappa - lambda S E| phi with S = (diag(1 / delta) + M)^-1; flipping one delta changes one
// diagonal entry of the inverse of S (Sherman & Morrison 1950). S is computed afresh every 64 steps, which holds 1e-12
// relative.
double Enclosure::walk(const Functional& f, int direction, Box& vertex) const {
  const int n = rows();
  const int s = static_cast<int>(columns_.size());
  const Eigen::Map<const RowMajor> m(coupling_.data(), n, n);
  const Eigen::Map<const RowMajor> drive(drive_.data(), n, s);
  const Eigen::Map<const Eigen::VectorXd> w(w_.data(), n);
  const Eigen::Map<const Eigen::RowVectorXd> lambda(f.lambda.data(), n);
  Eigen::VectorXd delta(n);
  for (int k = 0; k < n; ++k) delta(k) = -rows_[at(k)].half;
  Eigen::MatrixXd inverse;
  Eigen::RowVectorXd p;
  double best = -infinite;
  Eigen::VectorXd best_delta;
  std::vector<double> best_kappa(at(s));
  if (n == 0) return f.centre + direction * (f.radius);
  const unsigned long long vertices = 1ULL << n;
  for (unsigned long long i = 0; i < vertices; ++i) {
    if (i % 64 == 0) {
      Eigen::MatrixXd matrix = m;
      matrix.diagonal() += delta.cwiseInverse();
      inverse = matrix.partialPivLu().inverse();
      p = lambda * inverse;
    }
    double value = f.centre - p.dot(w);
    double reach = 0.0;
    for (int j = 0; j < s; ++j) reach += std::abs(f.kappa[at(j)] - p.dot(drive.col(j))) * columns_[at(j)].half;
    value = direction * value + reach;
    if (value > best) {
      best = value;
      best_delta = delta;
      for (int j = 0; j < s; ++j) best_kappa[at(j)] = f.kappa[at(j)] - p.dot(drive.col(j));
    }
    int flip = 0;
    while (flip < n && (((i + 1) >> flip) & 1ULL) == 0) ++flip;
    if (flip >= n) continue;
    const double change = -2.0 / delta(flip);
    delta(flip) = -delta(flip);
    const double factor = change / (1.0 + change * inverse(flip, flip));
    const Eigen::VectorXd column = inverse.col(flip);
    const Eigen::RowVectorXd row = inverse.row(flip);
    p.noalias() -= factor * p(flip) * row;
    inverse.noalias() -= factor * column * row;
  }
  for (int k = 0; k < n; ++k) {
    const Row& r = rows_[at(k)];
    Span& span = network_.elements()[at(r.element)].kind == Kind::diode ? vertex.on_ohm[at(r.element)]
                                                                        : vertex.value[at(r.element)];
    const bool high = (best_delta(k) > 0.0) == (r.form == Form::ohm);
    span = high ? Span{span.high, span.high} : Span{span.low, span.low};
  }
  for (int j = 0; j < s; ++j) {
    Span& span = vertex.value[at(columns_[at(j)].element)];
    const bool high = direction * best_kappa[at(j)] > 0.0;
    span = high ? Span{span.high, span.high} : Span{span.low, span.low};
  }
  return direction * best;
}

}  // namespace zoneproof::circuit
