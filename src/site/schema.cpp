// JSON Schema, draft 2020-12, from the field definitions. One $defs entry for each struct and for each kind of number
// (unit and range). Annotations of this project, which validators pass over: "unit", and of an id "refers_to" (the
// collections it may stand in) and "part_kinds".
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <set>

#include "base/json_text.hpp"
#include "site/document.hpp"
#include "site/file.hpp"
#include "site/number_form.hpp"
#include "site/site_record.hpp"
#include "site/text_form.hpp"

namespace zoneproof::site {

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kEntryId = "^[a-z][A-Za-z0-9_]{0,79}$";
Json reference_to(const std::string& name) { return {{"$ref", "#/$defs/" + name}}; }

template <class Words>
Json word_list(const Words& words) {
  Json out = Json::array();
  for (const std::string_view word : words) out.push_back(std::string(word));
  return out;
}

Json limits(const Field& field) { return {{"type", "number"}, {"minimum", field.low}, {"maximum", field.high}}; }

/// How the keys of a number's object go together: one tolerance, stated whole, and only beside a known value.
Json tolerance_rules() {
  Json rules;
  rules["dependentRequired"] = {{"plus", {"minus"}}, {"minus", {"plus"}}, {"min", {"max"}}, {"max", {"min"}}};
  const auto never = [](const char* a, const char* b) { return Json{{"not", {{"required", {a, b}}}}}; };
  rules["allOf"] = {never("plus", "tolerance_pct"), never("plus", "min"), never("tolerance_pct", "min")};
  const Json known = {{"required", {"value"}}, {"properties", {{"value", {{"type", "number"}}}}}};
  const Json range = {{"required", {"min"}}, {"properties", {{"value", false}}}};
  Json nothing = {{"required", {"value"}}, {"properties", {{"value", {{"enum", {nullptr, "none"}}}}}}};
  for (const char* key : {"plus", "minus", "tolerance_pct", "min", "max", "tempco_ppm_K"}) {
    nothing["properties"][key] = false;
  }
  rules["anyOf"] = {known, range, nothing};
  return rules;
}

class SchemaWriter {
 public:
  Json document(const Format& format, std::string_view title) {
    add(format.record());
    Json root = std::move(defs_[std::string(format.record().name)]);
    defs_.erase(std::string(format.record().name));
    root["properties"]["format"] = {{"const", std::string(format.word)}};
    root["required"].push_back("format");
    root["$schema"] = "https://json-schema.org/draft/2020-12/schema";
    root["title"] = std::string(title);
    if (numbers_) defs_["tolerance_rules"] = tolerance_rules();
    root["$defs"] = std::move(defs_);
    return root;
  }

 private:
  void add(const Record& record) {
    if (!done_.insert(record.name).second) return;
    Json properties = Json::object();
    Json required = Json::array();
    for (const Field& field : record.fields) {
      Json schema = of(field);
      schema["description"] = std::string(field.meaning);
      properties[std::string(field.key)] = std::move(schema);
      if (field.required) required.push_back(std::string(field.key));
    }
    Json out = {{"type", "object"}, {"description", std::string(record.meaning)}, {"additionalProperties", false}};
    out["properties"] = std::move(properties);
    out["required"] = std::move(required);
    if (&record == &record_of<Part>()) out["allOf"] = one_object_by_kind(record);
    defs_[std::string(record.name)] = std::move(out);
  }

  /// Of a part: the object that is named like `kind`, and no other.
  static Json one_object_by_kind(const Record& part) {
    Json rules = Json::array();
    for (const std::string_view kind : Words<PartKind>::all) {
      Json objects = Json::object();
      for (const Field& field : part.fields) {
        if (field.shape != Shape::optional_record) continue;
        objects[std::string(field.key)] = {{"type", field.key == kind ? "object" : "null"}};
      }
      Json if_kind = {{"required", {"kind"}}};
      if_kind["properties"]["kind"] = {{"const", std::string(kind)}};
      Json then = {{"properties", std::move(objects)}};
      then["required"] = Json::array({std::string(kind)});
      rules.push_back({{"if", std::move(if_kind)}, {"then", std::move(then)}});
    }
    return rules;
  }

  static Json type(const Field& field, const char* name) {
    return field.required ? Json{{"type", name}} : Json{{"type", {name, "null"}}};
  }

