#include "generated.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

namespace zoneproof::site {

namespace {

class Generator {
 public:
  explicit Generator(std::uint64_t seed) : random_(seed) {}

  void record(const Record& record, void* object) {
    for (const Field& field : record.fields) fill(field, field.member(object));
  }

 private:
  int below(int n) { return static_cast<int>(random_() % static_cast<std::uint64_t>(n)); }
  bool one_in(int n) { return below(n) == 0; }
  double unit() { return std::generate_canonical<double, 53>(random_); }

  /// A double of the field's range: its ends, round numbers, awkward digits, many magnitudes.
  double number(const Field& field) {
    const double span = field.high - field.low;
    switch (below(5)) {
      case 0: return one_in(2) ? field.low : field.high;
      case 1: return std::clamp(std::round(field.low + unit() * std::min(span, 1000.0)), field.low, field.high);
      case 2: return std::clamp(field.low + span * std::pow(10.0, -12 * unit()), field.low, field.high);
      case 3: return std::clamp(0.1 * below(1000), field.low, field.high);
      default: return std::clamp(field.low + unit() * span, field.low, field.high);
    }
  }

  std::string text(std::size_t longest, bool lines) {
    static const char* const pieces[] = {"a", "Z", "7",  " ", "\"", "\\",  "/",  "~",
                                         "é", "Ω", "中", "😀", "{",  "<b>", "%s", "'"};
    std::string out;
    const int length = below(static_cast<int>(std::min<std::size_t>(longest / 3, 30)) + 1);  // pieces of up to 3
    for (int i = 0; i < length; ++i) out += lines && one_in(8) ? "\n" : pieces[below(16)];
    if (out.find_first_not_of(" \n") == std::string::npos) out.clear();  // blanks alone are refused
    return out;
  }

  std::string id(IdForm form = IdForm::object) {
    static const std::string_view letters = "abcdefghijklmnopqrstuvwxyz0123456789_ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    std::string out(1, letters[static_cast<std::size_t>(below(26))]);
    for (int i = below(form == IdForm::entry ? 80 : 40); i > 0; --i) {
      out += letters[static_cast<std::size_t>(below(form == IdForm::entry ? 63 : 37))];
    }
    return out == "none" ? "none_" : out;
  }

  std::string any_id() { return one_in(2) ? std::string(1, static_cast<char>('a' + below(4))) : id(); }

  void value(const Field& field, Value& out) {
    if (one_in(3)) out.note = text(30, true);
    if (one_in(4)) out.stated_origin = static_cast<Origin>(below(6));
    if (one_in(6)) return;
    if (field.may_be_none && one_in(4)) {
      out.state = Value::State::none;
      return;
    }
    out.state = Value::State::known;
    out.nominal = out.low = out.high = number(field);
    if (one_in(4)) out.tempco_ppm_K = below(2000) - 1000 + unit();
    spread(field, out);
  }

  /// A tolerance, where one of the kind drawn stays within the field's range.
  void spread(const Field& field, Value& out) {
    const Value plain = out;
    out.spread = static_cast<Spread>(below(5));
    if (out.spread == Spread::plus_minus) {
      out.stated_plus = unit() * std::fabs(out.nominal) * 0.1;
      out.stated_minus = one_in(3) ? 0.0 : unit();
      out.low = out.nominal - out.stated_minus;
      out.high = out.nominal + out.stated_plus;
    } else if (out.spread == Spread::tolerance_pct) {
      out.stated_plus = below(1000) / 10.0;
      const double half = std::fabs(out.nominal) * out.stated_plus / 100;
      out.low = out.nominal - half;
      out.high = out.nominal + half;
    } else if (out.spread == Spread::min_max || out.spread == Spread::range_only) {
      out.low = std::min(out.nominal, number(field));
      out.high = std::max(out.nominal, number(field));
      if (out.spread == Spread::range_only) out.nominal = out.low + (out.high - out.low) / 2;
    }
    if (out.low < field.low || out.high > field.high) out = plain;
  }

  void references(const Field& field, std::vector<Ref>& out) {
    std::set<std::string> seen;
    for (int i = below(std::min(4, static_cast<int>(field.most))); i > 0; --i) {
      const std::string one = any_id();
      if (seen.insert(one).second) out.push_back({one, ""});
    }
  }

  std::string text_of(const Field& field) {
    switch (field.form) {
      case TextForm::sha256: return std::string(64, static_cast<char>('0' + below(10)));
      case TextForm::identifier: return any_id();
      case TextForm::ip_address: return "192.0.2." + std::to_string(below(256));
      case TextForm::ip_network: return "2001:db8:" + std::to_string(below(10)) + "::/48";
      case TextForm::core_colours: return one_in(2) ? "GNYE" : "BU+WH";
      default: return text(field.longest, field.form == TextForm::lines);
    }
  }

  void fill(const Field& field, void* member) {
    const bool given = field.required || !one_in(4);
    switch (field.shape) {
      case Shape::number:
        do {
          *static_cast<Value*>(member) = Value{};
          if (given) value(field, *static_cast<Value*>(member));
        } while (field.required && !static_cast<Value*>(member)->known());
        break;
      case Shape::count:
        if (given) static_cast<Count*>(member)->value = static_cast<long long>(std::floor(number(field)));
        break;
      case Shape::whole: *static_cast<long long*>(member) = static_cast<long long>(std::floor(number(field))); break;
      case Shape::flag:
        if (given) static_cast<Flag*>(member)->value = one_in(2);
        break;
      case Shape::text:
        if (given) *static_cast<std::string*>(member) = text_of(field);
        if (field.required && static_cast<std::string*>(member)->empty()) *static_cast<std::string*>(member) = "x";
        break;
      case Shape::word:
        if (given) field.words->set(member, static_cast<std::size_t>(below(static_cast<int>(field.words->count))));
        break;
      case Shape::reference:
        if (given) static_cast<Ref*>(member)->id = field.may_be_none && one_in(4) ? "none" : any_id();
        break;
      case Shape::references: references(field, *static_cast<std::vector<Ref>*>(member)); break;
      case Shape::record: record(field.record(), member); break;
      case Shape::optional_record:
        if (one_in(3)) record(field.record(), field.nested->add(member, ""));
        break;
      default:
        for (int i = below(4); i > 0; --i) record(field.record(), field.nested->add(member, id(field.ids)));
    }
  }

  std::mt19937_64 random_;
};

}  // namespace

void fill_from_definitions(const Record& record, void* object, std::uint64_t seed) {
  Generator(seed).record(record, object);
}

}  // namespace zoneproof::site
