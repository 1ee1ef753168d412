#include "handover/materials_chapter.hpp"

#include <algorithm>

#include "base/language.hpp"
#include "base/message.hpp"
#include "electric/naming.hpp"
#include "handover/cells.hpp"
#include "messages/handover_chapters.hpp"
#include "site/relations.hpp"
#include "wiring/names.hpp"

namespace zoneproof::handover {

using materials::CableRow;
using materials::LengthFrom;
using materials::Materials;
using materials::Price;
using paper::Blank;
using paper::Cell;
using paper::said;
using paper::Table;

namespace {

constexpr auto kRight = drawing::Align::right;
constexpr int kLengthDigits = 3, kCountDigits = 6;

Cell length_cell(const CableRow& cable) {
  if (!cable.length_m) return Blank{};
  const Measure length = {*cable.length_m, "m", kLengthDigits};
  return said(cable.from != LengthFrom::site ? text(say::paper_about(length)) : shown(length));
}

std::string ends_words(const site::Site& site, const CableRow& cable) {
  std::vector<std::string> told;  // each once: "Panel to Hall 1" is no part of "Panel to Hall 12"
  std::string words;
  for (const site::CableUse& use : cable.uses) {
    const auto name = [&](const std::string& id) {
      return id.empty() ? text(say::paper_not_known()) : electric::thing_words(site, id);
    };
    const std::string one = text(say::paper_cable_joins(name(use.from), name(use.to)));
    if (std::find(told.begin(), told.end(), one) != told.end()) continue;
    words += (words.empty() ? "" : "; ") + one;
    told.push_back(one);
  }
  return words;
}

Cell count_cell(const std::optional<long long>& count) { return count ? said(std::to_string(*count)) : Cell{Blank{}}; }

Table cables(const site::Site& site, const Materials& materials) {
  Table table{"cables", text(say::paper_cable_schedule()), {}, {{}}, {}, {}, text(say::paper_no_cables())};
  table.columns = {{"cable", text(say::paper_column_cable()), {}, {}, 1.0, 32.0},
                   {"part", text(say::paper_column_part()), {}, {}, 1.0, 36.0},
                   {"joins", text(say::paper_column_joins()), {}, {}, 2.0, 50.0},
                   {"length", text(say::paper_column_length()), {}, kRight, 0.0, 16.0, false},
                   {"used", text(say::paper_column_cores_used()), {}, kRight, 0.0, 12.0},
                   {"there", text(say::paper_column_cores_there()), {}, kRight, 0.0, 12.0}};
  const wiring::Marks marks(site);
  std::vector<CableRow> rows = materials.cables;
  std::stable_sort(rows.begin(), rows.end(),
                   [](const CableRow& a, const CableRow& b) { return wiring::before(a.id, b.id); });
  for (const CableRow& cable : rows)
    table.groups.front().rows.push_back(
        {{said(wiring::marked(marks, cable.id, cable.name.empty() ? cable.id : cable.name)),
          paper::said_or_blank(cable.part_name), said(ends_words(site, cable)), length_cell(cable),
          count_cell(cable.cores_used), count_cell(cable.cores_there)},
         "cable-" + cable.id});
  return table;
}

Table parts(const Materials& materials) {
  Table table{"materials", text(say::paper_materials()), {}, {{}}, {}, {}, text(say::paper_no_materials())};
  table.columns = {{"name", text(say::paper_column_what()), {}, {}, 3.0, 70.0},
                   {"count", text(say::paper_column_count()), {}, kRight, 0.0, 24.0, false},
                   {"there", text(say::paper_column_there()), {}, kRight, 0.0, 24.0, false}};
  for (const materials::PartCount& part : materials.parts) {
    const auto shown_count = [&](double count) { return shown({count, part.metres ? "m" : "", kCountDigits}); };
    Cell count = Blank{};
    if (part.count)
      count = said(part.estimated > 0.0 ? text(say::paper_about({*part.count, "m", kLengthDigits}))
                                        : shown_count(*part.count));
    table.groups.front().rows.push_back(
        {{said(part.name), std::move(count), said(part.there > 0.0 ? shown_count(part.there) : std::string())}});
  }
  return table;
}

Table work(const Materials& materials) {
  Table table{"labour", text(say::paper_labour()), {}, {{}}, {}, {}, text(say::paper_no_labour())};
  table.columns = {{"task", text(say::paper_column_task()), {}, {}, 3.0, 70.0},
                   {"count", text(say::paper_column_count()), {}, kRight, 0.0, 16.0, false},
                   {"each", text(say::paper_column_minutes_each()), "min", kRight, 0.0, 20.0, false},
                   {"all", text(say::paper_column_minutes()), "min", kRight, 0.0, 20.0, false}};
  auto& rows = table.groups.front().rows;
  bool counted = true, timed = true;
  for (const materials::Work& one : materials.work) {
    std::vector<std::string> lacks;
    for (const Message& what : one.lacks) lacks.push_back(text(what));
    counted = counted && one.count;
    timed = timed && one.minutes_each;
    const std::optional<double> all = one.minutes();
    rows.push_back({{said(lacks.empty() ? one.meaning : text(say::paper_work_lacks(one.meaning, lacks))),
                     one.count ? said(shown({*one.count, "", kCountDigits})) : Cell{Blank{}},
                     one.minutes_each ? said(shown({*one.minutes_each, "", kLengthDigits})) : Cell{Blank{}},
                     all ? said(shown({*all, "", kCountDigits})) : Cell{Blank{}}}});
  }
  if (rows.empty()) return table;
  const std::string together = text(!counted ? say::paper_all_uncounted()
                                    : !timed ? say::paper_all_untimed()
                                             : say::paper_all_together());
  rows.push_back({{said(together), said(""), said(""),
                   materials.minutes ? said(shown({*materials.minutes, "", kCountDigits})) : Cell{Blank{}}},
                  {},
                  true});
  return table;
}

std::string unit_words(materials::PriceUnit unit) {
  switch (unit) {
    case materials::PriceUnit::piece: return text(say::paper_per_piece());
    case materials::PriceUnit::metre: return text(say::paper_per_metre());
    case materials::PriceUnit::hour: return text(say::paper_per_hour());
    case materials::PriceUnit::task: break;
  }
  return text(say::paper_per_task());
}

/// Amounts stand as texts: they are whole numbers of the currency's smallest unit, and no figure of them is rounded
/// here.
Table price(const Price& price) {
  Table table{"price", text(say::paper_price(price.currency)), {}, {{}}};
  table.columns = {{"item", text(say::paper_column_what()), {}, {}, 3.0, 60.0},
                   {"quantity", text(say::paper_column_quantity()), {}, kRight, 0.0, 18.0, false},
                   {"unit", text(say::paper_column_per()), {}, {}, 0.0, 14.0, false},
                   {"price", text(say::paper_column_price()), {}, kRight, 0.0, 20.0, false},
                   {"tax", text(say::paper_column_tax()), {}, kRight, 0.0, 14.0, false},
                   {"net", text(say::paper_column_net()), {}, kRight, 0.0, 24.0, false}};
  auto& rows = table.groups.front().rows;
  const auto amount_words = [&](std::int64_t value) {
    return with_decimal_sign(materials::amount_text(value, price.places));
  };
  const auto amount = [&](std::int64_t value) { return said(amount_words(value)); };
  const auto decimal = [](const materials::Decimal& value) { return with_decimal_sign(materials::text(value)); };
  for (const materials::PriceLine& line : price.lines)
    rows.push_back({{said(line.name), line.quantity ? said(decimal(*line.quantity)) : Cell{Blank{}},
                     said(unit_words(line.unit)), line.price ? said(decimal(*line.price)) : Cell{Blank{}},
                     line.tax_pct ? said(decimal(*line.tax_pct) + " %") : said(""),
                     line.net ? amount(*line.net) : Cell{Blank{}}}});
  const auto sum = [&](const std::string& what, Cell value) {
    rows.push_back({{said(what), said(""), said(""), said(""), said(""), std::move(value)}, {}, true});
  };
  // The mark stands in the row itself: a file of the table alone has no notes.
  sum(text(price.complete ? say::paper_net() : say::paper_net_in_part()),
      price.net ? amount(*price.net) : Cell{Blank{}});
  for (const materials::TaxSum& tax : price.taxes)
    sum(tax.rate_pct ? text(say::paper_tax_of(decimal(*tax.rate_pct), amount_words(tax.net)))
                     : text(say::paper_tax_unknown(amount_words(tax.net))),
        tax.tax ? amount(*tax.tax) : Cell{Blank{}});
  sum(text(price.complete ? say::paper_gross() : say::paper_gross_in_part()),
      price.gross ? amount(*price.gross) : Cell{Blank{}});
  if (!price.complete) table.notes.push_back(text(say::paper_price_not_whole()));
  if (price.estimated) table.notes.push_back(text(say::paper_price_estimated()));
  return table;
}

}  // namespace

paper::Chapter materials_chapter(const site::Site& site, const Materials& materials) {
  paper::Chapter chapter{"materials-and-price", text(say::paper_materials_chapter()), {}};
  chapter.blocks.push_back(cables(site, materials));
  chapter.blocks.push_back(parts(materials));
  chapter.blocks.push_back(work(materials));
  if (materials.price)
    chapter.blocks.push_back(price(*materials.price));
  else
    chapter.blocks.push_back(paper::Paragraph{text(say::paper_no_price_list())});
  std::vector<std::string> notes;
  for (const Message& note : materials.notes) notes.push_back(text(note));
  if (!notes.empty()) chapter.blocks.push_back(paper::List{notes});
  return chapter;
}

}  // namespace zoneproof::handover