  Json of(const Field& field) {
    switch (field.shape) {
      case Shape::number: return of_number(field);
      case Shape::count:
      case Shape::whole: {
        Json out = type(field, "integer");
        out["minimum"] = static_cast<long long>(field.low);
        out["maximum"] = static_cast<long long>(field.high);
        return out;
      }
      case Shape::flag: return type(field, "boolean");
      case Shape::text: return of_text(field);
      case Shape::word: {
        Json words =
            word_list(std::vector<std::string_view>(field.words->words, field.words->words + field.words->count));
        if (!field.required) words.push_back(nullptr);
        return {{"enum", std::move(words)}};
      }
      case Shape::reference: return of_reference(field, true);
      case Shape::references: {
        Json out = type(field, "array");
        out["items"] = of_reference(field, false);
        out["maxItems"] = field.most;
        out["uniqueItems"] = true;
        return out;
      }
      default: return of_nested(field);
    }
  }

  Json of_text(const Field& field) {
    Json out = type(field, "string");
    const bool free = field.form == TextForm::line || field.form == TextForm::lines;
    if (free) out["maxLength"] = field.longest;
    out["pattern"] = pattern_of(field.form);
    return out;
  }

  static Json of_reference(const Field& field, bool may_be_unknown) {
    Json out = {{"type", "string"}, {"pattern", pattern_of(TextForm::identifier)}};
    if (may_be_unknown && !field.required) out["type"] = {"string", "null"};
    if (!field.may_be_none) out["not"] = {{"const", "none"}};
    out["refers_to"] = word_list(field.targets);
    if (!field.part_kinds.empty()) {
      out["part_kinds"] = Json::array();
      for (const PartKind kind : field.part_kinds) out["part_kinds"].push_back(std::string(word_of(kind)));
    }
    return out;
  }

  Json of_nested(const Field& field) {
    const Record& record = field.record();
    add(record);
    Json inside = reference_to(std::string(record.name));
    if (field.shape == Shape::map) {
      Json out = type(field, "object");
      out["propertyNames"] = {{"pattern", field.ids == IdForm::entry ? kEntryId : pattern_of(TextForm::identifier)},
                              {"not", {{"const", "none"}}}};
      out["additionalProperties"] = std::move(inside);
      out["maxProperties"] = field.most;
      return out;
    }
    if (field.shape == Shape::list) {
      Json out = type(field, "array");
      out["items"] = std::move(inside);
      out["maxItems"] = field.most;
      return out;
    }
    if (field.required) return inside;
    return {{"anyOf", {std::move(inside), {{"type", "null"}}}}};
  }

  Json of_number(const Field& field) {
    numbers_ = true;
    const auto unit = field.unit();
    std::string name = fmt::format("number_{}_{:g}_to_{:g}{}", unit ? unit->suffix : "plain", field.low, field.high,
                                   field.may_be_none ? "_or_none" : "");
    if (!defs_.contains(name)) defs_[name] = number_definition(field);
    Json out;
    if (field.required) {
      out["allOf"] = {reference_to(name), {{"not", {{"type", "null"}}}}};
    } else {
      out = reference_to(name);
    }
    if (unit) out["unit"] = std::string(unit->suffix);
    return out;
  }

  static Json number_definition(const Field& field) {
    Json value = {{"anyOf", {limits(field), {{"type", "null"}}}}};
    if (field.may_be_none) value["anyOf"].push_back({{"const", "none"}});
    Json origins = word_list(Words<Origin>::all);
    Json object = reference_to("tolerance_rules");
    object["type"] = "object";
    object["additionalProperties"] = false;
    object["properties"] = {
        {"value", value},
        {"plus", {{"type", "number"}, {"minimum", 0}}},
        {"minus", {{"type", "number"}, {"minimum", 0}}},
        {"tolerance_pct", {{"type", "number"}, {"minimum", 0}, {"maximum", kMostTolerance}}},
        {"min", limits(field)},
        {"max", limits(field)},
        {"tempco_ppm_K", {{"type", "number"}, {"minimum", -kMostTempco}, {"maximum", kMostTempco}}},
        {"origin", {{"enum", std::move(origins)}}},
        {"note", {{"type", "string"}, {"maxLength", kLongestNumberNote}, {"pattern", pattern_of(TextForm::lines)}}}};
    Json out = value;
    out["anyOf"].push_back(std::move(object));
    return out;
  }

  Json defs_ = Json::object();
  std::set<std::string_view> done_;
  bool numbers_ = false;
};

std::string schema_of(const Format& format, std::string_view title) {
  return write_json(SchemaWriter().document(format, title));
}

}  // namespace

std::string site_schema() { return schema_of(site_format(), "A site: NAME.site.json"); }
std::string parts_schema() { return schema_of(parts_format(), "Parts: NAME.parts.json"); }
std::string rulebook_schema() { return schema_of(rulebook_format(), "A rulebook"); }
std::string costs_schema() { return schema_of(costs_format(), "Costs: NAME.costs.json"); }

}  // namespace zoneproof::site
