#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "site/unit.hpp"
#include "site/words.hpp"

/// The one definition of every field, as data at run time. Reading, writing, every validation message, the JSON Schemas
/// and the field help walk these records; no other code knows the keys of a file. A key is the name of its member.
///
/// Access is type-erased: an object is passed as `void*` to the struct that the record describes, and a field knows how
/// to find its member there. Only the templates at the end of this header cast, each from a member pointer, so a
/// definition of the wrong type does not compile.
namespace zoneproof::site {

enum class Shape {
  number,           ///< Value
  count,            ///< Count
  whole,            ///< long long: versions and revisions, always known
  flag,             ///< Flag
  text,             ///< std::string, empty where unknown
  word,             ///< Word<E> or std::optional<E>
  reference,        ///< Ref
  references,       ///< std::vector<Ref>
  record,           ///< a nested struct; its absence means that everything in it is unknown
  optional_record,  ///< std::optional<struct>; presence counts
  map,              ///< Map<struct>, keyed by id
  list              ///< std::vector<struct>
};

/// What a text may hold. No text holds control characters or characters that change the reading direction.
enum class TextForm {
  line,         ///< one line
  lines,        ///< line feeds allowed
  identifier,   ///< an id inside another object: [a-z][a-z0-9_]{0,39}
  sha256,       ///< 64 lower-case hexadecimal digits
  ip_address,   ///< as read_ip_address() of base/ip_address.hpp takes it
  ip_network,   ///< as read_ip_network() of base/ip_network.hpp takes it
  core_colours  ///< of one conductor: letters of IEC 60757, two colours together, joined cores with "+"
};

/// How the keys of a map are spelled.
enum class IdForm {
  object,  ///< [a-z][a-z0-9_]{0,39}
  entry    ///< of a rulebook: [a-z][A-Za-z0-9_]{0,79}, for a unit at its end ("loop_margin_V", "standby_h_grade_2")
};

struct Record;

/// A closed set of words and how to reach the member that holds one.
struct WordAccess {
  const std::string_view* words;
  std::size_t count;
  std::optional<std::size_t> (*get)(const void* member);
  void (*set)(void* member, std::size_t word);
};

/// Nested structs inside a member.
struct NestedAccess {
  std::size_t (*size)(const void* member);
  void* (*add)(void* member, const std::string& id);  ///< a new one (map: under `id`; list and optional: `id` unused)
  void (*each)(const void* member, const std::function<void(const std::string& id, const void* object)>& visit);
  void (*drop)(void* member, const std::string& id);  ///< map: takes the one under `id` out again; else nothing
};

/// One key of a record. Units come from the key's suffix (unit.hpp).
struct Field {
  std::string_view key;
  Shape shape = Shape::text;
  std::string_view meaning;  ///< one plain sentence for a technician
  double low = 0.0;          ///< number, count, whole: the physically plausible range, in the key's unit
  double high = 0.0;
  bool required = false;
  bool may_be_none = false;  ///< "none" (known absence) is an answer
  TextForm form = TextForm::line;
  std::size_t longest = 200;              ///< text: code points
  std::size_t most = 0;                   ///< map, list, references: how many the format allows
  IdForm ids = IdForm::object;            ///< map: how its keys are spelled
  std::vector<std::string_view> targets;  ///< references: collections of the site that the id may stand in
  std::vector<PartKind> part_kinds;       ///< references to parts: kinds that fit
  const WordAccess* words = nullptr;
  const NestedAccess* nested = nullptr;
  const Record& (*record)() = nullptr;  ///< record, optional_record, map, list: what is inside

  void* (*member)(void* object) = nullptr;
  std::string* (*pointer)(void* member) = nullptr;  ///< where the member keeps its pointer; null where it keeps none
  std::size_t size = 0;                             ///< of the member, with its alignment: tests prove that no member
  std::size_t alignment = 0;                        ///< of a struct is without a definition

  const void* member_of(const void* object) const { return member(const_cast<void*>(object)); }
  std::optional<KeyUnit> unit() const { return shape == Shape::number ? unit_of_key(key) : std::nullopt; }

  // Setters for the definitions, in the order in which they read well.
  Field& means(std::string_view sentence) { return meaning = sentence, *this; }
  Field& range(double from, double to) { return low = from, high = to, *this; }
  Field& or_none() { return may_be_none = true, *this; }
  Field& needed() { return required = true, *this; }
  Field& as(TextForm what, std::size_t code_points) { return form = what, longest = code_points, *this; }
  Field& at_most(std::size_t count) { return most = count, *this; }
  Field& keyed_by(IdForm what) { return ids = what, *this; }
  Field& to(std::vector<std::string_view> collections) { return targets = std::move(collections), *this; }
  Field& to_part(std::vector<PartKind> kinds) { return targets = {"parts"}, part_kinds = std::move(kinds), *this; }
};

/// What one struct is in the file.
struct Record {
  std::string_view name;  ///< the struct's name, e.g. "Zone"; the schema's $defs use it
  std::string_view meaning;
  std::vector<Field> fields;
  std::size_t size = 0;          ///< sizeof the struct
  std::optional<Origin> origin;  ///< of the plain numbers inside, where they state none (rulebooks: envelope)

