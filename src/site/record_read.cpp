#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <unordered_set>

#include "base/json_pointer.hpp"
#include "base/utf8.hpp"
#include "messages/site.hpp"
#include "site/number_form.hpp"
#include "site/record_json.hpp"
#include "site/text_form.hpp"

namespace zoneproof::site {

using Json = nlohmann::ordered_json;

const Field* Record::find(std::string_view key) const {
  for (const Field& field : fields) {
    if (field.key == key) return &field;
  }
  return nullptr;
}

bool well_formed_id(std::string_view id, IdForm form) {
  const std::size_t longest = form == IdForm::entry ? 80 : 40;
  if (id.empty() || id.size() > longest || id.front() < 'a' || id.front() > 'z') return false;
  return std::all_of(id.begin(), id.end(), [form](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' ||
           (form == IdForm::entry && c >= 'A' && c <= 'Z');
  });
}

namespace {

/// A key as a member of an object is told in messages: the place where it stands has a name for people.
std::string owner_name(std::string_view pointer, const Record& record) {
  return pointer.empty() ? std::string(record.name) : std::string(pointer.substr(pointer.rfind('/') + 1));
}

bool is_none(const Json& json) { return json.is_string() && json.get_ref<const std::string&>() == "none"; }

const Json& empty_object() {
  static const Json empty = Json::object();
  return empty;
}

}  // namespace

/// Lengthens the pointer for as long as it lives.
class RecordReader::Deeper {
 public:
  Deeper(std::string& pointer, std::string_view token) : pointer_(pointer), before_(pointer.size()) {
    pointer_ += '/';
    if (token.find_first_of("~/") == std::string_view::npos) {
      pointer_ += token;
    } else {
      pointer_ += pointer_escaped(token);
    }
  }
  ~Deeper() { pointer_.resize(before_); }
  Deeper(const Deeper&) = delete;
  Deeper& operator=(const Deeper&) = delete;

