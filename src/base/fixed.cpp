#include "base/fixed.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace zoneproof {

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "?";
  const std::string text = fmt::format("{:.{}f}", value, std::max(0, decimals));
  const bool nothing = text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos;
  return nothing ? text.substr(1) : text;
}

std::string significant(double value, int digits) {
  if (!std::isfinite(value)) return "?";
  const double rounded = std::strtod(fmt::format("{:.{}e}", value, std::max(1, digits) - 1).c_str(), nullptr);
  if (rounded == 0.0) return "0";
  const int exponent = static_cast<int>(std::floor(std::log10(std::fabs(rounded)) + 1e-12));
  std::string text = fixed(rounded, std::max(0, digits - 1 - exponent));
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace zoneproof
