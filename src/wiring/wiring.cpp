#include "wiring/wiring.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>
#include <variant>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/file.hpp"
#include "wiring/graph_pages.hpp"
#include "wiring/page.hpp"
#include "wiring/site_graphs.hpp"
#include "wiring/supply_pages.hpp"
#include "wiring/unit_pages.hpp"

namespace zoneproof::wiring {

using drawing::Sheet;

namespace {

/// Whose sheet a page is: a unit's, or nobody's.
struct OwnedPage {
  Page page;
  std::string unit;
};

std::vector<OwnedPage> pages_of(const Context& context) {
  std::vector<OwnedPage> all;
  const auto add = [&](std::vector<Page> pages, const std::string& unit) {
    for (Page& page : pages) all.push_back({std::move(page), unit});
  };
  const auto next = [&] { return static_cast<int>(all.size()) + 1; };
  add(on_one_sheet(context,
                   {graph_pages(context, overview_graph(context)), graph_pages(context, negatives_graph(context)),
                    graph_pages(context, network_graph(context))}),
      {});
  add(supply_pages(context), {});
  add(row_pages(context, rows_of_untapped(context), next()), {});
  std::vector<std::string> units;
  for (const auto& [id, unit] : context.site.units) units.push_back(id);
  std::sort(units.begin(), units.end(), before);
  for (const std::string& unit : units) add(row_pages(context, rows_of_unit(context, unit), next()), unit);
  return all;
}

SheetBook book_of(const std::vector<OwnedPage>& pages) {
  SheetBook book;
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const int number = static_cast<int>(i) + 1;
    book.name(number, pages[i].page.id);
    for (const std::string& thing : pages[i].page.things) book.note(thing, number);
  }
  return book;
}

struct Numbered {
  std::vector<Sheet> sheets;
  std::vector<std::string> units;  ///< of each sheet
};

/// Of several sheets with one title each says which of them it is.
void tell_apart(std::vector<OwnedPage>& pages) {
  std::map<std::string, long long> all, so_far;
  for (const OwnedPage& one : pages) ++all[one.page.title];
  for (OwnedPage& one : pages) {
    const std::string title = one.page.title;
    if (const long long count = all.at(title); count > 1)
      one.page.title = text(say::wiring_title_of_several(title, ++so_far[title], count));
  }
}

/// Names of sheets need numbers, numbers need sheets: drawn again until the numbers that stand on them are right.
Numbered whole_set(const drawing::Ruler& ruler, const site::Site& site, const Options& options) {
  const Marks marks(site);
  const std::string hash = site::site_hash(site);
  const std::map<std::string, std::string> homes = feed_homes(site);
  SheetBook book;
  constexpr int most = 5;
  for (int pass = 0; pass < most; ++pass) {
    const Context context{ruler, site, hash, options, marks, book, homes, 0.0};
    std::vector<OwnedPage> pages = pages_of(context);
    SheetBook now = book_of(pages);
    if (!(now == book)) {
      book = std::move(now);
      continue;
    }
    tell_apart(pages);
    Numbered set;
    for (std::size_t i = 0; i < pages.size(); ++i) {
      set.sheets.push_back(composed(context, pages[i].page, static_cast<int>(i) + 1, static_cast<int>(pages.size())));
      set.units.push_back(pages[i].unit);
    }
    return set;
  }
  throw std::logic_error("the numbers of sheets do not settle");
}

void collect_ids(const drawing::Item& item, std::set<std::string>& ids) {
  std::visit([&](const auto& what) { ids.insert(what.name.id); }, item.what);
  if (const auto* group = std::get_if<drawing::Group>(&item.what))
    for (const drawing::Item& member : group->items) collect_ids(member, ids);
}

void drop_links(drawing::Item& item, const std::set<std::string>& ids) {
  std::visit(
      [&](auto& what) {
        std::string& link = what.name.link;
        if (!link.empty() && link.front() == '#' && ids.count(link.substr(1)) == 0) link.clear();
      },
      item.what);
  if (auto* group = std::get_if<drawing::Group>(&item.what))
    for (drawing::Item& member : group->items) drop_links(member, ids);
}

std::vector<Sheet> those_of(Numbered set, const std::string& unit) {
  std::vector<Sheet> sheets;
  for (std::size_t i = 0; i < set.sheets.size(); ++i)
    if (set.units[i] == unit) sheets.push_back(std::move(set.sheets[i]));
  std::set<std::string> ids;
  for (const Sheet& sheet : sheets) {
    ids.insert(sheet.name.id);
    for (const drawing::Item& item : sheet.content.items) collect_ids(item, ids);
  }
  for (Sheet& sheet : sheets)
    for (drawing::Item& item : sheet.content.items) drop_links(item, ids);
  return sheets;
}

}  // namespace

std::vector<Sheet> wiring_of_site(const drawing::Ruler& ruler, const site::Site& site, const Options& options) {
  return whole_set(ruler, site, options).sheets;
}

std::vector<Sheet> wiring_overview(const drawing::Ruler& ruler, const site::Site& site, const Options& options) {
  return those_of(whole_set(ruler, site, options), {});
}

std::vector<Sheet> wiring_of_unit(const drawing::Ruler& ruler, const site::Site& site, const std::string& unit,
                                  const Options& options) {
  if (site.units.count(unit) == 0) throw std::invalid_argument(fmt::format("the site has no unit \"{}\"", unit));
  return those_of(whole_set(ruler, site, options), unit);
}

}  // namespace zoneproof::wiring
