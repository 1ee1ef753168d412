#pragma once
#include <iosfwd>
#include <string>
#include <vector>

#include "cli/screen.hpp"

namespace zoneproof::cli {

/// The whole program: runs what the arguments (without the program's name) ask for and returns the exit code.
/// 0 everything asked for is proven, or done; 1 something is thin, broken or unanswered; 2 bad input; 3 own fault, or
/// output that could not be written.
int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err, const Terminal& terminal);

}  // namespace zoneproof::cli
