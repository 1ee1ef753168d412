#pragma once
#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "base/message.hpp"

/// Changes as values: RFC 6902 with the operations add, remove, replace, move and test (copy is left out: what has
/// stable ids is never copied as it is). Messages point into the patch, and name the document's pointer.
namespace zoneproof {

/// Applies all operations of `patch` or none: where one fails the document is as before and the message says which
/// one and why. `undo`, where given, receives the patch that takes the document back (null on failure).
/// Cost: what the operations touch, plus a linear search among the keys of each object on the way; the document is
/// not copied.
std::vector<Message> apply_patch(nlohmann::ordered_json& document, const nlohmann::ordered_json& patch,
                                 nlohmann::ordered_json* undo = nullptr);

/// The patch that undoes `patch` once that has been applied to `document`; the order of an object's keys is not
/// restored (it carries no meaning). Null, with the reasons in `messages`, where `patch` does not apply. Copies the
/// document: where it is applied anyway, take `undo` from `apply_patch`.
nlohmann::ordered_json inverse_patch(const nlohmann::ordered_json& document, const nlohmann::ordered_json& patch,
                                     std::vector<Message>& messages);

/// A patch that turns `from` into `to`: operations in order of their pointers, no `move`. Empty where both are equal as
/// `same_json` means it. Of a list, the unchanged beginning and end are kept and the middle is replaced.
nlohmann::ordered_json difference(const nlohmann::ordered_json& from, const nlohmann::ordered_json& to);

}  // namespace zoneproof
