#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace zoneproof::server {

struct ZipEntry {
  std::string name;  ///< with '/' between folders, UTF-8
  std::string_view bytes;
};

/// An archive as PKWARE's APPNOTE.TXT 6.3 describes it: deflated where that saves something, no time of day (every
/// entry of 1980-01-01), so that the same files are the same bytes. Below 4 GB in all and 65535 entries; throws
/// std::length_error beyond.
std::string zip(const std::vector<ZipEntry>& entries);

/// The text as gzip (RFC 1952).
std::string gzip(std::string_view bytes);

}  // namespace zoneproof::server
