#include "site/resistor_mark.hpp"

#include <array>
#include <cstdlib>
#include <string>

namespace zoneproof::site {

namespace {

struct Letter {
  char letter;
  double meaning;
};

// Powers of ten.
constexpr std::array<Letter, 5> kMultipliers = {{{'R', 0}, {'K', 3}, {'k', 3}, {'M', 6}, {'G', 9}}};
// IEC 60062, tolerance of resistance in percent either way.
constexpr std::array<Letter, 9> kTolerances = {
    {{'W', 0.05}, {'B', 0.1}, {'C', 0.25}, {'D', 0.5}, {'F', 1.0}, {'G', 2.0}, {'J', 5.0}, {'K', 10.0}, {'M', 20.0}}};

template <std::size_t N>
std::optional<double> meaning_of(char letter, const std::array<Letter, N>& letters) {
  for (const Letter& one : letters) {
    if (one.letter == letter) return one.meaning;
  }
  return std::nullopt;
}

bool digit(char letter) { return letter >= '0' && letter <= '9'; }

/// Digits from `at` on; `at` moves behind them.
std::string digits(std::string_view text, std::size_t& at) {
  std::string out;
  while (at < text.size() && digit(text[at])) out += text[at++];
  return out;
}

}  // namespace

std::optional<ResistorMark> resistor_mark(std::string_view text) {
  if (text.size() > 12) return std::nullopt;
  std::size_t at = 0;
  const std::string whole = digits(text, at);
  if (at == text.size()) return std::nullopt;
  const auto multiplier = meaning_of(text[at++], kMultipliers);
  const std::string part = digits(text, at);
  if (!multiplier || (whole.empty() && part.empty())) return std::nullopt;
  ResistorMark mark;
  // One decimal text, so that 5K6 is the double nearest to 5600 and not 5 * 1000 + 6 * 100 with its roundings.
  const auto exponent = std::to_string(static_cast<int>(*multiplier));
  mark.ohm = std::strtod(("0" + whole + "." + part + "e" + exponent).c_str(), nullptr);
  if (at == text.size()) return mark;
  mark.tolerance_pct = meaning_of(text[at++], kTolerances);
  if (!mark.tolerance_pct || at != text.size()) return std::nullopt;
  return mark;
}

}  // namespace zoneproof::site
