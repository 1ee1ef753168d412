#include "site/walk.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/json_pointer.hpp"

namespace zoneproof::site {

void walk(const Record& record, const void* object, const std::string& pointer, const RecordVisit& visit) {
  visit(record, object, pointer);
  for (const Field& field : record.fields) {
    const void* member = field.member_of(object);
    if (field.shape == Shape::record) {
      walk(field.record(), member, pointer_child(pointer, field.key), visit);
    } else if (field.nested != nullptr && field.nested->size(member) > 0) {
      const std::string here = pointer_child(pointer, field.key);
      field.nested->each(member, [&](const std::string& id, const void* inside) {
        walk(field.record(), inside, field.shape == Shape::optional_record ? here : pointer_child(here, id), visit);
      });
    }
  }
}

void each_reference(const Record& record, const void* object, const ReferenceVisit& visit) {
  walk(record, object, "", [&](const Record& inside, const void* here, const std::string&) {
    for (const Field& field : inside.fields) {
      const void* member = field.member_of(here);
      if (field.shape == Shape::reference) visit(field, *static_cast<const Ref*>(member));
      if (field.shape != Shape::references) continue;
      for (const Ref& reference : *static_cast<const std::vector<Ref>*>(member)) visit(field, reference);
    }
  });
}

namespace {

bool same_number(const Value& a, const Value& b) {
  if (a.state != b.state || a.stated_origin != b.stated_origin || a.note != b.note) return false;
  if (!a.known()) return true;
  return a.spread == b.spread && a.nominal == b.nominal && a.low == b.low && a.high == b.high &&
         a.stated_plus == b.stated_plus && a.stated_minus == b.stated_minus && a.tempco_ppm_K == b.tempco_ppm_K;
}

template <class T>
const T& as(const void* member) {
  return *static_cast<const T*>(member);
}

bool same_nested(const Field& field, const void* a, const void* b) {
  using Inside = std::vector<std::pair<std::string, const void*>>;
  const auto inside = [&](const void* member) {
    Inside found;
    field.nested->each(member, [&](const std::string& id, const void* object) { found.emplace_back(id, object); });
    return found;
  };
  const Inside of_a = inside(a);
  const Inside of_b = inside(b);
  return std::equal(of_a.begin(), of_a.end(), of_b.begin(), of_b.end(), [&](const auto& x, const auto& y) {
    return x.first == y.first && same(field.record(), x.second, y.second);
  });
}

bool same_member(const Field& field, const void* a, const void* b) {
  switch (field.shape) {
    case Shape::number: return same_number(as<Value>(a), as<Value>(b));
    case Shape::count: return as<Count>(a).value == as<Count>(b).value;
    case Shape::whole: return as<long long>(a) == as<long long>(b);
    case Shape::flag: return as<Flag>(a).value == as<Flag>(b).value;
    case Shape::text: return as<std::string>(a) == as<std::string>(b);
    case Shape::word: return field.words->get(a) == field.words->get(b);
    case Shape::reference: return as<Ref>(a).id == as<Ref>(b).id;
    case Shape::references: {
      const auto& of_a = as<std::vector<Ref>>(a);
      const auto& of_b = as<std::vector<Ref>>(b);
      return std::equal(of_a.begin(), of_a.end(), of_b.begin(), of_b.end(),
                        [](const Ref& x, const Ref& y) { return x.id == y.id; });
    }
    case Shape::record: return same(field.record(), a, b);
    default: return same_nested(field, a, b);
  }
}

}  // namespace

bool same(const Record& record, const void* a, const void* b) {
  return std::all_of(record.fields.begin(), record.fields.end(),
                     [&](const Field& field) { return same_member(field, field.member_of(a), field.member_of(b)); });
}

}  // namespace zoneproof::site
