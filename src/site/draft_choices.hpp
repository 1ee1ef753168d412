#pragma once
#include <optional>
#include <string>
#include <vector>

#include "site/draft.hpp"
#include "site/draft_table.hpp"
#include "site/made_id.hpp"

/// What was chosen beside the table, put into the site: rulebook, supply, battery, panel, units, and every part used.
namespace zoneproof::site {

class DraftChoices {
 public:
  /// Puts the choices into `site`; says what of them cannot be.
  DraftChoices(const DraftRequest& request, Site& site, MadeIds& ids, DraftMessages& messages);

  /// Copies a part into the site; false, with a message, where there is none of a kind that fits. `cell`: where the
  /// table names it, null where a choice does.
  bool take_part(const std::string& id, const std::vector<PartKind>& kinds, const CsvCell* cell);

  const std::string& panel() const { return panel_; }
  const std::vector<std::string>& units() const { return units_; }
  /// Of all units; null where none was chosen.
  const UnitSpec* unit_spec() const;

 private:
  std::optional<Part> named_part(const std::string& id) const;
  std::vector<std::string> part_ids(const std::vector<PartKind>& kinds) const;
  void choose_grade(const Rulebook& book);
  void choose_rulebook();
  void choose_supply();
  Feed feed() const;
  void choose_panel();
  void choose_units();

  const DraftRequest& request_;
  Site& site_;
  MadeIds& ids_;
  DraftMessages& messages_;
  Findings findings_;  ///< for its spelling only
  std::string supply_, panel_;
  std::vector<std::string> units_;
};

}  // namespace zoneproof::site
