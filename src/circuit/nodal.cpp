#include "circuit/nodal.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "circuit/nodal_factor.hpp"

namespace zoneproof::circuit {
namespace {

// Measured: below this number of unknowns the dense factorisation wins over ordering and sparse bookkeeping.
constexpr int dense_unknowns = 96;

Node find_root(std::vector<Node>& parent, Node node) {
  while (parent[at(node)] != node) {
    parent[at(node)] = parent[at(parent[at(node)])];
    node = parent[at(node)];
  }
  return node;
}

/// Whether the same entries stand in both: then what is eliminated after what is the same too.
bool same_pattern(const Eigen::SparseMatrix<double>& a, const Eigen::SparseMatrix<double>& b) {
  return a.rows() == b.rows() && a.nonZeros() == b.nonZeros() &&
         std::equal(a.outerIndexPtr(), a.outerIndexPtr() + a.outerSize() + 1, b.outerIndexPtr()) &&
         std::equal(a.innerIndexPtr(), a.innerIndexPtr() + a.nonZeros(), b.innerIndexPtr());
}

}  // namespace

Companion Companion::resistor(double ohm) {
  if (std::isinf(ohm)) return {};
  if (ohm == 0.0) return link(0.0);
  return norton(1.0 / ohm, 0.0);
}

NodalSystem::NodalSystem(const Network& network, std::vector<Companion> companions)
    : network_(&network), companions_(std::move(companions)) {
  merge();
  find_floating();
}
NodalSystem::~NodalSystem() = default;
NodalSystem::NodalSystem(NodalSystem&&) noexcept = default;
NodalSystem& NodalSystem::operator=(NodalSystem&&) noexcept = default;

void NodalSystem::take(std::vector<Companion> companions) {
  const auto same_join = [](const Companion& a, const Companion& b) {
    return a.form == b.form && a.volt == b.volt && a.conducts() == b.conducts();
  };
  const bool same = std::equal(companions.begin(), companions.end(), companions_.begin(), companions_.end(), same_join);
  companions_ = std::move(companions);
  if (factor_) factor_->ready = false;  // its ordering may serve again
  if (same) return;
  source_loop_.clear();
  floating_.clear();
  unknowns_ = 0;
  merge();
  find_floating();
}

void NodalSystem::add_edge(Node node, const TreeEdge& edge) {
  forest_.push_back({edge, first_edge_[at(node)]});
  first_edge_[at(node)] = static_cast<int>(forest_.size()) - 1;
}

void NodalSystem::merge() {
  const int nodes = network_->node_count();
  const auto& elements = network_->elements();
  std::vector<Node> set(at(nodes));
  std::iota(set.begin(), set.end(), 0);
  forest_.clear();
  first_edge_.assign(at(nodes), -1);
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (companions_[e].form != Companion::Form::link) continue;
    const Node a = find_root(set, elements[e].from);
    const Node b = find_root(set, elements[e].to);
    if (a == b) {
      note_loop(static_cast<ElementIndex>(e));
      continue;
    }
    set[at(std::max(a, b))] = std::min(a, b);
    add_edge(elements[e].from, {elements[e].to, static_cast<ElementIndex>(e)});
    add_edge(elements[e].to, {elements[e].from, static_cast<ElementIndex>(e)});
  }
  // The lowest node of a tree is its root, so the reference always is one; offsets are summed along the tree.
  root_.assign(at(nodes), -1);
  offset_.assign(at(nodes), 0.0);
  parent_.assign(at(nodes), {reference, -1});
  walk_.clear();
  walk_.reserve(at(nodes));
  for (Node start = 0; start < nodes; ++start) {
    if (root_[at(start)] >= 0) continue;
    root_[at(start)] = start;
    walk_.push_back(start);
    for (std::size_t next = walk_.size() - 1; next < walk_.size(); ++next) {
      const Node node = walk_[next];
      for (int i = first_edge_[at(node)]; i >= 0; i = forest_[at(i)].next) {
        const TreeEdge& edge = forest_[at(i)].edge;
        if (root_[at(edge.other)] >= 0) continue;
        const double volt = companions_[at(edge.element)].volt;
        const bool forward = elements[at(edge.element)].from == node;
        root_[at(edge.other)] = start;
        offset_[at(edge.other)] = offset_[at(node)] + (forward ? volt : -volt);
        parent_[at(edge.other)] = {node, edge.element};
        walk_.push_back(edge.other);
      }
    }
  }
}

