#include "handover/handover_file.hpp"

#include <algorithm>
#include <cctype>
#include <variant>

#include "base/message.hpp"
#include "drawing/pango_ruler.hpp"
#include "drawing/pdf.hpp"
#include "drawing/svg.hpp"
#include "handover/labels.hpp"
#include "handover/materials_chapter.hpp"
#include "handover/network_chapter.hpp"
#include "handover/order_chapter.hpp"
#include "handover/reference_chapters.hpp"
#include "handover/settings_sheet.hpp"
#include "handover/summary_chapter.hpp"
#include "handover/supply_chapter.hpp"
#include "handover/terminal_figures.hpp"
#include "handover/termination_schedule.hpp"
#include "handover/unprintable.hpp"
#include "handover/zones_chapter.hpp"
#include "messages/handover.hpp"
#include "messages/handover_chapters.hpp"
#include "paper/csv.hpp"
#include "paper/label_sheets.hpp"
#include "paper/pages.hpp"
#include "paper/xlsx.hpp"
#include "results/evidence_words.hpp"
#include "sheets/plan_sheet.hpp"
#include "site/file.hpp"
#include "wiring/wiring.hpp"

namespace zoneproof::handover {

namespace {

/// What the sheets that follow are, so that nobody turns all of them.
void add_sheets(paper::Chapter& chapter, paper::Inserted sheets) {
  chapter.follows = true;
  paper::KeyValues list;
  for (const drawing::Sheet& sheet : sheets.sheets)
    list.rows.emplace_back(sheet.name.title, paper::Words{sheet.description, "#" + sheet.name.id});
  chapter.blocks.push_back(std::move(list));
  chapter.blocks.push_back(std::move(sheets));
}
struct Paper {
  const char* word;
  drawing::Format format;
};
constexpr Paper kPapers[] = {{"a4", drawing::kA4}, {"letter", drawing::kLetter}};

paper::Chapter plans_chapter(const drawing::Ruler& ruler, const Findings& findings, const FileOptions& options) {
  paper::Chapter chapter{"plans", text(say::paper_plans_chapter()), {}};
  sheets::PlanOptions asked;
  asked.date = options.date;
  asked.format = drawing::landscape(options.paper);
  asked.called = results::names_of_places(findings.site);
  paper::Inserted plans{sheets::plans_of_levels(ruler, *findings.scene, findings.views, asked)};
  if (plans.sheets.empty())
    chapter.blocks.push_back(paper::Paragraph{text(say::paper_no_plans())});
  else
    add_sheets(chapter, std::move(plans));
  return chapter;
}

paper::Chapter wiring_chapter(const drawing::Ruler& ruler, const Findings& findings, const FileOptions& options) {
  paper::Chapter chapter{"wiring", text(say::paper_wiring_chapter()), {}};
  wiring::Options asked;
  asked.date = options.date;
  asked.format = drawing::landscape(options.paper);
  asked.readings = terminal_figures(findings.site, findings.answers, WiringState::rest);
  asked.readings_are = figures_are(WiringState::rest);
  paper::Inserted sheets{wiring::wiring_of_site(ruler, findings.site, asked)};
  if (sheets.sheets.empty())
    chapter.blocks.push_back(paper::Paragraph{text(say::paper_no_wiring())});
  else
    add_sheets(chapter, std::move(sheets));
  return chapter;
}

const paper::LabelStock& stock_of(const FileOptions& options) {
  return options.stock ? *options.stock : paper::generic_label_stock(options.paper);
}

paper::LabelSheets labels_on(const drawing::Ruler& ruler, const Findings& findings, const FileOptions& options) {
  return paper::label_sheets(ruler, labels_of(findings.site, options.address), stock_of(options));
}

/// What no label says is written beside the screws that it would hang at.
paper::Chapter terminations_chapter(const drawing::Ruler& ruler, const Findings& findings, const FileOptions& options) {
  paper::Chapter chapter = termination_schedule(findings.site, findings.answers);
  if (auto by_hand = labels_to_write(labels_on(ruler, findings, options).left_out)) {
    chapter.blocks.push_back(paper::Heading{2, by_hand->title, "labels-by-hand"});
    by_hand->title.clear();
    chapter.blocks.push_back(*std::move(by_hand));
  }
  return chapter;
}

paper::Style style_of(const Findings& findings, const FileOptions& options) {
  paper::Style style;
  style.stamp = {findings.site.name, text(say::paper_handover_file()), std::to_string(findings.site.revision),
                 site::site_hash(findings.site), options.date};
  style.paper = options.paper;
  return style;
}

void add_tables(std::vector<FileMade>& files, const std::vector<paper::Chapter>& all,
                const drawing::Document& document) {
  std::vector<paper::Table> tables;
  for (const paper::Chapter& chapter : all) {
    std::string heading = chapter.title;  // what a table without a title of its own stands under
    for (const paper::Block& block : chapter.blocks) {
      if (const auto* one = std::get_if<paper::Heading>(&block)) heading = one->says;
      const auto* table = std::get_if<paper::Table>(&block);
      if (table == nullptr) continue;
      tables.push_back(*table);
      if (tables.back().title.empty()) tables.back().title = heading;
    }
  }
  files.push_back(
      {"tables.xlsx", paper::xlsx(tables, {document.title, document.subject, document.keywords, document.created})});
  for (const paper::Table& table : tables) files.push_back({"tables/" + table.id + ".csv", paper::csv(table)});
}

/// The same of other sheets.
drawing::Document without_sheets(const drawing::Document& document) {
  return {{}, document.title, document.subject, document.keywords, document.created};
}

void add_drawings(std::vector<FileMade>& files, const std::vector<paper::Chapter>& all,
                  const drawing::Document& document) {
  drawing::Document drawings = without_sheets(document);
  for (const paper::Chapter& chapter : all)
    for (const paper::Block& block : chapter.blocks)
      if (const auto* inserted = std::get_if<paper::Inserted>(&block))
        drawings.sheets.insert(drawings.sheets.end(), inserted->sheets.begin(), inserted->sheets.end());
  std::vector<std::string> written = drawing::svgs(drawings, {drawing::Palette::light, true, {}});
  for (std::size_t i = 0; i < written.size(); ++i)
    files.push_back({"drawings/" + drawings.sheets[i].name.id + ".svg", std::move(written[i])});
}

/// Once for all papers.
std::optional<Message> letters_told(const drawing::Ruler& ruler, const site::Site& site,
                                    std::initializer_list<const drawing::Document*> papers) {
  std::vector<std::string> lacking;
  for (const drawing::Document* paper : papers)
    for (std::string& letter : letters_lacking_on(ruler, paper->sheets)) lacking.push_back(std::move(letter));
  return lacking.empty() ? std::nullopt : letters_notice(site, unprintable_in(ruler, site), lacking);
}

}  // namespace

std::optional<drawing::Format> paper_called(const std::string& word, std::vector<Message>& problems) {
  if (word.empty()) return kPapers[0].format;
  std::vector<std::string> words;
  std::string small = word;
  std::transform(small.begin(), small.end(), small.begin(), [](unsigned char c) { return std::tolower(c); });
  for (const Paper& paper : kPapers) {
    if (small == paper.word) return paper.format;
    words.emplace_back(paper.word);
  }
  problems.push_back(say::paper_unknown(word, words));
  return std::nullopt;
}

std::vector<paper::Chapter> chapters(const drawing::Ruler& ruler, const Findings& findings,
                                     const FileOptions& options) {
  paper::Chapter summary = summary_chapter(findings);
  if (const auto letters = letters_on_paper(unprintable_in(ruler, findings.site)))
    summary.blocks.push_back(paper::Paragraph{text(*letters)});
  std::vector<paper::Chapter> all;  // one after the other: a list in braces would be copied, with every sheet
  all.push_back(std::move(summary));
  all.push_back(cautions_chapter());
  all.push_back(order_chapter(findings));
  all.push_back(wiring_chapter(ruler, findings, options));
  all.push_back(terminations_chapter(ruler, findings, options));
  all.push_back(settings_sheet(findings.site, findings.proof));
  all.push_back(supply_chapter(ruler, findings));
  all.push_back(network_chapter(findings));
  all.push_back(plans_chapter(ruler, findings, options));
  all.push_back(zones_chapter(ruler, findings, options.paper));
  all.push_back(materials_chapter(findings.site, findings.materials));
  all.push_back(faults_chapter(findings));
  all.push_back(rules_chapter(findings));
  return all;
}

FilesMade handover_files(const drawing::Fonts& fonts, const Findings& findings, const FileOptions& options) {
  const drawing::PangoRuler ruler(fonts);
  const std::vector<paper::Chapter> all = chapters(ruler, findings, options);
  const drawing::Document document = paper::document(ruler, all, style_of(findings, options), options.created);
  std::vector<FileMade> files = {{"handover.pdf", drawing::pdf(document, fonts, drawing::Palette::light)}};
  add_tables(files, all, document);
  add_drawings(files, all, document);
  drawing::Document stickers = without_sheets(document);
  paper::LabelSheets labels = labels_on(ruler, findings, options);
  stickers.sheets = std::move(labels.sheets);
  if (auto by_hand = labels_to_write(labels.left_out)) {  // who holds the labels alone has to know, too
    paper::Style style = style_of(findings, options);
    style.contents = false;
    by_hand->title.clear();
    const paper::Chapter chapter{"labels", text(say::labels_to_write()), {*std::move(by_hand)}};
    for (drawing::Sheet& page : paper::pages(ruler, {chapter}, style)) stickers.sheets.push_back(std::move(page));
  }
  if (!stickers.sheets.empty())
    files.push_back({"labels.pdf", drawing::pdf(stickers, fonts, drawing::Palette::black_and_white)});
  if (auto notice = letters_told(ruler, findings.site, {&document, &stickers}))
    labels.messages.push_back(*std::move(notice));
  return {std::move(files), std::move(labels.messages)};
}

}  // namespace zoneproof::handover
