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

/// Line and paragraph separators and the marks that change the direction of reading.
bool is_deceptive(char32_t c) {
  return c == 0x061C || (c >= 0x200B && c <= 0x200F) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2060 && c <= 0x2069) ||
         c == 0xFEFF;
}

}  // namespace

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
    } else if (is_control(step.code_point) || is_deceptive(step.code_point)) {
      out += fmt::format("<U+{:04X}>", static_cast<std::uint32_t>(step.code_point));
    } else {
      out += bytes.substr(at, step.size);
    }
    at += step.size;
  }
  return out;
}

}  // namespace zoneproof
