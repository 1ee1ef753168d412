#pragma once
#include <optional>
#include <string>

#include "drawing/list.hpp"

namespace zoneproof::paper {

/// A QR code of model 2 (ISO/IEC 18004), its modules as one outline: no seams between them, whatever paints it.
struct QrDrawn {
  drawing::Shape shape;  ///< the dark modules
  drawing::Box box;      ///< with the quiet zone of four modules on each side, which nothing may enter
  double module_mm = 0.0;
};

/// How much of a code may be spoilt at least: level M 15 %, level L 7 %; more where that takes no more modules.
enum class QrStrength { medium, low };

/// `says` in a square of `side_mm` with its upper left corner at `at`. It is dark on light in the palettes for paper;
/// on a dark sheet it is reversed, which not every reader takes. Throws std::invalid_argument for a text that no code
/// can hold (more than some 2300 bytes).
QrDrawn qr_code(const std::string& id, const std::string& says, drawing::Point at, double side_mm,
                QrStrength strength = QrStrength::medium);

/// Modules along a side of the code for `says`, quiet zone included: the side divided by it is the size of a module.
/// Nothing for a text that no code can hold.
std::optional<int> qr_modules(const std::string& says, QrStrength strength = QrStrength::medium);

}  // namespace zoneproof::paper
