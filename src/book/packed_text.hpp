#pragma once
#include <optional>
#include <string>
#include <string_view>

/// Texts of revisions made small. Most edits change some bytes of some hundred thousand: a text is compressed with
/// another one before it, which leaves about a hundred bytes of it. Nothing here knows what the text says, so that an
/// old revision can be read whatever has become of the format of sites (docs/decisions/021-the-book.md).
namespace zoneproof::book {

/// The text, compressed (Zstandard, RFC 8878) with `before` as what went before it, as base64. Same input, same text.
std::string packed(std::string_view text, std::string_view before = {});

/// The text again; nothing where it is damaged, where `before` is another one, or where it would be longer than any
/// site may be. Cost: linear in both.
std::optional<std::string> unpacked(std::string_view packed, std::string_view before = {});

}  // namespace zoneproof::book
