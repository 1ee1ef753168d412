#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/field_words.hpp"
#include "cli/reading.hpp"
#include "cli/results.hpp"
#include "messages/cli.hpp"
#include "site/document.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

namespace {

using Json = nlohmann::ordered_json;

struct FileFormat {
  const char* word;
  const site::Format& (*format)();
  std::string (*schema)();
};

constexpr FileFormat kFormats[] = {{"site", site::site_format, site::site_schema},
                                   {"parts", site::parts_format, site::parts_schema},
                                   {"rulebook", site::rulebook_format, site::rulebook_schema}};

const FileFormat* format_of(const std::string& word) {
  for (const FileFormat& format : kFormats) {
    if (word.empty() || word == format.word) return &format;
  }
  return nullptr;
}

void print_fields(const site::Record& record, Screen& screen) {
  for (const site::Field& field : record.fields) {
    screen.line();
    screen.entry(std::string(field.key), std::string(field.meaning), 26, Style::heading, 2);
    screen.line(expected_words(field), 26, Style::faint);
  }
}

void print_place(const FieldPlace& place, const std::string& pointer, Screen& screen) {
  screen.line(pointer.empty() ? text(say::whole_document()) : pointer, 0, Style::heading);
  if (place.field != nullptr) {
    screen.line(place.field->meaning, 2);
    screen.line(expected_words(*place.field), 2);
  }
  const site::Record* inside = place.record;
  if (inside == nullptr && place.field != nullptr && place.field->record != nullptr) inside = &place.field->record();
  if (inside == nullptr) return;
  screen.line(inside->meaning, 2);
  print_fields(*inside, screen);
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

Json json_of_place(const FieldPlace& place, const std::string& pointer) {
  Json fields = Json::array();
  const site::Record* inside = place.record;
  if (inside == nullptr && place.field != nullptr && place.field->record != nullptr) inside = &place.field->record();
  if (inside != nullptr) {
    for (const site::Field& field : inside->fields) fields.push_back(json_of_field(field));
  }
  return {{"pointer", pointer},
          {"field", place.field != nullptr ? json_of_field(*place.field) : Json(nullptr)},
          {"fields", std::move(fields)}};
}

/// How far a pointer leads: the deepest ancestor that exists, for the message.
std::string known_part(const site::Record& root, std::string pointer) {
  while (!pointer.empty() && !place_of(root, pointer)) pointer.resize(pointer.rfind('/'));
  return pointer;
}

}  // namespace

int schema(const SchemaOptions& asked, Screen& screen) {
  const FileFormat* format = format_of(asked.format);
  if (format == nullptr) {
    return refuse("schema", {say::no_such_word(asked.format, "FORMAT", {"parts", "rulebook", "site"})}, asked.json,
                  screen);
  }
  if (asked.field.empty()) {
    screen.raw(format->schema());
    return 0;
  }
  const std::string pointer = asked.field == "/" ? "" : asked.field;
  if (!pointer.empty() && pointer.front() != '/')
    return refuse("schema", {say::no_pointer(pointer)}, asked.json, screen);
  const site::Record& root = format->format().record();
  const auto place = place_of(root, pointer);
  if (!place) {
    const std::string known = known_part(root, pointer);
    return refuse("schema", {say::no_such_field(pointer, known.empty() ? "/" : known, format->word)}, asked.json,
                  screen);
  }
  if (asked.json) {
    screen.raw(results_text("schema", std::nullopt, json_of_place(*place, pointer)));
  } else {
    print_place(*place, pointer, screen);
  }
  return 0;
}

}  // namespace zoneproof::cli
