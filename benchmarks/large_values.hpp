#pragma once
#include <cstdint>
#include <string>
#include <utility>

#include "site/model.hpp"

/// What the parts of the maker of large sites have in common: what is drawn, ids, and values written down.
namespace zoneproof::large {

/// splitmix64: Steele, Lea & Flood 2014; the constants are theirs.
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : state_(seed) {}

  /// 0 .. n - 1. The remainder prefers small numbers by less than n / 2^64: nothing here would notice.
  unsigned below(unsigned n) {
    state_ += 0x9e3779b97f4a7c15U;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
    return static_cast<unsigned>((z ^ (z >> 31U)) % n);
  }
  bool one_in(unsigned n) { return below(n) == 0; }
  unsigned between(unsigned low, unsigned high) { return low + below(high - low + 1); }

 private:
  std::uint64_t state_;
};

inline site::Ref ref(std::string id) { return {std::move(id), ""}; }
inline site::Count count(unsigned n) { return {n, ""}; }
inline site::Flag flag(bool yes) { return {yes, ""}; }
template <class E>
site::Word<E> word(E value) {
  return {value, ""};
}

site::Value none();
/// Read on site: the origin of the whole file.
site::Value number(double value);
/// A resistor of 1 %, as bought.
site::Value resistor(double ohm);

/// "z0012"
std::string numbered(const char* prefix, unsigned n);
/// Ids of a hall, and of what stands around one panel or expander in it: "h2_offices", "h2e3_supply".
std::string id_in_hall(unsigned hall, const std::string& what);
std::string id_in_group(unsigned hall, unsigned group, const std::string& what);

/// The part of the shelf, which the site holds from then on. Throws std::logic_error where the shelf has none.
site::Ref part_of_shelf(site::Site& site, const std::string& id);

}  // namespace zoneproof::large
