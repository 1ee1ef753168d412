#pragma once
#include <memory>
#include <string>
#include <vector>

#include "base/message.hpp"

namespace zoneproof::drawing {

/// The fonts that come with the program and no others: what the machine has installed, or how its fontconfig is set up,
/// changes nothing. B612 (labels) and Noto Sans (reading, and every letter that B612 lacks: Cyrillic, accented Greek),
/// with Noto Sans Arabic and Hebrew behind. All are under the SIL Open Font License. One instance per thread.
class Fonts {
 public:
  /// The fonts of a folder; none, with a message for each that is missing, where it is not complete. Some milliseconds
  /// the first time; what is given up is kept for the next (fonts.cpp says why).
  static std::unique_ptr<Fonts> open(const std::string& folder, std::vector<Message>& messages);
  ~Fonts();
  Fonts(const Fonts&) = delete;
  Fonts& operator=(const Fonts&) = delete;

  struct Inside;  ///< Pango's own: only for those who measure and paint
  const Inside& inside() const { return *inside_; }

 private:
  class Shelf;
  explicit Fonts(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

/// The folder `fonts` beside the running program.
std::string folder_of_fonts();

/// The names of the files in it.
const std::vector<std::string>& font_files();

}  // namespace zoneproof::drawing
