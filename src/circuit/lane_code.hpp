#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <vector>

/// Inside of the engine: arithmetic that is the same for many sets of numbers, written once and run on all of them in
/// the vector registers.
///
/// A formula whose steps do not hang on the numbers (an elimination in a fixed order, say) is written down as a list of
/// steps, each on words; a word is a block of lanes, one set of numbers a lane. The cost of reading a step is shared by
/// the lanes of a block, and a step is a few vector operations. What depends on constants alone is computed while
/// writing, once. No two operations are fused and every lane goes its own way: a lane's result is the same to the last
/// bit whatever the vector width, and whatever stands in the lanes beside it.
namespace zoneproof::circuit {

/// A word of the code: an index in the order of writing.
using Word = int;

inline constexpr std::size_t block_lanes =
    32;  ///< measured: fewer pay more for reading steps, more leave the first cache

/// Eight lanes: what the compiler maps to the vector registers there are.
using Vector = double __attribute__((vector_size(64)));
inline constexpr std::size_t block_vectors = block_lanes / 8;
struct alignas(sizeof(Vector)) Block {
  Vector vectors[block_vectors];
  Vector& operator[](std::size_t i) { return vectors[i]; }
  const Vector& operator[](std::size_t i) const { return vectors[i]; }
  double& lane(std::size_t i) { return reinterpret_cast<double*>(vectors)[i]; }
};

/// Steps that are run one after the other, some of them again and again: before a loop, in it, after it.
enum class Part : unsigned char { before, loop, after };

class LaneCode {
 public:
  Word constant(double value);
  Word input();  ///< set by who runs the code, before a part that reads it
  Word add(Word a, Word b);
  Word subtract(Word a, Word b);
  Word multiply(Word a, Word b);
  Word multiply_add(Word a, Word b, Word c);  ///< a b + c, rounded twice
  Word inverse(Word a);
  /// What is written from here on belongs to this part; parts are written in their order.
  void enter(Part part);
  /// The word is read by who runs the code: its place is never used for another.
  void keep(Word word);

  /// Gives every word its place in the workspace. Nothing is written afterwards.
  void finish();
  /// The blocks that running takes, constants in place.
  std::vector<Block> workspace() const;
  std::size_t place(Word word) const { return place_[static_cast<std::size_t>(word)]; }
  void run(Part part, std::vector<Block>& workspace) const;
  std::size_t steps() const { return steps_.size(); }

 private:
  enum class Kind : unsigned char { constant, input, step };
  enum class Operation : std::uint32_t { add, subtract, multiply, multiply_add, inverse };
  /// On words while being written, on places after finish().
  struct Step {
    Operation operation;
    std::uint32_t to, a, b, c;
  };
  struct Known {
    Kind kind = Kind::step;
    double value = 0.0;  ///< of a constant
  };

  bool is_constant(Word word) const { return known_[static_cast<std::size_t>(word)].kind == Kind::constant; }
  double value(Word word) const { return known_[static_cast<std::size_t>(word)].value; }
  Word step(Operation operation, Word a, Word b, Word c);
  std::vector<std::size_t> last_uses() const;
  static void run_steps(const Step* step, const Step* end, Block* blocks);
  friend struct LaneMachine;

  std::vector<Known> known_;
  std::map<std::uint64_t, Word> constants_;  ///< by their bits
  std::vector<bool> kept_;
  std::vector<Step> steps_;
  std::array<std::size_t, 4> begins_{};  ///< step at which a part begins; then the end
  Part part_ = Part::before;
  std::vector<std::size_t> place_;
  std::size_t places_ = 0;
};

}  // namespace zoneproof::circuit
