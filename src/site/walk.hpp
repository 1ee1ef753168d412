#pragma once
#include <functional>
#include <string>

#include "site/field.hpp"

namespace zoneproof::site {

/// Calls `visit` for `object` and for every struct inside it, from the outside in, with its JSON pointer.
/// Cost: linear in the size of the object.
using RecordVisit = std::function<void(const Record& record, const void* object, const std::string& pointer)>;
void walk(const Record& record, const void* object, const std::string& pointer, const RecordVisit& visit);

/// Calls `visit` for every reference in `object` and in the structs inside it, with the field that it stands in.
using ReferenceVisit = std::function<void(const Field& field, const Ref& reference)>;
void each_reference(const Record& record, const void* object, const ReferenceVisit& visit);

/// Equality of two structs in everything that the file says: states, numbers, tolerances, stated origins, texts, ids.
/// Pointers and inherited origins are left out: they follow from where a thing stands.
bool same(const Record& record, const void* a, const void* b);

template <class T>
bool same(const T& a, const T& b) {
  return same(record_of<T>(), &a, &b);
}

}  // namespace zoneproof::site
