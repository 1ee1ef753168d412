#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "results/field_words.hpp"
#include "results/questions.hpp"

/// The question schema.
namespace zoneproof::results {

/// A schema, or one place of a format.
struct SchemaAnswer {
  std::string schema;   ///< JSON text; empty where a field was asked for
  std::string pointer;  ///< "" is the whole document
  FieldPlace place;

  /// What stands inside the place; null where nothing does.
  const site::Record* inside() const;
};

Answered<SchemaAnswer> answer(const SchemaQuestion& question);
/// Of a place; a schema is JSON itself.
nlohmann::ordered_json json_of(const SchemaAnswer& answer);

}  // namespace zoneproof::results
