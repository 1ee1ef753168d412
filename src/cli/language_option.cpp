#include "cli/language_option.hpp"

#include <algorithm>

#include "messages/cli.hpp"
#include "messages/results.hpp"

namespace zoneproof::cli {

namespace {

constexpr const char* kOption = "--language";
constexpr const char* kVariable = "ZONEPROOF_LANGUAGE";

/// The values that the option is given; a last one without a value has none.
std::vector<std::string> take_values(const std::vector<std::string>& arguments, LanguageAsked& asked, bool& lacks_one) {
  const std::string joined = std::string(kOption) + "=";
  std::vector<std::string> values;
  const auto end = std::find(arguments.begin(), arguments.end(), "--");
  for (auto one = arguments.begin(); one != end; ++one) {
    if (one->rfind(joined, 0) == 0) {
      values.push_back(one->substr(joined.size()));
    } else if (*one != kOption) {
      asked.rest.push_back(*one);
    } else if (one + 1 != end) {
      values.push_back(*++one);
    } else {
      lacks_one = true;
    }
  }
  asked.rest.insert(asked.rest.end(), end, arguments.end());
  return values;
}

void choose(const std::string& code, const std::string& option, LanguageAsked& asked) {
  if (const auto language = language_called(code)) {
    asked.language = *language;
  } else {
    asked.problems.push_back(code.empty() ? say::option_empty(option) : say::no_such_word(code, option, languages()));
  }
}

}  // namespace

LanguageAsked take_language(const std::vector<std::string>& arguments, const std::string& variable) {
  LanguageAsked asked;
  bool lacks_one = false;
  const std::vector<std::string> values = take_values(arguments, asked, lacks_one);
  if (lacks_one || values.size() > 1) {
    asked.problems.push_back(lacks_one ? say::option_empty(kOption) : say::option_twice(kOption));
  } else if (!values.empty()) {
    choose(values.front(), kOption, asked);
  } else if (!variable.empty()) {
    choose(variable, kVariable, asked);
  }
  return asked;
}

}  // namespace zoneproof::cli
