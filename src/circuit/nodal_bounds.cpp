// How far a solution of the nodal equations can be off: bounds on |A^-1| s for residuals s >= 0, entry by entry.
//
// Without negative conductances A is a symmetric M-matrix: A^-1 >= 0, and any z with A z >= s has z >= A^-1 s, whatever
// rounding made z (Berman and Plemmons, Nonnegative Matrices in the Mathematical Sciences, chapter 6). Computed z gets
// a tenth on top and is then checked.
//
// Loads that take constant power are negative conductances -g between two nodes. Then A = M - U G U^T, with M of the
// positive ones an M-matrix, U the incidence of the k loads and G their conductances, and by Woodbury's formula
//     A^-1 = M^-1 + V S V^T,   V = M^-1 U,   S = (G^-1 - U^T V)^-1,
// so that |A^-1| s <= M^-1 s + |V| |S| |V|^T s. V is computed column by column; what it is off is bounded by its
// residual through M, and widens |V| and the small matrix that S is the inverse of. Few loads make this cheap: k
// solutions more.
//
// Where either cannot tell, the inverse is formed: A X = I - E gives |A^-1| s <= |X| (I + |E| + |E|^2 ...) s.
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "circuit/nodal_factor.hpp"

namespace zoneproof::circuit {

namespace {

using Vectors = std::vector<std::vector<double>>;

constexpr double kLeast_V = 1e-18;   ///< far below what a double holds of any voltage here
constexpr double kMostDefect = 0.1;  ///< of a computed inverse: beyond it nothing is told
constexpr double kRounding = 1.001;  ///< on sums of a few thousand positive numbers
constexpr double kEpsilon = 1e-15;   ///< of a product of two doubles, with room

/// A vector z >= M^-1 s for s > 0, M an M-matrix with its factors; nothing where the check fails. What rounding may do
/// to the check is let in where it matters: next to a resistance far above all others.
template <class Matrix, class Factors>
std::optional<Eigen::VectorXd> bounded_by(const Matrix& matrix, const Factors& factors, const Eigen::VectorXd& s) {
  Eigen::VectorXd asked = s;
  for (int attempt = 0; attempt < 2; ++attempt) {
    const Eigen::VectorXd z = 1.1 * factors.solve(asked).eval();
    if (!(z.array() > 0.0).all()) return std::nullopt;
    const Eigen::VectorXd rounding = kEpsilon * (matrix.cwiseAbs() * z);
    const Eigen::VectorXd check = matrix * z - rounding;
    if ((check.array() >= s.array()).all()) return z;
    asked = s + 10.0 * rounding;
  }
  return std::nullopt;
}

template <class Matrix, class Factors>
std::optional<Vectors> all_bounded_by(const Matrix& matrix, const Factors& factors, const Vectors& residuals) {
  Vectors bounds;
  for (const std::vector<double>& residual : residuals) {
    const auto z =
        bounded_by(matrix, factors,
                   Eigen::Map<const Eigen::VectorXd>(residual.data(), static_cast<Eigen::Index>(residual.size())));
    if (!z) return std::nullopt;
    bounds.emplace_back(z->data(), z->data() + z->size());
  }
  return bounds;
}

/// A negative conductance between two unknowns; -1: the other end is no unknown.
struct Load {
  int a, b;
  double siemens;  ///< > 0, what it takes off
};

/// Bounds through Woodbury's formula, from M with its factors.
template <class Matrix, class Factors>
class ByLoads {
 public:
  ByLoads(const Matrix& positive, const Factors& factors, const std::vector<Load>& loads, const Eigen::VectorXd& scale)
      : positive_(positive), factors_(factors), loads_(loads), scale_(scale) {}

  std::optional<Vectors> run(const Vectors& residuals) {
    if (!solve_columns() || !invert()) return std::nullopt;
    std::optional<Vectors> bounds = all_bounded_by(positive_, factors_, residuals);
    if (!bounds) return std::nullopt;
    for (std::size_t r = 0; r < residuals.size(); ++r) add_loads(residuals[r], (*bounds)[r]);
    return bounds;
  }

