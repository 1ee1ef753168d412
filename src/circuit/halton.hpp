#pragma once
#include <cstdint>
#include <vector>

/// Points that fill the unit cube more evenly than chance, made anew at random a replicate.
///
/// Halton's sequence (1960) with its digits permuted at random, each position of each dimension by a permutation of its
/// own (Owen, A randomized Halton algorithm in R, 2017; from memory): every single point is evenly distributed, so the
/// mean over a replicate is unbiased, and replicates are independent. The first dimensions, with the small primes, are
/// filled the most evenly: what matters most belongs there. Deterministic: the same seed gives the same points on every
/// machine.
namespace zoneproof::circuit {

/// Random bits that are the same everywhere (SplitMix64: Steele, Lea, Flood 2014).
class RandomBits {
 public:
  explicit RandomBits(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  double unit();                            ///< in (0, 1)
  std::uint32_t below(std::uint32_t most);  ///< evenly in [0, most)

 private:
  std::uint64_t state_;
};

class ScrambledHalton {
 public:
  ScrambledHalton(std::size_t dimensions, std::uint64_t seed);
  /// The point of that index, into `point` (one number a dimension, in [0, 1)). Cost: about 8 digits a dimension.
  void point(std::uint64_t index, std::vector<double>& point) const;

 private:
  struct Dimension {
    std::uint32_t base;
    std::vector<std::uint32_t> digits;  ///< permutations, one after the other, the first digit's first
  };
  std::vector<Dimension> dimensions_;
};

}  // namespace zoneproof::circuit
