#include "cli/commands.hpp"
#include "cli/reading.hpp"
#include "messages/cli.hpp"
#include "results/fields.hpp"

namespace zoneproof::cli {

namespace {

void print_fields(const site::Record& record, Screen& screen) {
  for (const site::Field& field : record.fields) {
    screen.line();
    screen.entry(std::string(field.key), std::string(field.meaning), 26, Style::heading, 2);
    screen.line(results::expected_words(field), 26, Style::faint);
  }
}

void print_place(const results::SchemaAnswer& answer, Screen& screen) {
  screen.line(answer.pointer.empty() ? text(say::whole_document()) : answer.pointer, 0, Style::heading);
  if (const site::Field* field = answer.place.field) {
    screen.line(field->meaning, 2);
    screen.line(results::expected_words(*field), 2);
  }
  const site::Record* inside = answer.inside();
  if (inside == nullptr) return;
  screen.line(inside->meaning, 2);
  print_fields(*inside, screen);
}

}  // namespace

int schema(const SchemaOptions& asked, Screen& screen) {
  const results::SchemaQuestion question = {asked.format, asked.field};
  if (asked.json) return put_results(nullptr, {}, question, screen);
  const auto told = results::answer(question);
  if (!told.answer) return refuse("schema", told.problems, asked.json, screen);
  if (asked.field.empty()) {
    screen.raw(told.answer->schema);
  } else {
    print_place(*told.answer, screen);
  }
  return 0;
}

}  // namespace zoneproof::cli
