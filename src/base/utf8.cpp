#include "base/utf8.hpp"

#include <fmt/format.h>

namespace zoneproof {

namespace {

struct Lead {
  std::size_t size;
  char32_t bits;
  char32_t smallest;  ///< below this the sequence is overlong
};

Lead lead_of(unsigned char byte) {
  if (byte < 0x80) return {1, byte, 0};
  if (byte >= 0xC2 && byte < 0xE0) return {2, byte & 0x1FU, 0x80};
  if (byte >= 0xE0 && byte < 0xF0) return {3, byte & 0x0FU, 0x800};
  if (byte >= 0xF0 && byte < 0xF5) return {4, byte & 0x07U, 0x10000};
  return {0, 0, 0};
}

bool is_control(char32_t c) { return c < 0x20 || (c >= 0x7F && c < 0xA0); }

/// Line and paragraph separators, the marks that change the direction of reading, operators without a sign, byte order
/// marks.
bool is_deceptive(char32_t c) {
  return c == 0x061C || c == 0x200E || c == 0x200F || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2061 && c <= 0x206F) ||
         c == 0xFEFF;
}

/// The Unicode Standard, section 23.7: never a character, in any version. XML refuses some of them.
bool is_noncharacter(char32_t c) { return (c >= 0xFDD0 && c <= 0xFDEF) || (c & 0xFFFEU) == 0xFFFEU; }

}  // namespace

bool is_hidden(char32_t c) { return is_control(c) || is_deceptive(c) || is_noncharacter(c); }

bool has_no_width(char32_t c) { return (c >= 0x200B && c <= 0x200D) || c == 0x2060; }

bool is_blank(char32_t c) {
  if (has_no_width(c) || (c >= 0x9 && c <= 0xD) || (c >= 0x2000 && c <= 0x200A)) return true;
  for (const char32_t blank :
       {0x20, 0x85, 0xA0, 0x1680, 0x2028, 0x2029, 0x202F, 0x205F, 0x2800, 0x3000, 0x115F, 0x1160, 0x3164, 0xFFA0}) {
    if (c == blank) return true;
  }
  return false;
}

bool only_blanks(std::string_view bytes) {
  for (std::size_t at = 0; at < bytes.size();) {
    const Utf8Step step = utf8_at(bytes, at);
    if (!step.valid || !is_blank(step.code_point)) return false;
    at += step.size;
  }
  return true;
}

Utf8Step utf8_at(std::string_view bytes, std::size_t offset) {
  const Lead lead = lead_of(static_cast<unsigned char>(bytes[offset]));
  if (lead.size == 0 || offset + lead.size > bytes.size()) return {0, 1, false};
  char32_t code_point = lead.bits;
  for (std::size_t i = 1; i < lead.size; ++i) {
    const auto byte = static_cast<unsigned char>(bytes[offset + i]);
    if ((byte & 0xC0U) != 0x80U) return {0, 1, false};
    code_point = (code_point << 6U) | (byte & 0x3FU);
  }
  const bool surrogate = code_point >= 0xD800 && code_point < 0xE000;
  if (code_point < lead.smallest || code_point > 0x10FFFF || surrogate) return {0, 1, false};
  return {code_point, lead.size, true};
}

std::size_t first_invalid_utf8(std::string_view bytes, std::size_t from) {
  while (from < bytes.size()) {
    const Utf8Step step = utf8_at(bytes, from);
    if (!step.valid) return from;
    from += step.size;
  }
  return std::string_view::npos;
}

std::size_t utf8_length(std::string_view bytes) {
  std::size_t count = 0;
  for (std::size_t at = 0; at < bytes.size(); at += utf8_at(bytes, at).size) ++count;
  return count;
}

std::string printable(std::string_view bytes, std::size_t limit) {
  std::string out;
  std::size_t count = 0;
  for (std::size_t at = 0; at < bytes.size(); ++count) {
    if (count == limit) return out + "...";
    const Utf8Step step = utf8_at(bytes, at);
    if (!step.valid) {
      out += fmt::format("<{:02X}>", static_cast<unsigned char>(bytes[at]));
    } else if (is_hidden(step.code_point)) {
      out += fmt::format("<U+{:04X}>", static_cast<std::uint32_t>(step.code_point));
    } else {
      out += bytes.substr(at, step.size);
    }
    at += step.size;
  }
  return out;
}

}  // namespace zoneproof
