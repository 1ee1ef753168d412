#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/store.hpp"

/// Files on the disk under their SHA-256: `files/ab/cdef...`. What they are is in the table `files`.
namespace zoneproof::book {

/// The longest file that is kept, in bytes: a picture or a plan, no film.
inline constexpr std::size_t kLongestFile = std::size_t{256} << 20U;

std::string file_path(const Store& store, const std::string& sha256);

/// Writes the bytes, unless they are there already and whole. Nothing on success, else what stood in the way.
std::optional<Message> save_bytes(const Store& store, const std::string& sha256, std::string_view bytes);

/// The bytes, held against the SHA-256.
Answered<std::string> bytes_of(const Store& store, const std::string& sha256);

std::optional<FileEntry> file_row(Store& store, const std::string& sha256);
std::vector<FileEntry> file_rows(Store& store);

}  // namespace zoneproof::book
