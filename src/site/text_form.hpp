#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/message.hpp"
#include "site/field.hpp"

/// What each form of text takes, as a check for the reader and as a pattern for the schemas.
namespace zoneproof::site {

/// What is wrong with the text of the field `key`; nothing where it has the form, and always for lines: what they may
/// not hold no text may (hidden_characters() of number_form.hpp).
std::optional<Message> form_fault(std::string_view text, TextForm form, std::string_view key);

/// The form as a regular expression of ECMA-262. It takes what the check takes, and of networks also those whose
/// address is not the first: no pattern can tell.
const std::string& pattern_of(TextForm form);

}  // namespace zoneproof::site
