#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace zoneproof::book {

/// Bytes as text (RFC 4648 section 4, with padding): SOCI's blobs do not work with both databases, texts do.
std::string base64(std::string_view bytes);

/// The bytes again; nothing where the text is not exactly what base64() makes of some bytes.
std::optional<std::string> from_base64(std::string_view text);

}  // namespace zoneproof::book
