// zoneproof_make_site ZONES SEED: writes a generated site file to standard output (large_site.hpp).
#include <charconv>
#include <cstdio>
#include <cstring>
#include <optional>

#include "large_site.hpp"

namespace {

template <class Number>
std::optional<Number> read(const char* text) {
  Number number = 0;
  const char* end = text + std::strlen(text);
  const auto [stop, trouble] = std::from_chars(text, end, number);
  return trouble == std::errc() && stop == end ? std::optional(number) : std::nullopt;
}

}  // namespace

int main(int count, char** arguments) {
  const auto zones = count == 3 ? read<unsigned>(arguments[1]) : std::nullopt;
  const auto seed = count == 3 ? read<std::uint64_t>(arguments[2]) : std::nullopt;
  if (!zones || *zones == 0 || !seed) {
    std::fputs("usage: zoneproof_make_site ZONES SEED\n", stderr);
    return 2;
  }
  const std::string text = zoneproof::large::site_text(*zones, *seed);
  return std::fwrite(text.data(), 1, text.size(), stdout) == text.size() ? 0 : 1;
}
