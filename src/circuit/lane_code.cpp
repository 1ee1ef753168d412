#include "circuit/lane_code.hpp"

#include <algorithm>
#include <cstring>
#include <limits>

namespace zoneproof::circuit {

/// The steps on whole blocks. One body, compiled for the vector registers of several processors; the bits are the same.
struct LaneMachine {
  using Operation = LaneCode::Operation;

  [[gnu::always_inline]] static inline void run(const LaneCode::Step* step, const LaneCode::Step* end, Block* blocks) {
    for (; step != end; ++step) {
      Block& to = blocks[step->to];
      const Block& a = blocks[step->a];
      const Block& b = blocks[step->b];
      switch (step->operation) {
        case Operation::add:
          for (std::size_t i = 0; i < block_vectors; ++i) to[i] = a[i] + b[i];
          break;
        case Operation::subtract:
          for (std::size_t i = 0; i < block_vectors; ++i) to[i] = a[i] - b[i];
          break;
        case Operation::multiply:
          for (std::size_t i = 0; i < block_vectors; ++i) to[i] = a[i] * b[i];
          break;
        case Operation::multiply_add: {
          const Block& c = blocks[step->c];
          for (std::size_t i = 0; i < block_vectors; ++i) to[i] = a[i] * b[i] + c[i];
          break;
        }
        case Operation::inverse:
          for (std::size_t i = 0; i < block_vectors; ++i) to[i] = 1.0 / a[i];
          break;
      }
    }
  }

#if defined(__x86_64__)
  [[gnu::target("avx512f")]] static void run_512(const LaneCode::Step* step, const LaneCode::Step* end, Block* blocks) {
    run(step, end, blocks);
  }
  [[gnu::target("avx2")]] static void run_256(const LaneCode::Step* step, const LaneCode::Step* end, Block* blocks) {
    run(step, end, blocks);
  }
#endif
};

void LaneCode::run_steps(const Step* step, const Step* end, Block* blocks) {
#if defined(__x86_64__)
  static const bool has_512 = __builtin_cpu_supports("avx512f") != 0;
  static const bool has_256 = __builtin_cpu_supports("avx2") != 0;
  if (has_512) return LaneMachine::run_512(step, end, blocks);
  if (has_256) return LaneMachine::run_256(step, end, blocks);
#endif
  LaneMachine::run(step, end, blocks);
}

Word LaneCode::constant(double value) {
  std::uint64_t bits = 0;
  static_assert(sizeof bits == sizeof value);
  std::memcpy(&bits, &value, sizeof bits);
  const auto [entry, is_new] = constants_.emplace(bits, static_cast<Word>(known_.size()));
  if (is_new) known_.push_back({Kind::constant, value});
  return entry->second;
}

Word LaneCode::input() {
  known_.push_back({Kind::input, 0.0});
  return static_cast<Word>(known_.size() - 1);
}

Word LaneCode::step(Operation operation, Word a, Word b, Word c) {
  const auto to = static_cast<Word>(known_.size());
  known_.push_back({Kind::step, 0.0});
  const auto index = [](Word word) { return static_cast<std::uint32_t>(word); };
  steps_.push_back({operation, index(to), index(a), index(b), index(c)});
  return to;
}

Word LaneCode::add(Word a, Word b) {
  if (is_constant(a) && is_constant(b)) return constant(value(a) + value(b));
  if (is_constant(a) && value(a) == 0.0) return b;
  if (is_constant(b) && value(b) == 0.0) return a;
  return step(Operation::add, a, b, a);
}

Word LaneCode::subtract(Word a, Word b) {
  if (is_constant(a) && is_constant(b)) return constant(value(a) - value(b));
  if (is_constant(b) && value(b) == 0.0) return a;
  return step(Operation::subtract, a, b, a);
}

Word LaneCode::multiply(Word a, Word b) {
  if (is_constant(a) && is_constant(b)) return constant(value(a) * value(b));
  if (is_constant(b)) std::swap(a, b);
  if (is_constant(a) && value(a) == 0.0) return a;
  if (is_constant(a) && value(a) == 1.0) return b;
  return step(Operation::multiply, a, b, a);
}

Word LaneCode::multiply_add(Word a, Word b, Word c) {
  if (is_constant(b)) std::swap(a, b);
  const bool plain = is_constant(a) && (is_constant(b) || value(a) == 0.0 || value(a) == 1.0);
  if (plain || (is_constant(c) && value(c) == 0.0)) return add(multiply(a, b), c);
  return step(Operation::multiply_add, a, b, c);
}

Word LaneCode::inverse(Word a) {
  if (is_constant(a)) return constant(1.0 / value(a));
  return step(Operation::inverse, a, a, a);
}

void LaneCode::enter(Part part) {
  for (auto p = static_cast<std::size_t>(part_) + 1; p <= static_cast<std::size_t>(part); ++p)
    begins_[p] = steps_.size();
  part_ = part;
}

void LaneCode::keep(Word word) {
  kept_.resize(std::max(kept_.size(), static_cast<std::size_t>(word) + 1));
  kept_[static_cast<std::size_t>(word)] = true;
}

/// The step after which a word's place is free, from whose result on it may be used again. What the loop reads from
/// before it has to outlast the whole loop.
std::vector<std::size_t> LaneCode::last_uses() const {
  std::vector<std::size_t> last(known_.size(), 0);
  const std::size_t loop = begins_[static_cast<std::size_t>(Part::loop)];
  const std::size_t after = begins_[static_cast<std::size_t>(Part::after)];
  std::vector<std::size_t> made(known_.size(), 0);
  for (std::size_t s = 0; s < steps_.size(); ++s) made[steps_[s].to] = s;
  for (std::size_t s = 0; s < steps_.size(); ++s) {
    for (const std::uint32_t word : {steps_[s].a, steps_[s].b, steps_[s].c}) {
      const bool again = s >= loop && s < after && made[word] < loop;
      last[word] = std::max(last[word], again ? after : s);
    }
  }
  return last;
}

void LaneCode::finish() {
  enter(Part::after);
  begins_[3] = steps_.size();
  kept_.resize(known_.size());
  place_.assign(known_.size(), 0);
  for (std::size_t w = 0; w < known_.size(); ++w) {
    if (known_[w].kind != Kind::step) place_[w] = places_++;
  }
  const std::vector<std::size_t> last = last_uses();
  std::vector<std::vector<std::uint32_t>> ends(steps_.size());
  std::vector<std::size_t> free;
  for (std::size_t s = 0; s < steps_.size(); ++s) {
    const Step words = steps_[s];
    const std::size_t to = words.to;
    // Places that end with this step may take its result: every lane is read before it is written.
    for (const std::uint32_t word : {words.a, words.b, words.c}) {
      const bool lasts = known_[word].kind != Kind::step || kept_[word] || last[word] != s;
      if (lasts || (!ends[s].empty() && std::find(ends[s].begin(), ends[s].end(), word) != ends[s].end())) continue;
      ends[s].push_back(word);
    }
    for (const std::uint32_t word : ends[s]) free.push_back(place_[word]);
    if (free.empty()) free.push_back(places_++);
    place_[to] = free.back();
    free.pop_back();
    const auto placed = [&](std::uint32_t word) { return static_cast<std::uint32_t>(place_[word]); };
    steps_[s] = {words.operation, placed(words.to), placed(words.a), placed(words.b), placed(words.c)};
    // Read in the loop: it ends with the first step after, even where that step does not read it.
    const bool outlasts = last[to] == begins_[static_cast<std::size_t>(Part::after)] && last[to] < steps_.size();
    if (outlasts && last[to] > s && !kept_[to]) ends[last[to]].push_back(static_cast<std::uint32_t>(to));
  }
}

std::vector<Block> LaneCode::workspace() const {
  std::vector<Block> blocks(places_);
  for (std::size_t w = 0; w < known_.size(); ++w) {
    if (known_[w].kind != Kind::constant) continue;
    for (Vector& vector : blocks[place_[w]].vectors) vector = Vector{} + known_[w].value;
  }
  return blocks;
}

void LaneCode::run(Part part, std::vector<Block>& workspace) const {
  const auto p = static_cast<std::size_t>(part);
  run_steps(steps_.data() + begins_[p], steps_.data() + begins_[p + 1], workspace.data());
}

}  // namespace zoneproof::circuit