  /// The field of a key; null where there is none. Cost: linear in the fields.
  const Field* find(std::string_view key) const;
};

/// The record of a struct; specialised in the definitions_*.cpp.
template <class T>
const Record& record_of();

// ---- From member pointers to fields --------------------------------------------------------------------------------

template <class T>
struct MemberPointer;
template <class Owner, class Member>
struct MemberPointer<Member Owner::*> {
  using owner = Owner;
  using member = Member;
};

template <class T>
struct WordHolder {
  static constexpr bool holds = false;
};
template <class E>
struct WordHolder<Word<E>> {
  static constexpr bool holds = true;
  using type = E;
  static std::optional<E>& value(Word<E>& word) { return word.value; }
};
template <class E>
struct WordHolder<std::optional<E>> {
  static constexpr bool holds = std::is_enum_v<E>;
  using type = E;
  static std::optional<E>& value(std::optional<E>& word) { return word; }
};

template <class Holder>
const WordAccess* word_access() {
  using E = typename WordHolder<Holder>::type;
  static const WordAccess access = {Words<E>::all.data(), Words<E>::all.size(),
                                    [](const void* member) -> std::optional<std::size_t> {
                                      const auto& value =
                                          WordHolder<Holder>::value(*static_cast<Holder*>(const_cast<void*>(member)));
                                      return value ? std::optional(static_cast<std::size_t>(*value)) : std::nullopt;
                                    },
                                    [](void* member, std::size_t word) {
                                      WordHolder<Holder>::value(*static_cast<Holder*>(member)) = static_cast<E>(word);
                                    }};
  return &access;
}

using Visit = std::function<void(const std::string& id, const void* object)>;

template <class T>
struct Nested : std::false_type {};
template <class T>
struct Nested<Map<T>> : std::true_type {
  using inner = T;
  static constexpr Shape shape = Shape::map;
  static std::size_t size(const void* m) { return static_cast<const Map<T>*>(m)->size(); }
  static void* add(void* m, const std::string& id) { return &(*static_cast<Map<T>*>(m))[id]; }
  static void each(const void* m, const Visit& visit) {
    for (const auto& [id, object] : *static_cast<const Map<T>*>(m)) visit(id, &object);
  }
  static void drop(void* m, const std::string& id) { static_cast<Map<T>*>(m)->erase(id); }
};
template <class T>
struct Nested<std::vector<T>> : std::true_type {
  using inner = T;
  static constexpr Shape shape = Shape::list;
  static std::size_t size(const void* m) { return static_cast<const std::vector<T>*>(m)->size(); }
  static void* add(void* m, const std::string&) { return &static_cast<std::vector<T>*>(m)->emplace_back(); }
  static void each(const void* m, const Visit& visit) {
    std::size_t index = 0;
    for (const T& object : *static_cast<const std::vector<T>*>(m)) visit(std::to_string(index++), &object);
  }
  static void drop(void*, const std::string&) {}
};
template <class T>
struct Nested<std::optional<T>> : std::true_type {
  using inner = T;
  static constexpr Shape shape = Shape::optional_record;
  static std::size_t size(const void* m) { return static_cast<const std::optional<T>*>(m)->has_value() ? 1 : 0; }
  static void* add(void* m, const std::string&) { return &static_cast<std::optional<T>*>(m)->emplace(); }
  static void each(const void* m, const Visit& visit) {
    const auto& object = *static_cast<const std::optional<T>*>(m);
    if (object) visit("", &*object);
  }
  static void drop(void*, const std::string&) {}
};

template <class T>
constexpr Shape shape_of() {
  if constexpr (std::is_same_v<T, Value>)
    return Shape::number;
  else if constexpr (std::is_same_v<T, Count>)
    return Shape::count;
  else if constexpr (std::is_same_v<T, long long>)
    return Shape::whole;
  else if constexpr (std::is_same_v<T, Flag>)
    return Shape::flag;
  else if constexpr (std::is_same_v<T, std::string>)
    return Shape::text;
  else if constexpr (std::is_same_v<T, Ref>)
    return Shape::reference;
  else if constexpr (std::is_same_v<T, std::vector<Ref>>)
    return Shape::references;
  else if constexpr (WordHolder<T>::holds)
    return Shape::word;
  else if constexpr (Nested<T>::value)
    return Nested<T>::shape;
  else
    return Shape::record;
}

template <class T>
concept KeepsPointer = requires(T& member) {
  { member.pointer } -> std::same_as<std::string&>;
};

/// The field of a member, with everything that follows from its type; `key` must be the member's name.
template <auto Member>
Field field(std::string_view key) {
  using Owner = typename MemberPointer<decltype(Member)>::owner;
  using T = typename MemberPointer<decltype(Member)>::member;
  Field out;
  out.key = key;
  out.shape = shape_of<T>();
  out.size = sizeof(T);
  out.alignment = alignof(T);
  out.member = [](void* object) -> void* { return &(static_cast<Owner*>(object)->*Member); };
  if constexpr (KeepsPointer<T>) out.pointer = [](void* member) { return &static_cast<T*>(member)->pointer; };
  if constexpr (shape_of<T>() == Shape::word) out.words = word_access<T>();
  if constexpr (shape_of<T>() == Shape::record) out.record = &record_of<T>;
  if constexpr (shape_of<T>() == Shape::map || shape_of<T>() == Shape::list ||
                shape_of<T>() == Shape::optional_record) {
    static const NestedAccess access = {Nested<T>::size, Nested<T>::add, Nested<T>::each, Nested<T>::drop};
    out.nested = &access;
    out.record = &record_of<typename Nested<T>::inner>;
  }
  return out;
}

}  // namespace zoneproof::site
