#include "handover/zones_chapter.hpp"

#include <algorithm>
#include <iterator>
#include <set>

#include "base/message.hpp"
#include "chain/channels.hpp"
#include "chain/words.hpp"
#include "drawing/prefixed.hpp"
#include "electric/naming.hpp"
#include "handover/cells.hpp"
#include "handover/operator_words.hpp"
#include "handover/set_words.hpp"
#include "messages/handover_chapters.hpp"
#include "results/evidence_words.hpp"
#include "sheets/expected_picture.hpp"
#include "sheets/plan_numbers.hpp"
#include "sheets/plan_words.hpp"
#include "sheets/zone_cut_out.hpp"
#include "site/relations.hpp"
#include "timeline/arming_edge.hpp"

namespace zoneproof::handover {

using chain::Evidence;
using chain::Verdict;
using paper::Cell;
using paper::said;

namespace {

constexpr double kFigureWide_mm = 174.0;
constexpr double kPlanLeast_mm = 52.0, kPlanMost_mm = 86.0, kPictureLeast_mm = 60.0;
/// Of the height of a page: margins, head and foot; a line with what stands between lines; a heading, a caption.
constexpr double kAboutText_mm = 36.0, kLine_mm = 5.6, kHeading_mm = 9.0, kCaption_mm = 13.0;
constexpr std::size_t kLetters = 95;  ///< of a line of running text

/// The page of one zone. What is asked of everything on it: an operator who has never been there, at night, with a
/// clip before them, tells in seconds whether it shows what it should.
class ZonePage {
 public:
  ZonePage(const drawing::Ruler& ruler, const Findings& findings, const std::string& id, double page_mm)
      : ruler_(ruler),
        findings_(findings),
        site_(findings.site),
        id_(id),
        zone_(findings.site.zones.at(id)),
        page_mm_(page_mm) {
    const auto view = std::find_if(findings.views.begin(), findings.views.end(),
                                   [&](const sight::ZoneView& one) { return one.zone == id; });
    if (view != findings.views.end()) view_ = &*view;
  }

  /// The zone in the list before the pages.
  paper::Row row_of_list() const {
    const proof::Chain* chain = chain_of(findings_, id_);
    paper::Row row;
    row.cells = {paper::Words{electric::zone_words(site_, id_), "#zone-" + id_}, verdict(chain),
                 paper::said_or_blank(triggers()),
                 view_ == nullptr ? Cell{paper::Blank{}} : paper::said_or_blank(names(view_->cameras))};
    return row;
  }

  void add_to(std::vector<paper::Block>& blocks) const {
    blocks.push_back(paper::Heading{2, electric::zone_words(site_, id_), "zone-" + id_});
    blocks.push_back(about());
    const std::vector<std::string> lists[] = {weak(), patches(), entry()};
    double left = page_mm_ - kAboutText_mm - kHeading_mm - kLine_mm * static_cast<double>(about().rows.size());
    for (const std::vector<std::string>& list : lists) left -= height_of(list);
    add_list(blocks, text(say::paper_known_to_be_weak()), lists[0]);
    // The picture is what the operator compares: it gets what the plan can spare.
    const double plan = std::clamp(left - wanted_by_pictures() - kCaption_mm, kPlanLeast_mm, kPlanMost_mm);
    left -= add_plan(blocks, plan);
    add_pictures(blocks, left);
    add_list(blocks, text(say::paper_blind_patches()), lists[1]);
    add_list(blocks, text(say::paper_entry_by_right()), lists[2]);
  }

 private:
  static Cell verdict(const proof::Chain* chain) {
    if (chain == nullptr) return paper::Blank{};
    if (!only_without_mains(*chain)) return verdict_cell(chain->verdict);
    return verdict_cell(chain->verdict, text(say::operator_only_without_mains(chain::words(chain->verdict))));
  }

  static void row(paper::KeyValues& to, const Message& what, Cell value) {
    to.rows.emplace_back(text(what), std::move(value));
  }

  std::string names(const std::vector<std::string>& ids) const {
    std::string words;
    for (const std::string& id : ids) words += (words.empty() ? "" : ", ") + electric::thing_words(site_, id);
    return words;
  }

