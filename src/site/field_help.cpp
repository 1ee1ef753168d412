#include "site/field_help.hpp"

#include "base/json_pointer.hpp"
#include "site/site_record.hpp"

namespace zoneproof::site {

namespace {

void list(const Record& record, const std::string& pointer, std::vector<FieldHelp>& out) {
  for (const Field& field : record.fields) {
    const std::string here = pointer_child(pointer, field.key);
    out.push_back({here, &field});
    if (field.record == nullptr) continue;
    const bool many = field.shape == Shape::map || field.shape == Shape::list;
    list(field.record(), many ? here + "/*" : here, out);
  }
}

std::vector<FieldHelp> list(const Record& record) {
  std::vector<FieldHelp> out;
  list(record, "", out);
  return out;
}

}  // namespace

std::vector<FieldHelp> site_fields() { return list(record_of<Site>()); }
std::vector<FieldHelp> parts_fields() { return list(record_of<PartsFile>()); }
std::vector<FieldHelp> rulebook_fields() { return list(record_of<RulebookFile>()); }

const Field* field_at(std::string_view pointer) {
  const auto tokens = pointer_tokens(pointer);
  if (!tokens || tokens->empty()) return nullptr;
  const Record* record = &record_of<Site>();
  const Field* field = nullptr;
  for (std::size_t i = 0; i < tokens->size(); ++i) {
    field = record->find((*tokens)[i]);
    if (field == nullptr) return nullptr;
    if (field->record == nullptr) return i + 1 == tokens->size() || field->shape == Shape::number ? field : nullptr;
    record = &field->record();
    if (field->shape == Shape::map || field->shape == Shape::list) ++i;  // over the id or index
  }
  return field;
}

std::optional<std::pair<double, double>> allowed_range(std::string_view pointer) {
  const Field* field = field_at(pointer);
  const bool number = field != nullptr && (field->shape == Shape::number || field->shape == Shape::count);
  return number ? std::optional(std::pair(field->low, field->high)) : std::nullopt;
}

std::string_view shape_word(Shape shape) {
  switch (shape) {
    case Shape::number: return "number";
    case Shape::count:
    case Shape::whole: return "count";
    case Shape::flag: return "flag";
    case Shape::text: return "text";
    case Shape::word: return "word";
    case Shape::reference: return "reference";
    case Shape::references: return "references";
    case Shape::record:
    case Shape::optional_record: return "object";
    case Shape::map: return "map";
    case Shape::list: break;
  }
  return "list";
}

}  // namespace zoneproof::site
