#include "book/base64.hpp"

#include <array>
#include <cstdint>

namespace zoneproof::book {

namespace {

constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
constexpr std::uint8_t kNoLetter = 255;

std::array<std::uint8_t, 256> values_of_letters() {
  std::array<std::uint8_t, 256> values{};
  values.fill(kNoLetter);
  for (std::size_t i = 0; i < kLetters.size(); ++i) {
    values[static_cast<unsigned char>(kLetters[i])] = static_cast<std::uint8_t>(i);
  }
  return values;
}

std::uint32_t byte_at(std::string_view bytes, std::size_t at) {
  return at < bytes.size() ? static_cast<unsigned char>(bytes[at]) : 0U;
}

std::size_t padding_of(std::string_view text) {
  if (text.empty() || text.back() != '=') return 0;
  return text[text.size() - 2] == '=' ? 2 : 1;
}

}  // namespace

std::string base64(std::string_view bytes) {
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::uint32_t three = byte_at(bytes, at) << 16U | byte_at(bytes, at + 1) << 8U | byte_at(bytes, at + 2);
    for (std::size_t letter = 0; letter < 4; ++letter) {
      const bool padding = at + letter > bytes.size();
      out.push_back(padding ? '=' : kLetters[three >> (18U - 6U * letter) & 63U]);
    }
  }
  return out;
}

std::optional<std::string> from_base64(std::string_view text) {
  static const std::array<std::uint8_t, 256> values = values_of_letters();
  if (text.size() % 4 != 0) return std::nullopt;
  const std::size_t padding = padding_of(text);
  std::string out;
  out.reserve(text.size() / 4 * 3);
  std::uint32_t four = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const bool padded = at + padding >= text.size();
    const std::uint8_t value = padded ? std::uint8_t{0} : values[static_cast<unsigned char>(text[at])];
    if (value == kNoLetter) return std::nullopt;
    four = four << 6U | value;
    if (at % 4 != 3) continue;
    for (const unsigned shift : {16U, 8U, 0U}) out.push_back(static_cast<char>(four >> shift & 255U));
    four = 0;
  }
  // What stands behind the last byte must be nothing, or two texts would be the same bytes.
  for (std::size_t i = 0; i < padding; ++i) {
    if (out.back() != '\0') return std::nullopt;
    out.pop_back();
  }
  return out;
}

}  // namespace zoneproof::book
