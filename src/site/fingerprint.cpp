#include "site/fingerprint.hpp"

#include <cstring>
#include <string>
#include <vector>

#include "base/sha256.hpp"
#include "site/field.hpp"

namespace zoneproof::site {

namespace {

/// Writes a site into bytes from which it could be read back: every text and list tells its length first.
class Bytes {
 public:
  void record(const Record& record, const void* object) {
    for (const Field& field : record.fields) member(field, field.member_of(object));
  }
  const std::string& all() const { return bytes_; }

 private:
  template <class T>
  static const T& as(const void* member) {
    return *static_cast<const T*>(member);
  }

  template <class Plain>
  void plain(const Plain& value) {
    char raw[sizeof(Plain)];
    std::memcpy(raw, &value, sizeof(Plain));
    bytes_.append(raw, sizeof(Plain));
  }
  void text(const std::string& value) {
    plain(value.size());
    bytes_.append(value);
  }
  template <class Plain>
  void maybe(const std::optional<Plain>& value) {
    plain(value.has_value());
    if (value) plain(*value);
  }

  void number(const Value& value) {
    plain(value.state);
    plain(value.origin);
    maybe(value.stated_origin);
    text(value.note);
    if (!value.known()) return;
    plain(value.spread);
    for (const double part : {value.nominal, value.low, value.high, value.stated_plus, value.stated_minus}) plain(part);
    maybe(value.tempco_ppm_K);
  }

  void reference(const Ref& reference) {
    text(reference.id);
    text(reference.pointer);
  }

  void nested(const Field& field, const void* member) {
    plain(field.nested->size(member));
    field.nested->each(member, [&](const std::string& id, const void* object) {
      text(id);
      record(field.record(), object);
    });
  }

  void member(const Field& field, const void* member) {
    switch (field.shape) {
      case Shape::number: number(as<Value>(member)); break;
      case Shape::count: maybe(as<Count>(member).value); break;
      case Shape::whole: plain(as<long long>(member)); break;
      case Shape::flag: maybe(as<Flag>(member).value); break;
      case Shape::text: text(as<std::string>(member)); break;
      case Shape::word: maybe(field.words->get(member)); break;
      case Shape::reference: text(as<Ref>(member).id); break;
      case Shape::references: {
        const auto& all = as<std::vector<Ref>>(member);
        plain(all.size());
        for (const Ref& one : all) reference(one);
        break;
      }
      case Shape::record: record(field.record(), member); return;
      default: nested(field, member); return;
    }
    if (field.pointer != nullptr) text(*field.pointer(const_cast<void*>(member)));
  }

  std::string bytes_;
};

}  // namespace

Fingerprint fingerprint(const Site& site) {
  Bytes bytes;
  bytes.record(record_of<Site>(), &site);
  return sha256(bytes.all());
}

}  // namespace zoneproof::site
