#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "site/field.hpp"
#include "site/model.hpp"

/// From JSON pointers to what a person calls the place, by the one definition of every field.
namespace zoneproof::results {

/// What stands at a pointer of a file.
struct FieldPlace {
  const site::Record* record = nullptr;  ///< the struct that the pointer names, or null where it names a plain field
  const site::Field* field = nullptr;    ///< the field that the pointer names; null for the whole document and for an
                                         ///< entry of a map, which has an id and no field
  std::string owner;                     ///< id of the outermost entry on the way ("z6" of /zones/z6/loop/eol_ohm)
  std::string collection;                ///< and the collection it stands in ("zones")
};

/// Follows `pointer` through the definitions that start at `root`; any id (or "*") stands for an entry of a map.
/// Nothing where a key on the way does not exist. Cost: linear in the pointer times the fields of a record.
std::optional<FieldPlace> place_of(const site::Record& root, std::string_view pointer);

/// "Zone 6 (Store)", "Cable trunk", "Part panel_8": what a person calls the object that a pointer of a site stands in.
std::string owner_words(const site::Site& site, const FieldPlace& place);

/// What may stand in a field, in words: unit and range, or the words, or what it refers to.
std::string expected_words(const site::Field& field);

/// One row for each thing that `object` says: its key path, the value as people read it, the field.
struct FieldRow {
  std::string key;
  std::string value;
  const site::Field* field = nullptr;
};
std::vector<FieldRow> rows_of(const site::Record& record, const void* object);

/// "5.6 kohm", with its range and origin where it has them.
std::string value_words(const site::Value& value, std::string_view unit);

}  // namespace zoneproof::results
