#include "materials/price_check.hpp"

#include <map>
#include <set>
#include <utility>

#include "materials/parts_count.hpp"
#include "messages/materials.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"
#include "site/words.hpp"

namespace zoneproof::materials {

namespace {

class Checking {
 public:
  Checking(const PriceList& list, const site::Site& site, const site::Costs& costs)
      : list_(list), pieces_(pieces_of(site, cable_rows(site))) {
    count_in(kLabour, PriceUnit::hour);
    for (const auto& [id, task] : costs.tasks) count_in(id, PriceUnit::task);
    for (const auto* parts : {&site.parts, &site::parts_shelf()})
      for (const auto& [id, part] : *parts) {
        const PriceUnit unit = part.kind.is(site::PartKind::cable) ? PriceUnit::metre : PriceUnit::piece;
        count_in(id, unit);
        count_in(site::name_or_id(part.name, id), unit);
      }
    for (const Piece& piece : pieces_) {
      count_in(piece.item, unit_of(piece));
      count_in(piece.name, unit_of(piece));
    }
  }

  std::vector<Message> run() {
    for (const PriceRow& row : list_.rows) in_a_unit_that_fits(row);
    std::set<std::string> looked_at;
    for (const Piece& piece : pieces_)
      if (!piece.item.empty() && looked_at.insert(piece.item).second) under_one_name(piece);
    return std::move(messages_);
  }

 private:
  static PriceUnit unit_of(const Piece& piece) { return piece.metres ? PriceUnit::metre : PriceUnit::piece; }

  void count_in(const std::string& item, PriceUnit unit) { units_[folded_item(item)].insert(unit); }

  void in_a_unit_that_fits(const PriceRow& row) {
    const auto known = units_.find(folded_item(row.item));
    if (known == units_.end() || known->second.count(row.unit) != 0) return;
    std::vector<std::string> fitting;
    for (PriceUnit unit : known->second) fitting.emplace_back(word(unit));
    messages_.push_back(
        say::prices_unit_not_used(row.item, word(row.unit), fitting).at({list_.file, "", row.line, row.unit_column}));
  }

  void under_one_name(const Piece& piece) {
    const std::string id = folded_item(piece.item), name = folded_item(piece.name);
    if (id == name) return;
    const PriceRow *by_id = nullptr, *by_name = nullptr;
    for (const PriceRow& row : list_.rows) {
      if (row.unit != unit_of(piece)) continue;
      if (folded_item(row.item) == id) by_id = &row;
      if (folded_item(row.item) == name) by_name = &row;
    }
    if (by_id == nullptr || by_name == nullptr) return;
    const bool id_first = by_id->line < by_name->line;
    const PriceRow &first = id_first ? *by_id : *by_name, &second = id_first ? *by_name : *by_id;
    messages_.push_back(say::prices_twice_named(second.item, first.item, first.line)
                            .at({list_.file, "", second.line, second.item_column}));
  }

  const PriceList& list_;
  std::vector<Piece> pieces_;
  std::map<std::string, std::set<PriceUnit>> units_;  ///< by item or name, folded
  std::vector<Message> messages_;
};

}  // namespace

std::vector<Message> check_prices(const PriceList& list, const site::Site& site, const site::Costs& costs) {
  return Checking(list, site, costs).run();
}

}  // namespace zoneproof::materials
