#include "drawing/png.hpp"

#include <cairo/cairo.h>
#include <fmt/format.h>
#include <png.h>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <memory>
#include <stdexcept>
#include <vector>

#include "drawing/closing.hpp"
#include "drawing/faults.hpp"
#include "drawing/painter.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kInch_mm = 25.4, kLowest = 72.0, kHighest = 1200.0;

using Surface = std::unique_ptr<cairo_surface_t, Closing>;

Surface painted(const Sheet& sheet, const Fonts& fonts, Palette palette, double dots_per_mm) {
  const int width = static_cast<int>(std::lround(sheet.format.width_mm * dots_per_mm));
  const int height = static_cast<int>(std::lround(sheet.format.height_mm * dots_per_mm));
  Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
  const std::unique_ptr<cairo_t, Closing> cairo(cairo_create(surface.get()));
  cairo_scale(cairo.get(), width / sheet.format.width_mm, height / sheet.format.height_mm);
  paint(cairo.get(), fonts, sheet, palette, {});
  if (const auto status = cairo_status(cairo.get()); status != CAIRO_STATUS_SUCCESS) {
    throw std::runtime_error(fmt::format("PNG: {}", cairo_status_to_string(status)));
  }
  cairo_surface_flush(surface.get());
  return surface;
}

[[noreturn]] void fail(png_structp, png_const_charp words) { throw std::runtime_error(fmt::format("PNG: {}", words)); }

void append(png_structp file, png_bytep data, png_size_t size) {
  static_cast<std::string*>(png_get_io_ptr(file))->append(reinterpret_cast<const char*>(data), size);
}

/// A file of libpng that is being written, with what it holds in memory.
struct PngFile {
  png_structp file = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, fail, nullptr);
  png_infop info = file ? png_create_info_struct(file) : nullptr;
  PngFile() = default;
  PngFile(const PngFile&) = delete;
  PngFile& operator=(const PngFile&) = delete;
  ~PngFile() { png_destroy_write_struct(&file, &info); }
};

void set_title(const PngFile& png, std::string title) {
  std::string key = "Title";
  png_text text{};
  text.compression = PNG_ITXT_COMPRESSION_NONE;
  text.key = key.data();
  text.text = title.data();
  text.itxt_length = title.size();
  png_set_text(png.file, png.info, &text, 1);
}

/// Rows of Cairo hold a pixel as a 32-bit number 0x00RRGGBB.
std::string encoded(cairo_surface_t* surface, const std::string& title, double dots_per_mm) {
  const int width = cairo_image_surface_get_width(surface), height = cairo_image_surface_get_height(surface);
  const int stride = cairo_image_surface_get_stride(surface);
  std::string bytes;
  const PngFile png;
  png_set_write_fn(png.file, &bytes, append, nullptr);
  png_set_IHDR(png.file, png.info, static_cast<png_uint_32>(width), static_cast<png_uint_32>(height), 8,
               PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  const auto per_metre = static_cast<png_uint_32>(std::lround(dots_per_mm * 1000.0));
  png_set_pHYs(png.file, png.info, per_metre, per_metre, PNG_RESOLUTION_METER);
  png_set_sRGB(png.file, png.info, PNG_sRGB_INTENT_PERCEPTUAL);
  set_title(png, title);
  png_write_info(png.file, png.info);
  std::vector<png_byte> row(static_cast<std::size_t>(width) * 3);
  const unsigned char* pixels = cairo_image_surface_get_data(surface);
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      std::uint32_t pixel = 0;
      std::memcpy(&pixel, pixels + static_cast<std::ptrdiff_t>(y) * stride + std::ptrdiff_t{4} * x, sizeof pixel);
      png_byte* target = &row[static_cast<std::size_t>(x) * 3];
      target[0] = static_cast<png_byte>((pixel >> 16) & 0xFF);
      target[1] = static_cast<png_byte>((pixel >> 8) & 0xFF);
      target[2] = static_cast<png_byte>(pixel & 0xFF);
    }
    png_write_row(png.file, row.data());
  }
  png_write_end(png.file, png.info);
  return bytes;
}

}  // namespace

std::string png(const Document& document, std::size_t sheet, const Fonts& fonts, Palette palette,
                double dots_per_inch) {
  require_sound(document);
  if (!(dots_per_inch >= kLowest && dots_per_inch <= kHighest)) {
    throw std::invalid_argument("72 to 1200 dots an inch");
  }
  const Sheet& wanted = document.sheets.at(sheet);
  const double dots_per_mm = dots_per_inch / kInch_mm;
  const Surface surface = painted(wanted, fonts, palette, dots_per_mm);
  return encoded(surface.get(), wanted.name.title, dots_per_mm);
}

}  // namespace zoneproof::drawing