  paper::KeyValues about() const {
    paper::KeyValues about;
    const proof::Chain* chain = chain_of(findings_, id_);
    row(about, say::paper_zone_verdict(), verdict(chain));
    row(about, say::paper_zone_type(), paper::said_or_blank(words(zone_.type)));
    row(about, say::paper_zone_partition(),
        zone_.partition.known() ? said(site::called(site_.partitions, zone_.partition.id)) : Cell{paper::Blank{}});
    row(about, say::paper_zone_detectors(), paper::said_or_blank(names(site::detectors_of_zone(site_, id_))));
    row(about, say::paper_zone_triggers(), paper::said_or_blank(triggers()));
    row(about, say::paper_zone_cameras(),
        view_ == nullptr ? Cell{paper::Blank{}} : paper::said_or_blank(names(view_->cameras)));
    row(about, say::paper_zone_seen(),
        view_ == nullptr ? Cell{paper::Blank{}} : said(sheets::seen_words(*view_, results::names_of_places(site_))));
    return about;
  }

  std::string triggers() const {
    std::string words;
    for (const auto& [id, trigger] : site_.triggers) {
      if (trigger.zone.id != id_ || !trigger.unit.known()) continue;
      words += words.empty() ? "" : "; ";
      words += trigger.input.known() && trigger.channel.known()
                   ? text(say::paper_trigger_at(electric::thing_words(site_, trigger.unit.id), *trigger.input.value,
                                                *trigger.channel.value))
                   : electric::thing_words(site_, trigger.unit.id);
    }
    return words;
  }

  /// About as high as a list comes out, with its heading.
  static double height_of(const std::vector<std::string>& list) {
    double lines = 0.0;
    for (const std::string& item : list) lines += 1.0 + static_cast<double>(item.size() / kLetters);
    return list.empty() ? 0.0 : kHeading_mm + kLine_mm * lines;
  }

  double wanted_by_pictures() const {
    constexpr double wide = 9.0 / 16.0;  // the usual shape of a picture
    return view_ == nullptr || view_->cameras.empty() ? 0.0 : kFigureWide_mm * wide + kCaption_mm;
  }

  /// Tells how much of the page it takes.
  double add_plan(std::vector<paper::Block>& blocks, double high_mm) const {
    const auto cut = sheets::zone_cut_out(ruler_, *findings_.scene, findings_.views, id_, "plan",
                                          {0.0, 0.0, kFigureWide_mm, high_mm});
    if (!cut) {
      blocks.push_back(paper::Paragraph{text(say::paper_no_plan())});
      return kLine_mm;
    }
    const bool hidden = view_ != nullptr && !view_->coverage.patches.empty();
    std::string caption = text(hidden ? say::paper_plan_caption(site::called(site_.levels, cut->level))
                                      : say::paper_plan_caption_seen(site::called(site_.levels, cut->level)));
    if (!cut->nowhere.empty()) caption += " " + text(say::paper_without_room(cut->nowhere));
    blocks.push_back(paper::Figure{"plan-" + id_, caption, cut->group, cut->box.width(), cut->box.height(), caption});
    return cut->box.height() + kCaption_mm;
  }

  /// Each as large as the page has room for, or on a page of its own.
  void add_pictures(std::vector<paper::Block>& blocks, double left_mm) const {
    if (view_ == nullptr) return;
    const double high = std::max(left_mm - kCaption_mm, kPictureLeast_mm);
    for (const std::string& camera : view_->cameras) {
      const std::string name = electric::thing_words(site_, camera);
      auto expected = sheets::expected_view_of(*findings_.scene, findings_.views, camera, id_);
      if (!expected) {
        blocks.push_back(paper::Paragraph{text(say::paper_no_picture(name))});
        continue;
      }
      expected->words.persons_clear = true;
      const sheets::ExpectedPicture picture =
          sheets::expected_picture(ruler_, *expected, "picture", {0.0, 0.0, kFigureWide_mm, high});
      std::string caption = text(say::paper_picture_caption(name));
      for (std::size_t i = 0; i < expected->words.persons.size(); ++i)
        caption +=
            " " + text(say::paper_person(std::string(1, static_cast<char>('A' + i)), expected->words.persons[i].says));
      blocks.push_back(paper::Figure{"picture-" + id_ + "-" + camera, caption, picture.group, picture.box.width(),
                                     picture.box.height(), caption});
    }
  }

