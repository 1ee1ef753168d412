#include "circuit/star_mesh.hpp"

#include <algorithm>

namespace zoneproof::circuit {

namespace {
constexpr Word unwritten = -1;
}

StarMesh::StarMesh(LaneCode& code, int unknowns) : code_(code) {
  const auto n = static_cast<std::size_t>(unknowns);
  neighbours_.resize(n);
  injected_.assign(n, code.constant(0.0));
  gone_.resize(n);
  is_gone_.assign(n, false);
  voltage_.assign(n, unwritten);
}

Word& StarMesh::conductance(int a, int b) {
  const auto [entry, is_new] = branches_.emplace(std::minmax(a, b), unwritten);
  if (is_new) entry->second = code_.constant(0.0);
  if (is_new && a != ground && b != ground) {
    neighbours_[static_cast<std::size_t>(a)].insert(b);
    neighbours_[static_cast<std::size_t>(b)].insert(a);
  }
  return entry->second;
}

void StarMesh::branch(int a, int b, Word siemens) {
  if (a == b) return;
  Word& between = conductance(a, b);
  between = code_.add(between, siemens);
}

void StarMesh::inject(int unknown, Word ampere) {
  if (unknown == ground) return;
  Word& injected = injected_[static_cast<std::size_t>(unknown)];
  injected = code_.add(injected, ampere);
}

void StarMesh::eliminate(int k) {
  const auto index = static_cast<std::size_t>(k);
  const std::vector<int> others(neighbours_[index].begin(), neighbours_[index].end());
  std::vector<Word> star;
  Word sum = conductance(k, ground);
  const Word to_ground = sum;
  for (const int other : others) {
    star.push_back(conductance(k, other));
    sum = code_.add(sum, star.back());
  }
  const Word inverse = code_.inverse(sum);
  pivots_.push_back(inverse);
  Gone& gone = gone_[index];
  gone.own = code_.multiply(injected_[index], inverse);
  for (std::size_t i = 0; i < others.size(); ++i) {
    const int other = others[i];
    const Word ratio = code_.multiply(star[i], inverse);
    gone.ratios.emplace_back(other, ratio);
    Word& down = conductance(other, ground);
    down = code_.multiply_add(ratio, to_ground, down);
    for (std::size_t j = 0; j < i; ++j) {
      Word& between = conductance(other, others[j]);
      between = code_.multiply_add(ratio, star[j], between);
    }
    Word& injected = injected_[static_cast<std::size_t>(other)];
    injected = code_.multiply_add(ratio, injected_[index], injected);
    neighbours_[static_cast<std::size_t>(other)].erase(k);
  }
  is_gone_[index] = true;
}

void StarMesh::eliminate_all_but(const std::set<int>& last) {
  std::set<std::pair<std::size_t, int>> queue;  // by number of neighbours
  const auto open = [&](int k) { return last.count(k) == 0 && !is_gone_[static_cast<std::size_t>(k)]; };
  const auto entry = [&](int k) { return std::make_pair(neighbours_[static_cast<std::size_t>(k)].size(), k); };
  for (int k = 0; k < static_cast<int>(neighbours_.size()); ++k) {
    if (open(k)) queue.insert(entry(k));
  }
  while (!queue.empty()) {
    const int k = queue.begin()->second;
    queue.erase(queue.begin());
    const std::set<int> around = neighbours_[static_cast<std::size_t>(k)];
    for (const int other : around) queue.erase(entry(other));
    eliminate(k);
    for (const int other : around) {
      if (open(other)) queue.insert(entry(other));
    }
  }
}

void StarMesh::eliminate(const std::vector<int>& order) {
  for (const int k : order) eliminate(k);
}

Word StarMesh::voltage(int unknown) {
  if (unknown == ground) return code_.constant(0.0);
  Word& voltage = voltage_[static_cast<std::size_t>(unknown)];
  if (voltage != unwritten) return voltage;
  const Gone& gone = gone_[static_cast<std::size_t>(unknown)];
  Word sum = gone.own;
  for (const auto& [other, ratio] : gone.ratios) sum = code_.multiply_add(ratio, this->voltage(other), sum);
  voltage = sum;
  return sum;
}

}  // namespace zoneproof::circuit