 private:
  std::string& pointer_;
  std::size_t before_;
};

void RecordReader::read(const Record& record, void* object, const Json& json, std::optional<Origin> inherited,
                        std::string_view also_known) {
  if (!json.is_object()) {
    findings_.add(say::site_object_wanted(found_words(json), owner_name(pointer_, record)), pointer_);
    read(record, object, empty_object(), inherited, also_known);
    return;
  }
  const bool stands = &json != &empty_object();  // else only the pointers are wanted
  std::vector<const Json*> values(record.fields.size(), nullptr);
  for (const auto& item : json.items()) {
    const auto field = std::find_if(record.fields.begin(), record.fields.end(),
                                    [&](const Field& candidate) { return candidate.key == item.key(); });
    if (field != record.fields.end()) {
      values[static_cast<std::size_t>(field - record.fields.begin())] = &item.value();
    } else if (item.key() != also_known || also_known.empty()) {
      unknown_key(record, item.key(), item.value());
    }
  }
  if (record.origin) inherited = record.origin;
  for (std::size_t i = 0; i < values.size(); ++i) {  // first what the numbers beside it inherit
    const Field& field = record.fields[i];
    if (field.key != "origin" || field.shape != Shape::word) continue;
    if (values[i]) read_field(field, object, *values[i], inherited);
    if (const auto stated = field.words->get(field.member_of(object))) inherited = static_cast<Origin>(*stated);
  }
  for (std::size_t i = 0; i < values.size(); ++i) {
    const Field& field = record.fields[i];
    if (field.key == "origin" && field.shape == Shape::word) continue;
    const bool absent = values[i] == nullptr || values[i]->is_null();
    if (absent && field.required && stands) {
      findings_.add(say::site_missing(std::string(field.key), owner_name(pointer_, record), std::string(field.meaning)),
                    pointer_);
    }
    static const Json null = nullptr;
    read_field(field, object, values[i] ? *values[i] : null, inherited);
  }
}

void RecordReader::read_field(const Field& field, void* object, const Json& json, std::optional<Origin> inherited) {
  const Deeper deeper(pointer_, field.key);
  void* member = field.member(object);
  if (field.pointer) *field.pointer(member) = pointer_;
  switch (field.shape) {
    case Shape::number: read_number(field, *static_cast<Value*>(member), json, pointer_, inherited, findings_); break;
    case Shape::record:
    case Shape::optional_record:
    case Shape::map:
    case Shape::list: read_nested(field, member, json, inherited); break;
    case Shape::references: read_references(field, member, json); break;
    default:
      if (!json.is_null()) read_scalar(field, member, json);
  }
}

void RecordReader::read_nested(const Field& field, void* member, const Json& json, std::optional<Origin> inherited) {
  if (field.shape == Shape::record) {
    read(field.record(), member, json.is_null() ? empty_object() : json, inherited);
  } else if (json.is_null()) {
    return;
  } else if (field.shape == Shape::optional_record) {
    read(field.record(), field.nested->add(member, ""), json, inherited);
  } else if (field.shape == Shape::map) {
    read_map(field, member, json, inherited);
  } else {
    read_list(field, member, json, inherited);
  }
}

bool RecordReader::few_enough(const Field& field, std::size_t count) {
  if (count <= field.most) return true;
  findings_.add(
      say::site_too_many(static_cast<long long>(count), std::string(field.key), static_cast<long long>(field.most)),
      pointer_, true);
  skipped_.insert(pointer_);
  return false;
}

void RecordReader::read_map(const Field& field, void* member, const Json& json, std::optional<Origin> inherited) {
  if (!json.is_object()) {
    findings_.add(say::site_object_wanted(found_words(json), std::string(field.key)), pointer_);
    skipped_.insert(pointer_);
    return;
  }
  if (!few_enough(field, json.size())) return;
  const Record& record = field.record();
  for (const auto& item : json.items()) {
    const Deeper deeper(pointer_, item.key());
    const bool none = item.key() == "none";
    if (none) findings_.add(say::site_none_as_id(), pointer_, true);
    const bool usable = !none && well_formed_id(item.key(), field.ids);
    if (!none && !usable) {
      findings_.add(field.ids == IdForm::entry ? say::site_bad_entry_id(item.key()) : say::site_bad_id(item.key()),
                    pointer_, true);
    }
    read(record, field.nested->add(member, item.key()), item.value(), inherited);
    if (!usable) field.nested->drop(member, item.key());  // it was read for its faults; nothing can refer to it
  }
}

void RecordReader::read_list(const Field& field, void* member, const Json& json, std::optional<Origin> inherited) {
  if (!json.is_array()) {
    findings_.add(say::site_list_wanted(found_words(json), std::string(field.key)), pointer_);
    return;
  }
  if (!few_enough(field, json.size())) return;
  std::size_t index = 0;
  for (const Json& item : json) {
    const Deeper deeper(pointer_, std::to_string(index++));
    read(field.record(), field.nested->add(member, ""), item, inherited);
  }
}

void RecordReader::read_references(const Field& field, void* member, const Json& json) {
  if (json.is_null()) return;
  if (!json.is_array()) {
    findings_.add(say::site_list_wanted(found_words(json), std::string(field.key)), pointer_);
    return;
  }
  if (!few_enough(field, json.size())) return;
  auto& references = *static_cast<std::vector<Ref>*>(member);
  std::unordered_set<std::string> seen;
  std::size_t index = 0;
  for (const Json& item : json) {
    const Deeper deeper(pointer_, std::to_string(index++));
    std::string id = read_id(field, item, false);
    if (id.empty()) continue;
    if (!seen.insert(id).second) {
      findings_.add(say::site_listed_twice(id, std::string(field.key)), pointer_);
    } else {
      references.push_back({std::move(id), pointer_});
    }
  }
}

void RecordReader::read_scalar(const Field& field, void* member, const Json& json) {
  std::optional<long long> whole;
  switch (field.shape) {
    case Shape::count: read_whole(field, json, static_cast<Count*>(member)->value); break;
    case Shape::whole:
      read_whole(field, json, whole);
      if (whole) *static_cast<long long*>(member) = *whole;
      break;
    case Shape::flag: read_flag(field, member, json); break;
    case Shape::text: read_text(field, member, json); break;
    case Shape::word: read_word(field, member, json); break;
    default: static_cast<Ref*>(member)->id = read_id(field, json, field.may_be_none);
  }
}

void RecordReader::read_whole(const Field& field, const Json& json, std::optional<long long>& out) {
  const double number = json.is_number() ? json.get<double>() : NAN;
  if (!json.is_number()) {
    findings_.add(say::site_count_wanted(found_words(json), std::string(field.key)), pointer_);
  } else if (number != std::floor(number)) {
    findings_.add(say::site_count_fraction(fmt::format("{}", number), std::string(field.key)), pointer_);
  } else if (number < field.low || number > field.high) {
    findings_.add(say::site_count_out_of_range(std::string(field.key), json.dump(), static_cast<long long>(field.low),
                                               static_cast<long long>(field.high)),
                  pointer_);
  } else {
    out = static_cast<long long>(number);
  }
}

void RecordReader::read_flag(const Field& field, void* member, const Json& json) {
  if (json.is_boolean()) {
    static_cast<Flag*>(member)->value = json.get<bool>();
  } else {
    findings_.add(say::site_flag_wanted(found_words(json), std::string(field.key)), pointer_);
  }
}

bool RecordReader::fit_for_text(std::string_view text, const Field& field) {
  const std::string hidden = hidden_characters(text, field.form == TextForm::lines);
  if (!hidden.empty()) {
    findings_.add(say::site_hidden_characters(hidden), pointer_);
    return false;
  }
  if (!text.empty() && only_blanks(text)) {
    findings_.add(say::site_only_blanks(std::string(field.key)), pointer_);
    return false;
  }
  const std::size_t length = utf8_length(text);
  if (length > field.longest) {
    findings_.add(say::site_text_too_long(static_cast<long long>(length), std::string(field.key),
                                          static_cast<long long>(field.longest)),
                  pointer_);
    return false;
  }
  if (auto fault = form_fault(text, field.form, field.key)) {
    findings_.add(std::move(*fault), pointer_);
    return false;
  }
  return true;
}

void RecordReader::read_text(const Field& field, void* member, const Json& json) {
  if (!json.is_string()) {
    findings_.add(say::site_text_wanted(found_words(json), std::string(field.key)), pointer_);
    return;
  }
  const std::string& text = json.get_ref<const std::string&>();
  if (fit_for_text(text, field)) *static_cast<std::string*>(member) = text;
}

void RecordReader::read_word(const Field& field, void* member, const Json& json) {
  const WordAccess& access = *field.words;
  const std::vector<std::string> words(access.words, access.words + access.count);
  if (!json.is_string()) {
    findings_.add(say::site_word_wanted(found_words(json), std::string(field.key), words), pointer_);
    return;
  }
  const std::string& found = json.get_ref<const std::string&>();
  const auto word = std::find(words.begin(), words.end(), found);
  if (word != words.end()) {
    access.set(member, static_cast<std::size_t>(word - words.begin()));
    return;
  }
  const std::string near = findings_.nearest(found, words);
  findings_.add(near.empty() ? say::site_unknown_word(found, std::string(field.key), words)
                             : say::site_unknown_word_near(found, std::string(field.key), near, words),
                pointer_);
}

std::string RecordReader::read_id(const Field& field, const Json& json, bool may_be_none) {
  if (!json.is_string()) {
    findings_.add(say::site_id_wanted(found_words(json), std::string(field.key)), pointer_);
    return "";
  }
  const std::string& id = json.get_ref<const std::string&>();
  if (is_none(json)) {
    if (!may_be_none) findings_.add(say::site_none_reference(std::string(field.key)), pointer_);
    return may_be_none ? id : "";
  }
  if (well_formed_id(id, IdForm::object)) return id;
  findings_.add(say::site_not_an_identifier(id, std::string(field.key)), pointer_);
  return "";
}

void RecordReader::unknown_key(const Record& record, const std::string& key, const Json& value) {
  const Deeper deeper(pointer_, key);
  const std::string owner = owner_name(std::string_view(pointer_).substr(0, pointer_.rfind('/')), record);
  // A known quantity in a unit of elsewhere: say what to write.
  for (const ForeignUnit& foreign : foreign_units_of_key(key)) {
    const std::string wanted = key.substr(0, key.size() - foreign.suffix.size()) + std::string(foreign.unit);
    if (record.find(wanted) != nullptr) {
      const auto unit = unit_of_key(wanted);
      Message message =
          value.is_number()
              ? say::site_foreign_unit(key, owner, std::string(unit->name), wanted,
                                       fmt::format("{:.9g}", (value.get<double>() + foreign.offset) * foreign.factor))
              : say::site_foreign_unit_factor(key, owner, std::string(unit->name), wanted, std::string(foreign.suffix),
                                              fmt::format("{:.6g}", foreign.factor));
      findings_.add(std::move(message), pointer_, true);
      return;
    }
  }
  std::vector<std::string_view> keys;
  for (const Field& field : record.fields) {
    keys.push_back(field.key);
    const auto unit = unit_of_key(field.key);
    if (unit && stem_of_key(field.key) == key) {
      findings_.add(say::site_unit_missing(key, owner, std::string(field.key), std::string(unit->name)), pointer_,
                    true);
      return;
    }
  }
  const std::string near = findings_.nearest(key, keys);
  findings_.add(near.empty() ? say::site_unknown_key(key, owner) : say::site_unknown_key_near(key, owner, near),
                pointer_, true);
}

}  // namespace zoneproof::site
