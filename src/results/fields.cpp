#include "results/fields.hpp"

#include <nlohmann/json.hpp>

#include "messages/results.hpp"
#include "site/document.hpp"
#include "site/file.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

struct FileFormat {
  const char* word;
  const site::Format& (*format)();
  std::string (*schema)();
};

constexpr FileFormat kFormats[] = {{"site", site::site_format, site::site_schema},
                                   {"parts", site::parts_format, site::parts_schema},
                                   {"rulebook", site::rulebook_format, site::rulebook_schema},
                                   {"costs", site::costs_format, site::costs_schema}};

const FileFormat* format_of(const std::string& word) {
  for (const FileFormat& format : kFormats) {
    if (word.empty() || word == format.word) return &format;
  }
  return nullptr;
}

Json json_of_field(const site::Field& field) {
  const auto unit = field.unit();
  Json out = {{"key", field.key},
              {"meaning", field.meaning},
              {"expects", expected_words(field)},
              {"unit", unit ? Json(unit->symbol) : Json(nullptr)},
              {"may_be_none", field.may_be_none}};
  if (field.words != nullptr) {
    out["words"] = std::vector<std::string>(field.words->words, field.words->words + field.words->count);
  }
  return out;
}

/// How far a pointer leads: the deepest ancestor that exists, for the message.
std::string known_part(const site::Record& root, std::string pointer) {
  while (!pointer.empty() && !place_of(root, pointer)) pointer.resize(pointer.rfind('/'));
  return pointer;
}

}  // namespace

const site::Record* SchemaAnswer::inside() const {
  if (place.record != nullptr) return place.record;
  return place.field != nullptr && place.field->record != nullptr ? &place.field->record() : nullptr;
}

Answered<SchemaAnswer> answer(const SchemaQuestion& question) {
  const auto refused = [](Message problem) { return Answered<SchemaAnswer>{std::nullopt, {std::move(problem)}}; };
  const FileFormat* format = format_of(question.format);
  if (format == nullptr)
    return refused(say::no_such_word(question.format, "FORMAT", {"costs", "parts", "rulebook", "site"}));
  if (question.field.empty()) return {SchemaAnswer{format->schema(), "", {}}, {}};
  const std::string pointer = question.field == "/" ? "" : question.field;
  if (!pointer.empty() && pointer.front() != '/') return refused(say::no_pointer(pointer));
  const site::Record& root = format->format().record();
  const auto place = place_of(root, pointer);
  if (place) return {SchemaAnswer{"", pointer, *place}, {}};
  const std::string known = known_part(root, pointer);
  return refused(say::no_such_field(pointer, known.empty() ? "/" : known, format->word));
}

Json json_of(const SchemaAnswer& answer) {
  Json fields = Json::array();
  if (const site::Record* inside = answer.inside()) {
    for (const site::Field& field : inside->fields) fields.push_back(json_of_field(field));
  }
  const site::Field* field = answer.place.field;
  return {{"pointer", answer.pointer},
          {"field", field != nullptr ? json_of_field(*field) : Json(nullptr)},
          {"fields", std::move(fields)}};
}

}  // namespace zoneproof::results
