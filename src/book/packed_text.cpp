#include "book/packed_text.hpp"

#include <zstd.h>

#include <algorithm>
#include <memory>
#include <stdexcept>

#include "base/json_text.hpp"
#include "book/base64.hpp"

namespace zoneproof::book {

namespace {

constexpr int kLevel = 6;
/// The window must reach from the end of the text to the beginning of the one before it: twice the longest text.
constexpr int kLeastWindow = 17, kMostWindow = 27;
static_assert((std::size_t{1} << static_cast<unsigned>(kMostWindow)) >= 2 * kLargestJsonText);

int window_for(std::size_t bytes) {
  int window = kLeastWindow;
  while (window < kMostWindow && (std::size_t{1} << static_cast<unsigned>(window)) < bytes) ++window;
  return window;
}

std::size_t sure(std::size_t result) {
  if (ZSTD_isError(result) != 0) throw std::runtime_error(std::string("zstd: ") + ZSTD_getErrorName(result));
  return result;
}

}  // namespace

std::string packed(std::string_view text, std::string_view before) {
  const std::unique_ptr<ZSTD_CCtx, decltype(&ZSTD_freeCCtx)> context(ZSTD_createCCtx(), ZSTD_freeCCtx);
  if (context == nullptr) throw std::bad_alloc();
  sure(ZSTD_CCtx_setParameter(context.get(), ZSTD_c_compressionLevel, kLevel));
  sure(ZSTD_CCtx_setParameter(context.get(), ZSTD_c_windowLog, window_for(text.size() + before.size())));
  sure(ZSTD_CCtx_setParameter(context.get(), ZSTD_c_enableLongDistanceMatching, 1));
  sure(ZSTD_CCtx_setParameter(context.get(), ZSTD_c_checksumFlag, 1));
  if (!before.empty()) sure(ZSTD_CCtx_refPrefix(context.get(), before.data(), before.size()));
  std::string out(ZSTD_compressBound(text.size()), '\0');
  out.resize(sure(ZSTD_compress2(context.get(), out.data(), out.size(), text.data(), text.size())));
  return base64(out);
}

std::optional<std::string> unpacked(std::string_view packed, std::string_view before) {
  const std::optional<std::string> bytes = from_base64(packed);
  if (!bytes) return std::nullopt;
  const unsigned long long size = ZSTD_getFrameContentSize(bytes->data(), bytes->size());
  if (size == ZSTD_CONTENTSIZE_ERROR || size == ZSTD_CONTENTSIZE_UNKNOWN || size > kLargestJsonText) {
    return std::nullopt;
  }
  const std::unique_ptr<ZSTD_DCtx, decltype(&ZSTD_freeDCtx)> context(ZSTD_createDCtx(), ZSTD_freeDCtx);
  if (context == nullptr) throw std::bad_alloc();
  sure(ZSTD_DCtx_setParameter(context.get(), ZSTD_d_windowLogMax, kMostWindow));
  if (!before.empty()) sure(ZSTD_DCtx_refPrefix(context.get(), before.data(), before.size()));
  std::string out(static_cast<std::size_t>(size), '\0');
  const std::size_t written = ZSTD_decompressDCtx(context.get(), out.data(), out.size(), bytes->data(), bytes->size());
  if (ZSTD_isError(written) != 0 || written != out.size()) return std::nullopt;
  return out;
}

}  // namespace zoneproof::book
