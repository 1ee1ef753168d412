#include "results/field_words.hpp"

#include <fmt/format.h>

#include "base/json_pointer.hpp"
#include "electric/naming.hpp"
#include "messages/results.hpp"

namespace zoneproof::results {

namespace {

using site::Field;
using site::Record;
using site::Shape;

/// Digits that show a number of a data sheet as it was written.
constexpr int kSheetDigits = 6;

/// Units as files write them, in the form in which people read them. "1" stands for a pure number.
std::string shown_unit(std::string_view unit) {
  if (unit == "1") return {};
  const auto known = site::unit_of_key("_" + std::string(unit));
  return known ? std::string(known->symbol) : std::string(unit);
}

Measure measure(double value, std::string_view unit) { return {value, shown_unit(unit), kSheetDigits}; }

std::string_view symbol_of(const Field& field) {
  const auto unit = field.unit();
  return unit ? unit->symbol : std::string_view();
}

std::string joined(const std::vector<std::string_view>& words) {
  std::string out;
  for (std::string_view word : words) out += (out.empty() ? "" : ", ") + std::string(word);
  return out;
}

std::string reference_words(const site::Ref& reference) {
  return reference.none() ? text(say::known_absence()) : reference.id;
}

std::string scalar_words(const Field& field, const void* member) {
  switch (field.shape) {
    case Shape::number: return value_words(*static_cast<const site::Value*>(member), symbol_of(field));
    case Shape::count: {
      const auto& count = *static_cast<const site::Count*>(member);
      return count.known() ? fmt::format("{}", *count.value) : "";
    }
    case Shape::whole: return fmt::format("{}", *static_cast<const long long*>(member));
    case Shape::flag: {
      const auto& flag = *static_cast<const site::Flag*>(member);
      return flag.known() ? text(flag.yes() ? say::yes() : say::no()) : "";
    }
    case Shape::text: return *static_cast<const std::string*>(member);
    case Shape::word: {
      const auto word = field.words->get(member);
      return word ? std::string(field.words->words[*word]) : "";
    }
    case Shape::reference: return reference_words(*static_cast<const site::Ref*>(member));
    case Shape::references: {
      std::string out;
      for (const site::Ref& one : *static_cast<const std::vector<site::Ref>*>(member)) {
        out += (out.empty() ? "" : ", ") + reference_words(one);
      }
      return out;
    }
    default: return "";
  }
}

std::string expected_text(const Field& field) {
  switch (field.form) {
    case site::TextForm::ip_address: return text(say::field_ip_address());
    case site::TextForm::ip_network: return text(say::field_ip_network());
    case site::TextForm::core_colours: return text(say::field_core_colours());
    default: return text(say::field_text(static_cast<long long>(field.longest)));
  }
}

void add_rows(const Record& record, const void* object, const std::string& path, std::vector<FieldRow>& rows) {
  for (const Field& field : record.fields) {
    const void* member = field.member_of(object);
    const std::string key = path + std::string(field.key);
    if (field.nested != nullptr) {
      field.nested->each(member, [&](const std::string& id, const void* inside) {
        add_rows(field.record(), inside, id.empty() ? key + "/" : key + "/" + id + "/", rows);
      });
    } else if (field.shape == Shape::record) {
      add_rows(field.record(), member, key + "/", rows);
    } else if (const std::string value = scalar_words(field, member); !value.empty()) {
      rows.push_back({key, value, &field});
    }
  }
}

}  // namespace

std::optional<FieldPlace> place_of(const Record& root, std::string_view pointer) {
  const auto tokens = pointer_tokens(pointer);
  if (!tokens) return std::nullopt;
  FieldPlace place;
  place.record = &root;
  for (std::size_t i = 0; i < tokens->size(); ++i) {
    if (place.record == nullptr) return std::nullopt;
    place.field = place.record->find((*tokens)[i]);
    if (place.field == nullptr) return std::nullopt;
    const bool collection = place.field->shape == Shape::map || place.field->shape == Shape::list;
    if (collection && i + 1 < tokens->size()) {
      if (place.owner.empty()) {
        place.collection = (*tokens)[i];
        place.owner = (*tokens)[i + 1];
      }
      place.record = &place.field->record();
      place.field = nullptr;
      ++i;
    } else if (collection || place.field->record == nullptr) {
      place.record = nullptr;
    } else {
      place.record = &place.field->record();
    }
  }
  return place;
}

std::string owner_words(const site::Site& site, const FieldPlace& place) {
  if (place.owner.empty()) return text(say::the_site());
  if (place.collection == "parts") return text(say::part_called(place.owner));
  if (place.collection == "rulebooks") return text(say::rulebook_called(place.owner));
  return electric::thing_words(site, place.owner);
}

std::string value_words(const site::Value& value, std::string_view unit) {
  if (value.none()) return text(say::known_absence());
  if (!value.known()) return "";
  std::string out = shown(measure(value.nominal, unit));
  if (value.low != value.high) {
    out =
        text(say::figure_with_range(measure(value.nominal, unit), measure(value.low, unit), measure(value.high, unit)));
  }
  return out;
}

std::string expected_words(const Field& field) {
  std::string out;
  switch (field.shape) {
    case Shape::number:
      if (symbol_of(field).empty()) {
        out = text(say::field_pure_number(measure(field.low, ""), measure(field.high, "")));
      } else {
        out = text(say::field_number(std::string(symbol_of(field)), measure(field.low, symbol_of(field)),
                                     measure(field.high, symbol_of(field))));
      }
      break;
    case Shape::count:
    case Shape::whole: out = text(say::field_count(measure(field.low, ""), measure(field.high, ""))); break;
    case Shape::flag: out = text(say::field_flag()); break;
    case Shape::text: out = expected_text(field); break;
    case Shape::word: {
      std::vector<std::string> words(field.words->words, field.words->words + field.words->count);
      out = text(say::field_word(words));
      break;
    }
    case Shape::reference: out = text(say::field_reference(joined(field.targets))); break;
    case Shape::references: out = text(say::field_references(joined(field.targets))); break;
    case Shape::map: out = text(say::field_map(static_cast<long long>(field.most))); break;
    case Shape::list: out = text(say::field_list(static_cast<long long>(field.most))); break;
    default: out = text(say::field_object()); break;
  }
  if (field.may_be_none) out += " " + text(say::field_may_be_none());
  if (field.required) out += " " + text(say::field_required());
  return out;
}

std::vector<FieldRow> rows_of(const Record& record, const void* object) {
  std::vector<FieldRow> rows;
  add_rows(record, object, "", rows);
  return rows;
}

}  // namespace zoneproof::results