// Names the elements of the loop that `closing` closes, if any of them is a source; a loop of zero ohms alone is no
// trouble.
void NodalSystem::note_loop(ElementIndex closing) {
  if (!source_loop_.empty()) return;
  const auto& elements = network_->elements();
  const Node start = elements[at(closing)].from;
  const Node goal = elements[at(closing)].to;
  std::vector<TreeEdge> came(at(network_->node_count()), {-1, -1});
  std::vector<Node> queue{start};
  came[at(start)] = {start, -1};
  for (std::size_t next = 0; next < queue.size(); ++next) {
    for (int i = first_edge_[at(queue[next])]; i >= 0; i = forest_[at(i)].next) {
      const TreeEdge& edge = forest_[at(i)].edge;
      if (came[at(edge.other)].other >= 0) continue;
      came[at(edge.other)] = {queue[next], edge.element};
      queue.push_back(edge.other);
    }
  }
  std::vector<ElementIndex> loop{closing};
  for (Node node = goal; node != start; node = came[at(node)].other) loop.push_back(came[at(node)].element);
  const bool has_source =
      std::any_of(loop.begin(), loop.end(), [&](ElementIndex e) { return elements[at(e)].kind != Kind::resistor; });
  if (has_source) source_loop_ = std::move(loop);
}

void NodalSystem::find_floating() {
  const int nodes = network_->node_count();
  const auto& elements = network_->elements();
  std::vector<Node> set = root_;
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (!companions_[e].conducts()) continue;
    const Node a = find_root(set, elements[e].from);
    const Node b = find_root(set, elements[e].to);
    set[at(std::max(a, b))] = std::min(a, b);
  }
  unknown_.assign(at(nodes), grounded);
  for (Node node = 0; node < nodes; ++node) {
    if (find_root(set, node) != reference) {
      unknown_[at(node)] = floats;
      floating_.push_back(node);
    } else if (root_[at(node)] == node && node != reference) {
      unknown_[at(node)] = unknowns_++;
    } else {
      unknown_[at(node)] = unknown_[at(root_[at(node)])];  // a root has a lower number than what hangs on it
    }
  }
}

std::vector<double> NodalSystem::unit_offsets(ElementIndex link) const {
  const auto& elements = network_->elements();
  std::vector<double> unit(at(network_->node_count()), 0.0);
  for (const Node node : walk_) {
    const TreeEdge& up = parent_[at(node)];
    if (up.element < 0) continue;
    unit[at(node)] = unit[at(up.other)];
    if (up.element == link) unit[at(node)] += elements[at(link)].to == node ? 1.0 : -1.0;
  }
  return unit;
}

bool NodalSystem::factorise(const std::vector<double>& shift, double shift_factor) {
  if (!factor_) factor_ = std::make_unique<Factor>();
  factor_->ready = true;
  factor_->all_positive = true;
  factor_->dense = unknowns_ < dense_unknowns;
  std::vector<Eigen::Triplet<double>> triplets;
  if (factor_->dense) factor_->matrix.setZero(unknowns_, unknowns_);
  const auto add = [&](int row, int column, double value) {
    if (factor_->dense) {
      factor_->matrix(row, column) += value;
    } else {
      triplets.emplace_back(row, column, value);
    }
  };
  const auto& elements = network_->elements();
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const double g = companions_[e].conductance;
    if (companions_[e].form != Companion::Form::norton || g == 0.0) continue;
    const int a = unknown(elements[e].from);
    const int b = unknown(elements[e].to);
    if (a == b) continue;
    if (g < 0.0) factor_->all_positive = false;
    if (a >= 0) add(a, a, g);
    if (b >= 0) add(b, b, g);
    if (a >= 0 && b >= 0) {
      add(a, b, -g);
      add(b, a, -g);
    }
  }
  for (std::size_t i = 0; i < shift.size(); ++i) add(static_cast<int>(i), static_cast<int>(i), shift[i] * shift_factor);
  if (unknowns_ == 0) return true;
  if (factor_->dense) {
    factor_->dense_factor.compute(factor_->matrix);
    return factor_->dense_factor.info() == Eigen::Success;
  }
  Eigen::SparseMatrix<double> matrix(unknowns_, unknowns_);
  matrix.setFromTriplets(triplets.begin(), triplets.end());
  const bool known = factor_->ordered && same_pattern(matrix, factor_->sparse_matrix);
  factor_->sparse_matrix.swap(matrix);
  if (!known) factor_->sparse_factor.analyzePattern(factor_->sparse_matrix);
  factor_->ordered = true;
  factor_->sparse_factor.factorize(factor_->sparse_matrix);
  return factor_->sparse_factor.info() == Eigen::Success;
}

