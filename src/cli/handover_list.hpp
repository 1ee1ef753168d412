#pragma once
#include <map>
#include <string>
#include <vector>

#include "base/message.hpp"

/// The list of its files that a handover file has beside them, so that a later revision in the same folder knows which
/// files there are its own: a page of a zone that is no more misleads whoever prints the folder.
namespace zoneproof::cli {

inline constexpr const char* kHandoverList = "handover.files.json";

struct HandoverList {
  std::map<std::string, std::string> hashes;  ///< SHA-256 by name below the folder
};

/// {"files": {NAME: SHA-256}, "format": "zoneproof-handover-files", "version": 1}
std::string text_of(const HandoverList& list);

/// The list in a folder; empty where there is none. One that cannot be read is told, and counts as none. Names that
/// lead out of the folder, or that no handover file has, are no part of it.
HandoverList list_in(const std::string& folder, std::vector<Message>& notes);

/// What a new revision would write over although it is not as it was written: changed by hand, or never on the list.
/// Names below the folder. What has the new bytes already is none.
std::vector<std::string> changed_in(const std::string& folder, const HandoverList& before, const HandoverList& now);

/// The files of a handover file, with their folder, beside which a killed run left something.
std::vector<std::string> left_behind_in(const std::string& folder);

/// Removes what the earlier list has and the new one has not, where it is byte by byte what was listed; what somebody
/// changed, and what is in the folders of a handover file without being on a list, stays. Tells what was removed, what
/// stays and what could not be removed.
std::vector<Message> remove_what_is_past(const std::string& folder, const HandoverList& before,
                                         const HandoverList& now);

}  // namespace zoneproof::cli
