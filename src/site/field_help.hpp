#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "site/field.hpp"

/// The field definitions as help for people and bounds for engines.
namespace zoneproof::site {

/// One field and where it stands: "/zones/*/loop/eol_ohm", "*" being any id or index.
struct FieldHelp {
  std::string pointer;
  const Field* field;
};

/// Every field of the site file, outside in; the records of parts and rulebooks included.
std::vector<FieldHelp> site_fields();
/// Every field of a parts file and of a rulebook file.
std::vector<FieldHelp> parts_fields();
std::vector<FieldHelp> rulebook_fields();

/// The field that a pointer into a site file names, ids in it being arbitrary; a key inside a number's object
/// ("/cables/c1/length_m/plus") gives the number's field. Null where there is none.
const Field* field_at(std::string_view pointer);

/// The physically plausible range of the number or count at `pointer`, in the unit of its key: what an unknown value
/// may be. Nothing where no number stands there. Value::pointer and Count::pointer are such pointers.
std::optional<std::pair<double, double>> allowed_range(std::string_view pointer);

/// The word for a shape in tables: "number", "whole number", "yes or no" ... come from the message catalogue; this is
/// the closed set for machines: number, count, flag, text, word, reference, references, object, map, list.
std::string_view shape_word(Shape shape);

}  // namespace zoneproof::site
