// The whole handover file of generated sites, page by page: no two texts meet, nothing leaves its sheet, no line of a
// page runs through a text, wires keep their distance. A few sites here; more by hand, each of 1 to 12 zones from its
// own seed: ZONEPROOF_LAYOUT_SITES=100 build/release/tests/handover_tests --gtest_filter='EveryPage*'
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>
#include <variant>

#include "drawing/faults.hpp"
#include "drawing/geometry.hpp"
#include "drawing/list.hpp"
#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"
#include "handover/demo_site.hpp"
#include "handover/handover_file.hpp"
#include "handover/labels.hpp"
#include "large_site.hpp"
#include "paper/label_sheets.hpp"
#include "site/file.hpp"
#include "wiring/drawn_circuit.hpp"

namespace zoneproof::handover {
namespace {

constexpr double kApart_mm = 2.4;  // the grid of wiring is 2.5 mm
constexpr double kHair_mm = 0.02;
constexpr unsigned kMostZones = 12;

unsigned sites_wanted() {
  const char* asked = std::getenv("ZONEPROOF_LAYOUT_SITES");
  constexpr unsigned few = 3;
  return asked == nullptr ? few : static_cast<unsigned>(std::strtoul(asked, nullptr, 10));
}

bool begins(const std::string& text, const char* with) { return text.rfind(with, 0) == 0; }

/// Sheets of wiring whose lines are conductors; overviews have lines that stand for cables.
bool of_conductors(const std::string& id) {
  return begins(id, "wiring-") && !begins(id, "wiring-overview-") && !begins(id, "wiring-network-");
}

/// Plans and pictures: there words lie on what is drawn, upon a ground of their own.
bool has_ground(const std::string& id) {
  return begins(id, "plan-") || begins(id, "view-") || begins(id, "expected-") || begins(id, "picture-");
}

/// What stands on a page, without what lies on a ground.
struct Inked {
  std::vector<const drawing::TextLine*> texts;
  std::vector<std::pair<std::string, drawing::Line>> lines;

  void take(const drawing::Group& group) {
    if (has_ground(group.name.id)) return;
    for (const drawing::Item& item : group.items) {
      if (const auto* inner = std::get_if<drawing::Group>(&item.what)) take(*inner);
      if (const auto* text = std::get_if<drawing::TextLine>(&item.what)) texts.push_back(text);
      if (const auto* shape = std::get_if<drawing::Shape>(&item.what); shape != nullptr && shape->stroke)
        take(*shape, shape->name.id.empty() ? group.name.id : shape->name.id);
    }
  }