std::vector<double> NodalSystem::diagonal() const {
  std::vector<double> diagonal(at(unknowns_), 0.0);
  const auto& elements = network_->elements();
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (companions_[e].form != Companion::Form::norton) continue;
    const int a = unknown(elements[e].from);
    const int b = unknown(elements[e].to);
    if (a == b) continue;
    if (a >= 0) diagonal[at(a)] += std::abs(companions_[e].conductance);
    if (b >= 0) diagonal[at(b)] += std::abs(companions_[e].conductance);
  }
  return diagonal;
}

std::vector<double> NodalSystem::right_hand_side() const {
  std::vector<double> rhs(at(unknowns_), 0.0);
  const auto& elements = network_->elements();
  for (std::size_t e = 0; e < elements.size(); ++e) {
    const Companion& companion = companions_[e];
    if (companion.form != Companion::Form::norton) continue;
    const Node from = elements[e].from;
    const Node to = elements[e].to;
    const int a = unknown(from);
    const int b = unknown(to);
    if (a == b) continue;
    const double ampere = companion.injection + companion.conductance * (offset(from) - offset(to));
    if (a >= 0) rhs[at(a)] -= ampere;
    if (b >= 0) rhs[at(b)] += ampere;
  }
  return rhs;
}

void NodalSystem::solve(double* columns, int count) const {
  if (unknowns_ == 0 || count == 0) return;
  if (!factor_ || !factor_->ready) throw std::logic_error("a nodal system is solved before it is factorised");
  if (count == 1) {
    Eigen::Map<Eigen::VectorXd> vector(columns, unknowns_);
    if (factor_->dense) {
      factor_->dense_factor.solveInPlace(vector);
    } else {
      vector = factor_->sparse_factor.solve(vector).eval();
    }
    return;
  }
  Eigen::Map<Eigen::MatrixXd> block(columns, unknowns_, count);
  if (factor_->dense) {
    factor_->dense_factor.solveInPlace(block);
  } else {
    const Eigen::MatrixXd solved = factor_->sparse_factor.solve(block);
    block = solved;
  }
}

std::vector<double> NodalSystem::node_voltages(const std::vector<double>& solution) const {
  std::vector<double> voltage(at(network_->node_count()));
  for (std::size_t node = 0; node < voltage.size(); ++node) {
    const int index = unknown_[node];
    voltage[node] = index == floats ? std::numeric_limits<double>::quiet_NaN()
                                    : offset_[node] + (index >= 0 ? solution[at(index)] : 0.0);
  }
  return voltage;
}

void NodalSystem::complete_currents(std::vector<double>& current) const {
  const auto& elements = network_->elements();
  std::vector<double> surplus(at(network_->node_count()),
                              0.0);  // A that arrives at a node and must leave over its link
  for (std::size_t e = 0; e < elements.size(); ++e) {
    if (companions_[e].form == Companion::Form::link) {
      current[e] = 0.0;
      continue;
    }
    surplus[at(elements[e].from)] -= current[e];
    surplus[at(elements[e].to)] += current[e];
  }
  for (auto node = walk_.rbegin(); node != walk_.rend(); ++node) {
    const TreeEdge& up = parent_[at(*node)];
    if (up.element < 0) continue;
    const double ampere = surplus[at(*node)];
    current[at(up.element)] = elements[at(up.element)].from == *node ? ampere : -ampere;
    surplus[at(up.other)] += ampere;
  }
}

}  // namespace zoneproof::circuit
