#pragma once
#include <cstdint>

#include "site/field.hpp"

namespace zoneproof::site {

/// Fills `object`, a struct of `record`, with anything that its field definitions allow: every form of number, unknown
/// and none, hostile but legal texts, ids of the site's own collections where there are any. The same seed gives the
/// same object. Rules between fields are not kept: this is for what reads and writes fields.
void fill_from_definitions(const Record& record, void* object, std::uint64_t seed);

template <class T>
T generated(std::uint64_t seed) {
  T object{};
  fill_from_definitions(record_of<T>(), &object, seed);
  return object;
}

}  // namespace zoneproof::site