 private:
  static double across(const Eigen::VectorXd& x, const Load& load) {
    return (load.a >= 0 ? x(load.a) : 0.0) - (load.b >= 0 ? x(load.b) : 0.0);
  }

  /// |V| of every load, widened by what it is off, and U^T V with what that is off.
  bool solve_columns() {
    const auto k = static_cast<Eigen::Index>(loads_.size());
    reach_.resize(positive_.rows(), k);
    seen_.resize(k, k);
    doubt_.resize(k, k);
    for (Eigen::Index column = 0; column < k; ++column) {
      const Load& load = loads_[static_cast<std::size_t>(column)];
      Eigen::VectorXd unit = Eigen::VectorXd::Zero(positive_.rows());
      if (load.a >= 0) unit(load.a) += 1.0;
      if (load.b >= 0) unit(load.b) -= 1.0;
      const Eigen::VectorXd v = factors_.solve(unit);
      const Eigen::VectorXd rounding = kEpsilon * (positive_.cwiseAbs() * v.cwiseAbs() + unit.cwiseAbs());
      const Eigen::VectorXd left = (unit - positive_ * v).cwiseAbs() + rounding;
      const std::optional<Eigen::VectorXd> wide = bounded_by(positive_, factors_, left + kLeast_V * scale_);
      if (!wide) return false;
      reach_.col(column) = v.cwiseAbs() + *wide;
      for (Eigen::Index row = 0; row < k; ++row) {
        const Load& other = loads_[static_cast<std::size_t>(row)];
        seen_(row, column) = across(v, other);
        doubt_(row, column) = (other.a >= 0 ? (*wide)(other.a) : 0.0) + (other.b >= 0 ? (*wide)(other.b) : 0.0);
      }
    }
    return true;
  }

  /// |S| as computed, and how far its rows may be off in the maximum norm.
  bool invert() {
    Eigen::MatrixXd small = -seen_;
    for (Eigen::Index i = 0; i < small.rows(); ++i) small(i, i) += 1.0 / loads_[static_cast<std::size_t>(i)].siemens;
    const Eigen::MatrixXd inverse = small.partialPivLu().inverse();
    if (!inverse.allFinite()) return false;
    inverse_ = inverse.cwiseAbs();
    const Eigen::MatrixXd rounding = kEpsilon * (inverse_ * small.cwiseAbs());
    const Eigen::MatrixXd identity = Eigen::MatrixXd::Identity(small.rows(), small.cols());
    const Eigen::MatrixXd defect = (identity - inverse * small).cwiseAbs() + rounding + inverse_ * doubt_;
    defect_ = defect.rowwise().sum().maxCoeff();
    return defect_ < kMostDefect;
  }

  /// |V| |S| |V|^T s on top.
  void add_loads(const std::vector<double>& residual, std::vector<double>& bound) const {
    const Eigen::Map<const Eigen::VectorXd> s(residual.data(), positive_.rows());
    Eigen::VectorXd felt = inverse_ * (reach_.transpose() * s);
    felt.array() += felt.maxCoeff() * defect_ / (1.0 - defect_);
    Eigen::Map<Eigen::VectorXd> all(bound.data(), positive_.rows());
    all = kRounding * (all + reach_ * felt);
  }

