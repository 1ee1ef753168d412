#pragma once
#include <optional>
#include <string>
#include <vector>

#include "messages/site.hpp"
#include "site/findings.hpp"
#include "site/model.hpp"
#include "site/relations.hpp"

/// Names and numbers of things inside a part: outputs of a supply, contacts of a detector, presets of a unit, inputs.
/// Where the part is not known, or what is named not there, nothing is said: references.cpp judges references.
namespace zoneproof::site {

/// The object that a reference names; null where it is not there.
template <class T>
const T* find(const Map<T>& map, const Ref& reference) {
  const auto found = map.find(reference.id);
  return found == map.end() ? nullptr : &found->second;
}

/// `id` has to be one of `inside`, which stands in `part` at `path`: "supply/outputs".
template <class T>
void check_inside(const Map<T>& inside, const std::string& id, const Ref& part, const std::string& path,
                  const std::string& pointer, Findings& findings) {
  if (id.empty() || inside.count(id) != 0) return;
  std::vector<std::string> known;
  for (const auto& entry : inside) known.push_back(entry.first);
  const std::string what = path.substr(path.rfind('/') + 1);
  findings.add(known.empty() ? say::site_none_in_part(part.id, id, what, "/parts/*/" + path + "/*")
                             : say::site_not_in_part(part.id, id, what, known),
               pointer);
}

/// Whether a number is certainly none of the `count` that a part has, counted from 1.
bool beyond(const Count& number, const Count& count);

/// A wired input of a panel or expander is one that its part has; doubtful where the medium is not known.
void check_panel_input(const Site& site, const Ref& panel, const Count& input, std::optional<Medium> medium,
                       Findings& findings);

/// A contact of a detector is one that its part has.
void check_contact(const Site& site, const Ref& detector, const std::string& contact, const std::string& pointer,
                   Findings& findings);

}  // namespace zoneproof::site
