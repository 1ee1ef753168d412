#include <algorithm>
#include <stdexcept>

#include "circuit/nodal_factor.hpp"

namespace zoneproof::circuit {

namespace {

/// Forward substitution along the two ways from `a` and `b` to the root of the elimination tree (either may be -1): all
/// else stays zero (Gilbert & Peierls 1988). A column of L begins with its diagonal; the next entry is its parent in
/// the tree (Liu 1990).
HalfColumn along_the_tree(const Eigen::SparseMatrix<double>& lower, int a, int b) {
  thread_local std::vector<double> left;  // of the right hand side; zero between two calls
  if (left.size() < static_cast<std::size_t>(lower.rows())) left.resize(static_cast<std::size_t>(lower.rows()), 0.0);
  HalfColumn half;
  if (a >= 0) left[at(a)] += 1.0;
  if (b >= 0) left[at(b)] -= 1.0;
  while (a >= 0 || b >= 0) {
    const int now = a < 0 ? b : b < 0 ? a : std::min(a, b);
    Eigen::SparseMatrix<double>::InnerIterator entry(lower, now);
    const double value = left[at(now)] / entry.value();
    left[at(now)] = 0.0;
    ++entry;
    const int parent = entry ? static_cast<int>(entry.row()) : -1;
    if (value != 0.0) half.entries.push_back({now, value});
    for (; entry; ++entry) left[at(static_cast<int>(entry.row()))] -= entry.value() * value;
    if (a == now) a = parent;
    if (b == now) b = parent;
  }
  return half;
}

HalfColumn in_full(const Eigen::LLT<Eigen::MatrixXd>& factor, int unknowns, int a, int b) {
  Eigen::VectorXd x = Eigen::VectorXd::Zero(unknowns);
  if (a >= 0) x(a) += 1.0;
  if (b >= 0) x(b) -= 1.0;
  factor.matrixL().solveInPlace(x);
  HalfColumn half;
  for (int i = 0; i < unknowns; ++i) {
    if (x(i) != 0.0) half.entries.push_back({i, x(i)});
  }
  return half;
}

}  // namespace

HalfColumn NodalSystem::half_column(Node from, Node to) const {
  if (!factor_ || !factor_->ready) throw std::logic_error("a nodal system is read before it is factorised");
  const int a = unknown(from), b = unknown(to);
  if ((a < 0 && b < 0) || a == b) return {};
  if (factor_->dense) return in_full(factor_->dense_factor, unknowns_, a, b);
  const auto& order = factor_->sparse_factor.permutationP().indices();
  const auto place = [&](int unknown) { return unknown < 0 ? -1 : order.size() == 0 ? unknown : order(unknown); };
  return along_the_tree(factor_->sparse_factor.matrixL().nestedExpression(), place(a), place(b));
}

}  // namespace zoneproof::circuit
