#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "site/model.hpp"

/// Changes of a site as values. A patch is a JSON document:
///   {"format": "zoneproof-patch", "version": 1, "base_revision": {"number": 7, "sha256": "..."},
///    "operations": [RFC 6902 operations on the site document: add, remove, replace, move, test]}
/// For a patch every map, list and nested object of the site document is there, empty ones too: "add" to
/// "/bonds/strap" or "/zones/z1/loop/eol_ohm" works whether or not anything stood there before.
/// It applies to exactly one state of a site. The result is the next revision; its undo is a patch too.
namespace zoneproof::site {

struct PatchResult {
  std::optional<Site> site;       ///< revision one higher; absent where a message is an error
  std::string undo;               ///< the patch that takes the new site's content back (as the revision after it)
  std::vector<Message> messages;  ///< about the patch: places in its text; about the result: pointers into the site
};

/// Applies a patch. Refused where base_revision is not the revision and SHA-256 of `site`, where an operation fails,
/// where it touches what the program keeps itself (format, version, revision), and where the result is no valid site.
/// Messages' places are in file `name` where they are about the patch, in `site_name` where they are about the result.
/// Cost: linear in the site.
PatchResult apply_patch(const Site& site, std::string_view patch_text, const std::string& name,
                        const std::string& site_name = "site");

/// The patch, as canonical text, that takes `from` to the content of `to`; without operations where both say the same.
std::string patch_between(const Site& from, const Site& to);

}  // namespace zoneproof::site
