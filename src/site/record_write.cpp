#include <nlohmann/json.hpp>

#include "site/number_form.hpp"
#include "site/record_json.hpp"

namespace zoneproof::site {

namespace {

using Json = nlohmann::ordered_json;

/// Appends without looking for the key: records and maps have each key once, and looking would be quadratic.
void put(Json& object, std::string_view key, Json value) {
  object.get_ref<Json::object_t&>().emplace_back(std::string(key), std::move(value));
}

Json write_scalar(const Field& field, const void* member) {
  switch (field.shape) {
    case Shape::number: return write_number(*static_cast<const Value*>(member));
    case Shape::whole: return *static_cast<const long long*>(member);
    case Shape::count: {
      const auto& value = static_cast<const Count*>(member)->value;
      return value ? Json(*value) : Json(nullptr);
    }
    case Shape::flag: {
      const auto& value = static_cast<const Flag*>(member)->value;
      return value ? Json(*value) : Json(nullptr);
    }
    case Shape::word: {
      const auto word = field.words->get(member);
      return word ? Json(std::string(field.words->words[*word])) : Json(nullptr);
    }
    case Shape::reference: {
      const Ref& reference = *static_cast<const Ref*>(member);
      return reference.unknown() ? Json(nullptr) : Json(reference.id);
    }
    default: {
      const std::string& text = *static_cast<const std::string*>(member);
      return text.empty() ? Json(nullptr) : Json(text);
    }
  }
}

/// Null where nothing in it is worth writing. What has to be there stands even when it is empty: a reader asks for it.
Json write_nested(const Field& field, const void* member, Written how) {
  const bool empty_too = how == Written::complete || field.required;
  if (field.shape == Shape::record) {
    Json inside = write_record(field.record(), member, how);
    return inside.empty() && !empty_too ? Json(nullptr) : inside;
  }
  if (field.shape == Shape::references) {
    Json ids = Json::array();
    for (const Ref& reference : *static_cast<const std::vector<Ref>*>(member)) ids.push_back(reference.id);
    return ids.empty() && !empty_too ? Json(nullptr) : ids;
  }
  const bool single = field.shape == Shape::optional_record;
  if (field.nested->size(member) == 0 && (single || !empty_too)) return nullptr;
  Json out = field.shape == Shape::list ? Json::array() : Json::object();
  field.nested->each(member, [&](const std::string& id, const void* object) {
    Json inside = write_record(field.record(), object, how);
    if (field.shape == Shape::map) {
      put(out, id, std::move(inside));
    } else if (field.shape == Shape::list) {
      out.push_back(std::move(inside));
    } else {
      out = std::move(inside);
    }
  });
  return out;
}

}  // namespace

Json write_record(const Record& record, const void* object, Written how) {
  Json out = Json::object();
  for (const Field& field : record.fields) {
    const void* member = field.member_of(object);
    const bool nested = field.nested != nullptr || field.shape == Shape::record || field.shape == Shape::references;
    Json value = nested ? write_nested(field, member, how) : write_scalar(field, member);
    if (!value.is_null()) put(out, field.key, std::move(value));
  }
  return out;
}

}  // namespace zoneproof::site
