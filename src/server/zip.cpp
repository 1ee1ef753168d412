#include "server/zip.hpp"

#include <zlib.h>

#include <cstdint>
#include <limits>
#include <stdexcept>

namespace zoneproof::server {

namespace {

constexpr std::uint16_t kVersion = 20;      // APPNOTE 4.4.3.2: deflate
constexpr std::uint16_t kUtf8 = 1U << 11U;  // APPNOTE 4.4.4: names are UTF-8
constexpr std::uint16_t kStored = 0, kDeflated = 8;
constexpr std::uint16_t kFirstDay = (1U << 5U) | 1U;  // 1980-01-01
constexpr int kRaw = -15, kGzip = 15 + 16;

void put16(std::string& out, std::uint16_t value) {
  out += static_cast<char>(value & 0xffU);
  out += static_cast<char>(value >> 8U);
}
void put32(std::string& out, std::uint32_t value) {
  put16(out, static_cast<std::uint16_t>(value & 0xffffU));
  put16(out, static_cast<std::uint16_t>(value >> 16U));
}

std::uint32_t size32(std::size_t size) {
  if (size > std::numeric_limits<std::uint32_t>::max()) throw std::length_error("zip");
  return static_cast<std::uint32_t>(size);
}

std::string deflated(std::string_view bytes, int window) {
  z_stream stream{};
  if (deflateInit2(&stream, Z_BEST_COMPRESSION, Z_DEFLATED, window, 8, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::runtime_error("deflate");
  std::string out(deflateBound(&stream, bytes.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = size32(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = size32(out.size());
  const int end = deflate(&stream, Z_FINISH);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  if (end != Z_STREAM_END) throw std::runtime_error("deflate");
  return out;
}

struct Packed {
  const ZipEntry* entry = nullptr;
  std::uint16_t method = kStored;
  std::uint32_t crc = 0, packed_size = 0, offset = 0;
};

/// What stands in an entry's own head and in the directory alike.
void put_common(std::string& out, const Packed& packed) {
  put16(out, kVersion);
  put16(out, kUtf8);
  put16(out, packed.method);
  put16(out, 0);
  put16(out, kFirstDay);
  put32(out, packed.crc);
  put32(out, packed.packed_size);
  put32(out, size32(packed.entry->bytes.size()));
  put16(out, static_cast<std::uint16_t>(packed.entry->name.size()));
  put16(out, 0);
}

Packed put_entry(std::string& out, const ZipEntry& entry) {
  const std::string small = deflated(entry.bytes, kRaw);
  const bool pays = small.size() < entry.bytes.size();
  const std::string_view data = pays ? std::string_view(small) : entry.bytes;
  Packed packed{&entry, pays ? kDeflated : kStored, 0, size32(data.size()), size32(out.size())};
  packed.crc = static_cast<std::uint32_t>(
      crc32(0, reinterpret_cast<const Bytef*>(entry.bytes.data()), size32(entry.bytes.size())));
  put32(out, 0x04034b50);
  put_common(out, packed);
  out += entry.name;
  out += data;
  return packed;
}

void put_directory(std::string& out, const std::vector<Packed>& all) {
  const std::uint32_t begin = size32(out.size());
  for (const Packed& packed : all) {
    put32(out, 0x02014b50);
    put16(out, kVersion);
    put_common(out, packed);
    put16(out, 0);
    put16(out, 0);
    put16(out, 0);
    put32(out, 0);
    put32(out, packed.offset);
    out += packed.entry->name;
  }
  const std::uint32_t size = size32(out.size()) - begin;
  put32(out, 0x06054b50);
  put32(out, 0);
  put16(out, static_cast<std::uint16_t>(all.size()));
  put16(out, static_cast<std::uint16_t>(all.size()));
  put32(out, size);
  put32(out, begin);
  put16(out, 0);
}

}  // namespace

std::string zip(const std::vector<ZipEntry>& entries) {
  if (entries.size() > std::numeric_limits<std::uint16_t>::max()) throw std::length_error("zip");
  std::string out;
  std::vector<Packed> all;
  for (const ZipEntry& entry : entries) all.push_back(put_entry(out, entry));
  put_directory(out, all);
  return out;
}

std::string gzip(std::string_view bytes) { return deflated(bytes, kGzip); }

}  // namespace zoneproof::server
