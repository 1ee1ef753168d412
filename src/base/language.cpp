#include "base/language.hpp"

#include <algorithm>

#include "messages/base.hpp"

namespace zoneproof {

namespace {

constexpr std::string_view kCodes[] = {
#include "messages/languages.inc"
};

thread_local Language spoken = Language::english;

}  // namespace

const std::vector<std::string>& languages() {
  static const std::vector<std::string> codes(std::begin(kCodes), std::end(kCodes));
  return codes;
}

std::optional<Language> language_called(std::string_view code) {
  const auto found = std::find(std::begin(kCodes), std::end(kCodes), code);
  if (found == std::end(kCodes)) return std::nullopt;
  return static_cast<Language>(found - std::begin(kCodes));
}

std::string_view code_of(Language language) { return kCodes[static_cast<std::size_t>(language)]; }

Language spoken_language() noexcept { return spoken; }

SpokenLanguage::SpokenLanguage(Language language) noexcept : before_(spoken) { spoken = language; }

SpokenLanguage::~SpokenLanguage() { spoken = before_; }

std::string with_decimal_sign(std::string digits) {
  const std::size_t point = digits.find('.');
  if (point != std::string::npos) digits.replace(point, 1, text(say::decimal_sign()));
  return digits;
}

}  // namespace zoneproof
