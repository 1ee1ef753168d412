#pragma once
#include <string>
#include <vector>

#include "base/language.hpp"
#include "base/message.hpp"

namespace zoneproof::cli {

/// In which language the program is to speak, taken out of a command line before anything else is read of it: what is
/// wrong with the rest is told in that language already.
struct LanguageAsked {
  Language language = Language::english;
  std::vector<std::string> rest;  ///< the arguments without --language
  std::vector<Message> problems;  ///< at most one
};

/// The option --language, before or after the command; else `variable`, the value of ZONEPROOF_LANGUAGE; else English.
/// What stands behind a lone -- is no option.
LanguageAsked take_language(const std::vector<std::string>& arguments, const std::string& variable);

}  // namespace zoneproof::cli
