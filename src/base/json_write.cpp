#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/json_text.hpp"
#include "base/utf8.hpp"

namespace zoneproof {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kColumns = 120;

/// ECMA-262 Number::toString, radix 10: plain digits from 1e-6 up to 1e21, else one digit before the point and an
/// exponent. The digits themselves are the shortest that read back as the same double.
std::string ecmascript_number(double value) {
  if (!std::isfinite(value)) throw std::logic_error("a number to be written is not finite");
  if (value == 0.0) return "0";
  const std::string sign = value < 0 ? "-" : "";
  const std::string shortest = fmt::format("{}", std::fabs(value));  // "5600", "0.05", "1.5e-07" or "1e+21"
  const std::size_t e = shortest.find('e');
  int exponent = e == std::string::npos ? 0 : std::stoi(shortest.substr(e + 1));
  std::string digits = shortest.substr(0, e);
  const std::size_t point = digits.find('.');
  if (point != std::string::npos) {
    exponent -= static_cast<int>(digits.size() - point - 1);
    digits.erase(point, 1);
  }
  digits.erase(0, digits.find_first_not_of('0'));
  const std::size_t last = digits.find_last_not_of('0');
  exponent += static_cast<int>(digits.size() - last - 1);
  digits.erase(last + 1);

  const int count = static_cast<int>(digits.size());
  const int before = count + exponent;  // digits before the decimal point
  if (exponent >= 0 && before <= 21) return sign + digits + std::string(static_cast<std::size_t>(exponent), '0');
  if (before > 0 && before <= 21) return sign + digits.insert(static_cast<std::size_t>(before), ".");
  if (before > -6 && before <= 0) return sign + "0." + std::string(static_cast<std::size_t>(-before), '0') + digits;
  if (count > 1) digits.insert(1, ".");
  return fmt::format("{}{}e{}{}", sign, digits, before > 0 ? "+" : "-", std::abs(before - 1));
}

std::string quoted(const std::string& text) {
  if (first_invalid_utf8(text) != std::string_view::npos) throw std::logic_error("a text to be written is no UTF-8");
  std::string out = "\"";
  for (const char c : text) {
    switch (c) {
      case '"': out += "\\\""; break;
      case '\\': out += "\\\\"; break;
      case '\b': out += "\\b"; break;
      case '\f': out += "\\f"; break;
      case '\n': out += "\\n"; break;
      case '\r': out += "\\r"; break;
      case '\t': out += "\\t"; break;
      default:
        if (static_cast<unsigned char>(c) < 0x20) {
          out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        } else {
          out += c;
        }
    }
  }
  return out + '"';
}

std::string scalar(const Json& value) {
  if (value.is_string()) return quoted(value.get_ref<const std::string&>());
  if (value.is_number_float()) return ecmascript_number(value.get<double>());
  return value.dump();  // null, true, false and integers: one way to write each
}

/// A member or an item: "key": or nothing, and the value.
struct Entry {
  std::string name;
  const Json* value;
};

std::vector<Entry> entries_of(const Json& container) {
  std::vector<Entry> entries;
  if (container.is_array()) {
    for (const Json& item : container) entries.push_back({"", &item});
    return entries;
  }
  std::vector<std::pair<std::string_view, const Json*>> members;
  for (const auto& member : container.items()) members.emplace_back(member.key(), &member.value());
  std::sort(members.begin(), members.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  for (const auto& [key, value] : members) entries.push_back({quoted(std::string(key)) + ": ", value});
  return entries;
}

/// The container on one line; empty where it holds another container or does not fit `room` columns.
std::string one_line(const std::vector<Entry>& entries, char open, char close, std::size_t room) {
  std::string line(1, open);
  for (const Entry& entry : entries) {
    if (entry.value->is_structured() && !entry.value->empty()) return "";
    if (line.size() > 1) line += ", ";
    line += entry.name;
    line += entry.value->is_array() ? "[]" : entry.value->is_object() ? "{}" : scalar(*entry.value);
    if (line.size() > 4 * room) return "";  // a code point has four bytes at most: longer never fits
  }
  line += close;
  return utf8_length(line) <= room ? line : "";
}

/// `used`: columns of the line that are taken before the value, and one for a comma behind it.
void write(const Json& value, std::size_t level, std::size_t used, std::string& out) {
  if (!value.is_structured()) {
    out += scalar(value);
    return;
  }
  const char open = value.is_array() ? '[' : '{';
  const char close = value.is_array() ? ']' : '}';
  const std::vector<Entry> entries = entries_of(value);
  const std::string line = used < kColumns ? one_line(entries, open, close, kColumns - used) : "";
  if (!line.empty() || entries.empty()) {
    out += entries.empty() ? std::string{open, close} : line;
    return;
  }
  out += open;
  const std::string indent(2 * (level + 1), ' ');
  for (std::size_t i = 0; i < entries.size(); ++i) {
    out += i == 0 ? "\n" : ",\n";
    out += indent + entries[i].name;
    write(*entries[i].value, level + 1, indent.size() + utf8_length(entries[i].name) + 1, out);
  }
  out += "\n" + std::string(2 * level, ' ') + close;
}

}  // namespace

std::string write_json(const Json& value) {
  std::string out;
  write(value, 0, 0, out);
  out += '\n';
  return out;
}

bool same_json(const Json& a, const Json& b) {
  if (a.is_structured() != b.is_structured()) return false;
  return write_json(a) == write_json(b);
}

}  // namespace zoneproof