  static void add_list(std::vector<paper::Block>& blocks, const std::string& heading,
                       const std::vector<std::string>& items) {
    if (items.empty()) return;
    blocks.push_back(paper::Heading{4, heading});
    blocks.push_back(paper::List{items});
  }

  std::vector<std::string> patches() const {
    std::vector<std::string> items;
    for (const sheets::NumberedPatch& patch : sheets::numbered_patches(site_, findings_.views, id_))
      items.push_back(text(say::paper_patch(patch.number, sheets::blind_words(site_, patch))));
    if (items.empty() && view_ != nullptr && view_->coverage.area_m2 > 0.0 && view_->gaps.empty())
      items.push_back(text(say::paper_no_patch()));
    return items;
  }

  /// In plain words; volts and metres stand in the summary.
  std::vector<std::string> weak() const {
    const proof::Chain* chain = chain_of(findings_, id_);
    std::vector<std::string> items = chain == nullptr ? std::vector<std::string>{} : operator_lines(*chain);
    if (!items.empty()) items.push_back(text(say::operator_numbers()));
    return items;
  }

  /// What comes of somebody who is let in, as far as panel and unit are set up so.
  std::vector<std::string> entry() const {
    std::vector<std::string> items;
    const auto partition = site_.partitions.find(zone_.partition.id);
    if (zone_.type.is(site::ZoneType::entry_exit) && partition != site_.partitions.end()) {
      const site::Value& entry = partition->second.entry_s;
      items.push_back(entry.known() ? text(say::paper_entry_delay(lasting(entry.high)))
                                    : text(say::paper_entry_delay_unknown()));
      items.push_back(text(say::paper_entry_looks()));
    }
    if (zone_.type.is(site::ZoneType::follower)) items.push_back(text(say::paper_follower_looks()));
    if (zone_.type.is(site::ZoneType::twenty_four_hour)) items.push_back(text(say::paper_always_on()));
    for (const auto& [id, trigger] : site_.triggers) {
      if (trigger.zone.id != id_) continue;
      for (const timeline::EdgeRow& edge : timeline::arming_edge(site_, id)) {
        if (edge.alarm == timeline::Does::yes && edge.clip == timeline::Does::no)
          items.push_back(text(say::paper_alarm_without_clip()));
        if (edge.alarm == timeline::Does::no && edge.clip == timeline::Does::yes)
          items.push_back(text(say::paper_clip_without_alarm()));
      }
    }
    std::set<std::string> told;
    items.erase(
        std::remove_if(items.begin(), items.end(), [&](const std::string& item) { return !told.insert(item).second; }),
        items.end());
    return items;
  }

  const drawing::Ruler& ruler_;
  const Findings& findings_;
  const site::Site& site_;
  const std::string& id_;
  const site::Zone& zone_;
  double page_mm_;
  const sight::ZoneView* view_ = nullptr;
};

}  // namespace

namespace {

std::vector<paper::Column> columns_of_list() {
  return {{"zone", text(say::paper_column_zone())},
          {"chain", text(say::paper_zone_verdict())},
          {"arrives", text(say::paper_zone_triggers())},
          {"cameras", text(say::paper_zone_cameras())}};
}

}  // namespace

paper::Chapter zones_chapter(const drawing::Ruler& ruler, const Findings& findings, const drawing::Format& format) {
  paper::Chapter chapter{"zones", text(say::paper_zones_chapter()), {}};
  paper::Table list{"zone-list", text(say::paper_zones_list()), columns_of_list(), {{"", {}}}};
  std::vector<paper::Block> pages;
  for (const std::string& zone : zones_in_order(findings.site)) {
    if (chain_of(findings, zone) == nullptr) continue;
    const ZonePage page(ruler, findings, zone, format.height_mm);
    list.groups.front().rows.push_back(page.row_of_list());
    pages.push_back(paper::NewPage{});
    page.add_to(pages);
  }
  if (pages.empty()) {
    chapter.blocks.push_back(paper::Paragraph{text(say::paper_no_chains())});
    return chapter;
  }
  chapter.blocks.push_back(paper::Paragraph{text(say::paper_zones_how_to_read())});
  chapter.blocks.push_back(std::move(list));
  std::move(pages.begin(), pages.end(), std::back_inserter(chapter.blocks));
  return chapter;
}

}  // namespace zoneproof::handover
