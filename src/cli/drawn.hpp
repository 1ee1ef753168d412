#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "cli/screen.hpp"

namespace zoneproof::cli {

/// Drawings that were written, or why they were not.
struct Drawn {
  std::vector<std::string> paths;
  std::vector<Message> problems;
  std::vector<Message> notes;  ///< what is no problem and to be told: letters without a font
};

/// The paths, below what was told before.
void print_drawn(const Drawn& drawn, Screen& screen);

}  // namespace zoneproof::cli
