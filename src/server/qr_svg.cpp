#include "server/qr_svg.hpp"

#include <fmt/format.h>

#include <qrcodegen.hpp>

namespace zoneproof::server {

namespace {

constexpr int kQuiet = 4;  // modules (ISO/IEC 18004 section 9.1)

}  // namespace

std::string qr_svg(const std::string& says) {
  const auto code = qrcodegen::QrCode::encodeText(says.c_str(), qrcodegen::QrCode::Ecc::MEDIUM);
  std::string path;
  for (int y = 0; y < code.getSize(); ++y)
    for (int x = 0; x < code.getSize(); ++x)
      if (code.getModule(x, y)) path += fmt::format("M{} {}h1v1h-1z", x + kQuiet, y + kQuiet);
  const int side = code.getSize() + 2 * kQuiet;
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {0}\" role=\"img\" shape-rendering=\"crispEdges\">"
      "<path fill=\"#000000\" d=\"{1}\"/></svg>",
      side, path);
}

}  // namespace zoneproof::server
