#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace zoneproof {

/// SHA-256 (FIPS 180-4) of a text in memory. Own code, so that command and browser compute the same names for
/// the same content from one source (docs/decisions/004-own-sha256.md). Not for passwords.
std::array<std::uint8_t, 32> sha256(std::string_view bytes);

/// The digest as 64 lower-case hexadecimal digits.
std::string sha256_hex(std::string_view bytes);

}  // namespace zoneproof