 private:
  void take(const drawing::Shape& shape, const std::string& id) {
    for (const drawing::Subpath& path : shape.path) {
      const drawing::Points points = drawing::flattened(path, 0.05);
      for (std::size_t i = 0; i + 1 < points.size(); ++i) lines.push_back({id, {points[i], points[i + 1]}});
    }
  }
};

std::vector<std::string> faults_of(const drawing::Sheet& page) {
  std::vector<std::string> faults = drawing::layout_faults(page);
  Inked inked;
  inked.take(page.content);
  for (const auto& [id, line] : inked.lines)
    for (const drawing::TextLine* text : inked.texts)
      if (drawing::cross(line, drawing::grown(text->box(), -kHair_mm)))
        faults.push_back(fmt::format("a line ({}) runs through \"{}\"", id, text->content));
  return faults;
}

struct Looked {
  std::size_t sites = 0, pages = 0, faults = 0;
};

void look_at(const site::Site& site, const drawing::Format& paper, Looked& looked) {
  FileOptions options;
  options.paper = paper;
  options.created = "2026-03-01T12:00:00Z";
  options.date = "2026-03-01";
  const Findings findings = find(site, nullptr, {});
  const drawing::Ruler& ruler = drawing::test_ruler();
  const std::vector<paper::Chapter> all = chapters(ruler, findings, options);
  std::vector<drawing::Sheet> pages = paper::pages(ruler, all, demo_style(site, paper));
  for (drawing::Sheet& sheet :
       paper::label_sheets(ruler, labels_of(site, ""), paper::generic_label_stock(paper)).sheets)
    pages.push_back(std::move(sheet));
  ++looked.sites;
  looked.pages += pages.size();
  const auto told = [&](const std::string& where, const std::string& fault) {
    ADD_FAILURE() << site.name << ", " << where << ": " << fault;
    ++looked.faults;
  };
  for (const paper::Chapter& chapter : all)
    for (const paper::Block& block : chapter.blocks)
      if (const auto* inserted = std::get_if<paper::Inserted>(&block))
        for (const drawing::Sheet& sheet : inserted->sheets)
          if (of_conductors(sheet.name.id))
            for (const std::string& fault : wiring::hard_to_read(sheet, kApart_mm)) told(sheet.name.id, fault);
  for (const drawing::Sheet& page : pages)
    for (const std::string& fault : faults_of(page)) told(page.name.id, fault);
}

site::Site generated(unsigned zones, unsigned seed) {
  const std::string name = fmt::format("{} zones, seed {}", zones, seed);
  site::ReadResult read = site::read_site(large::site_text(zones, seed), name);
  if (!read.site) throw std::runtime_error(name + ": " + full_text(read.messages.front()));
  read.site->name = name;
  return *std::move(read.site);
}

/// Names as long as people make them, and one word as long as nobody should.
template <class Things>
void stretch(Things& things, unsigned seed) {
  unsigned at = seed;
  for (auto& entry : things) {
    constexpr unsigned kinds = 5;
    constexpr std::size_t longest = 200;  // of a name, by the format of the file
    switch (++at % kinds) {
      case 0: entry.second.name += " beside the goods entrance of the northern extension, upper landing"; break;
      case 1: entry.second.name = "Gebäudeleittechnikzentralenverteilerunterstation"; break;
      case 2: entry.second.name = "W"; break;
      case 3: entry.second.name = std::string(longest, 'W'); break;
      default: break;
    }
  }
}

site::Site stretched(const char* demo, unsigned seed) {
  site::Site site = demo_site(demo);
  stretch(site.zones, seed);
  stretch(site.detectors, seed + 1);
  stretch(site.cameras, seed + 2);
  stretch(site.panels, seed + 3);
  stretch(site.units, seed + 4);
  stretch(site.supplies, seed + 5);
  stretch(site.cables, seed + 6);
  stretch(site.areas, seed + 7);
  stretch(site.loads, seed + 8);
  site.name = fmt::format("{} with other names, {}", demo, seed);
  return site;
}

/// A site of which half is not known: fuses, cables, lengths, resistors, parts.
void forget(site::Site& site, unsigned seed) {
  unsigned at = seed;
  const auto half = [&] { return ++at % 2 == 0; };
  const auto feed = [&](site::Feed& one) {
    if (!one.from.known()) return;
    if (half()) one.fuse_A = {};
    if (++at % 3 == 0) one.cable.id.clear();
  };
  for (auto& entry : site.units) feed(entry.second.feed);
  for (auto& entry : site.panels) feed(entry.second.feed);
  for (auto& entry : site.loads) feed(entry.second.feed);
  for (auto& entry : site.detectors) feed(entry.second.feed);
  for (auto& entry : site.zones) {
    if (half()) entry.second.loop.eol_ohm = {};
    if (++at % 3 == 0) entry.second.loop.cable.id.clear();
  }
  for (auto& entry : site.triggers)
    if (++at % 3 == 0) entry.second.cable.id.clear();
  for (auto& entry : site.cables)
    if (half()) entry.second.length_m = {};
  for (auto& entry : site.batteries)
    if (half()) entry.second.part.id.clear();
  site.name += ", half of it not known";
}

const drawing::Format& paper_of(unsigned seed) { return seed % 2 == 0 ? drawing::kA4 : drawing::kLetter; }

TEST(EveryPage, OfGeneratedSitesHoldsTogether) {
  Looked looked;
  for (unsigned seed = 1; seed <= sites_wanted(); ++seed) {
    constexpr unsigned step = 5;  // prime to the most: every count comes
    look_at(generated(1 + seed * step % kMostZones, seed), paper_of(seed), looked);
  }
  std::cout << looked.sites << " sites, " << looked.pages << " pages, " << looked.faults << " faults\n";
  EXPECT_GT(looked.pages, 10 * looked.sites);
}

TEST(EveryPage, OfSitesOfWhichHalfIsNotKnownHoldsTogether) {
  Looked looked;
  for (unsigned seed = 1; seed <= sites_wanted() / 3; ++seed) {
    constexpr unsigned step = 7;
    site::Site site = seed % 2 == 0 ? stretched("kiln-yard", seed) : generated(1 + seed * step % kMostZones, seed);
    forget(site, seed);
    look_at(site, paper_of(seed), looked);
  }
  std::cout << looked.sites << " sites, " << looked.pages << " pages, " << looked.faults << " faults\n";
}

TEST(EveryPage, OfSitesWithLongNamesHoldsTogether) {
  Looked looked;
  const unsigned variants = sites_wanted() / 3;
  for (unsigned seed = 1; seed <= variants; ++seed) {
    const char* const demos[] = {"kiln-yard", "tern-hollow", "saltmarsh"};
    look_at(stretched(demos[(seed - 1) % 3], seed), paper_of(seed), looked);
  }
  std::cout << looked.sites << " sites, " << looked.pages << " pages, " << looked.faults << " faults\n";
}

TEST(EveryPage, WouldTellOfALineThroughATextAndOfTwoTextsThatMeet) {
  const site::Site site = generated(2, 1);
  FileOptions options;
  options.created = "2026-03-01T12:00:00Z";
  const Findings findings = find(site, nullptr, {});
  const drawing::Ruler& ruler = drawing::test_ruler();
  std::vector<drawing::Sheet> pages =
      paper::pages(ruler, chapters(ruler, findings, options), demo_style(site, drawing::kA4));
  drawing::Sheet& page = pages.at(3);
  ASSERT_TRUE(faults_of(page).empty());
  const drawing::TextLine* first = nullptr;
  drawing::each(
      page.content, [](const drawing::Shape&) {},
      [&](const drawing::TextLine& text) { first = first == nullptr ? &text : first; });
  ASSERT_NE(first, nullptr);
  const drawing::TextLine twice = *first;
  const drawing::Box box = twice.box();
  const double y = (box.top + box.bottom) / 2;
  page.content.items.push_back({drawing::stroked({}, {drawing::line_through({{box.left - 1, y}, {box.right + 1, y}})},
                                                 {drawing::Ink::line, 0.25})});
  EXPECT_EQ(faults_of(page).size(), 1U);
  page.content.items.push_back({twice});
  EXPECT_GT(faults_of(page).size(), 1U);
}

}  // namespace
}  // namespace zoneproof::handover