  const Matrix& positive_;
  const Factors& factors_;
  const std::vector<Load>& loads_;
  const Eigen::VectorXd& scale_;  ///< the diagonal
  Eigen::MatrixXd reach_;         ///< bounds on |V|, a column a load
  Eigen::MatrixXd seen_, doubt_;  ///< U^T V, and how far it may be off
  Eigen::MatrixXd inverse_;       ///< |S|
  double defect_ = 0.0;
};

template <class Matrix, class Factors>
std::optional<Vectors> by_loads(const Matrix& positive, const Factors& factors, const std::vector<Load>& loads,
                                const Eigen::VectorXd& scale, const Vectors& residuals) {
  if (factors.info() != Eigen::Success) return std::nullopt;
  return ByLoads<Matrix, Factors>(positive, factors, loads, scale).run(residuals);
}

/// Takes the loads out of the matrix again: what is left has positive conductances only.
template <class Add>
void take_out(const std::vector<Load>& loads, const Add& add) {
  for (const Load& load : loads) {
    if (load.a >= 0) add(load.a, load.a, load.siemens);
    if (load.b >= 0) add(load.b, load.b, load.siemens);
    if (load.a >= 0 && load.b >= 0) {
      add(load.a, load.b, -load.siemens);
      add(load.b, load.a, -load.siemens);
    }
  }
}

}  // namespace

std::vector<std::vector<double>> NodalSystem::error_bounds(std::vector<std::vector<double>> residuals) const {
  if (unknowns_ == 0) return residuals;
  const std::vector<double> scale = diagonal();
  for (std::vector<double>& residual : residuals)
    for (std::size_t i = 0; i < residual.size(); ++i) residual[i] += kLeast_V * scale[i];  // lets the checks divide
  std::optional<Vectors> bounds = bounds_by_factors(residuals);
  return bounds ? *std::move(bounds) : bounds_by_inverse(residuals);
}

std::optional<std::vector<std::vector<double>>> NodalSystem::bounds_by_factors(
    const std::vector<std::vector<double>>& residuals) const {
  if (factor_->all_positive) {
    return factor_->dense ? all_bounded_by(factor_->matrix, factor_->dense_factor, residuals)
                          : all_bounded_by(factor_->sparse_matrix, factor_->sparse_factor, residuals);
  }
  const std::vector<double> diagonal_of = diagonal();
  const Eigen::VectorXd scale = Eigen::Map<const Eigen::VectorXd>(diagonal_of.data(), unknowns_);
  std::vector<Load> loads;
  const auto& elements = network_->elements();
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (companions_[e].form != Companion::Form::norton || !(companions_[e].conductance < 0.0)) continue;
    const int a = unknown(elements[e].from), b = unknown(elements[e].to);
    if (a != b) loads.push_back({a, b, -companions_[e].conductance});
  }
  if (factor_->dense) {
    Eigen::MatrixXd positive = factor_->matrix;
    take_out(loads, [&](int row, int column, double value) { positive(row, column) += value; });
    return by_loads(positive, Eigen::LLT<Eigen::MatrixXd>(positive), loads, scale, residuals);
  }
  Eigen::SparseMatrix<double> positive = factor_->sparse_matrix;
  take_out(loads, [&](int row, int column, double value) { positive.coeffRef(row, column) += value; });
  return by_loads(positive, Eigen::SimplicialLLT<Eigen::SparseMatrix<double>>(positive), loads, scale, residuals);
}

std::vector<std::vector<double>> NodalSystem::bounds_by_inverse(
    const std::vector<std::vector<double>>& residuals) const {
  Eigen::MatrixXd inverse = Eigen::MatrixXd::Identity(unknowns_, unknowns_);
  solve(inverse.data(), unknowns_);
  Eigen::MatrixXd defect = Eigen::MatrixXd::Identity(unknowns_, unknowns_);
  if (factor_->dense) {
    defect.noalias() -= factor_->matrix * inverse;
  } else {
    defect -= factor_->sparse_matrix * inverse;
  }
  std::vector<std::vector<double>> bounds(residuals.size(), std::vector<double>(at(unknowns_), infinite));
  const double share = defect.cwiseAbs().rowwise().sum().maxCoeff();
  if (!(share < kMostDefect)) return bounds;
  for (std::size_t r = 0; r < residuals.size(); ++r) {
    const Eigen::Map<const Eigen::VectorXd> s(residuals[r].data(), unknowns_);
    Eigen::VectorXd sum = s + defect.cwiseAbs() * s;
    sum.array() += s.maxCoeff() * share * share / (1.0 - share);  // the tail of the series, in the maximum norm
    Eigen::Map<Eigen::VectorXd>(bounds[r].data(), unknowns_) = kRounding * (inverse.cwiseAbs() * sum);
  }
  return bounds;
}

}  // namespace zoneproof::circuit
