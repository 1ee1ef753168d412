#pragma once
#include <string>

namespace zoneproof::server {

/// A text as a QR code (ISO/IEC 18004), as an SVG element that scales, with its quiet zone.
std::string qr_svg(const std::string& says);

}  // namespace zoneproof::server
