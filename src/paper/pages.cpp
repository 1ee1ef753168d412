#include "paper/pages.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>
#include <stdexcept>

#include "base/message.hpp"
#include "base/utf8.hpp"
#include "messages/paper.hpp"
#include "paper/block_strips.hpp"
#include "paper/contents.hpp"
#include "paper/flow.hpp"
#include "paper/page_frame.hpp"
#include "paper/table_strips.hpp"

namespace zoneproof::paper {

namespace {

constexpr int kDeepestListed = 3;

/// A chapter made into strips; tells what the table of contents is to say of it.
class ChapterSetter {
 public:
  ChapterSetter(const drawing::Ruler& ruler, const PageFrame& frame, const Chapter& chapter,
                std::vector<ContentsEntry>& entries)
      : ruler_(ruler), frame_(frame), chapter_(chapter), entries_(entries) {}

  std::vector<Element> run() {
    // A chapter that lies from its first page on has its heading there.
    const auto* turn = chapter_.blocks.empty() ? nullptr : std::get_if<Turn>(&chapter_.blocks.front());
    if (turn != nullptr) add(*turn);
    heading(1, chapter_.title, chapter_.id);
    for (std::size_t i = turn != nullptr ? 1 : 0; i < chapter_.blocks.size(); ++i)
      std::visit([this](const auto& block) { add(block); }, chapter_.blocks[i]);
    return std::move(elements_);
  }

 private:
  Room room() const { return frame_.room(lying_); }

  void append(std::vector<Strip> strips) {
    for (Strip& strip : strips) elements_.push_back(std::move(strip));
  }

  void heading(int level, const std::string& says, const std::string& id) {
    append(heading_strips(ruler_, level, says, id, room()));
    if (level <= kDeepestListed) entries_.push_back({level, says, id});
  }

  void add(const Heading& block) {
    ++headings_;
    heading(block.level, block.says, block.id.empty() ? fmt::format("{}-h{}", chapter_.id, headings_) : block.id);
  }
  void add(const NewPage& block) { elements_.push_back(block); }
  void add(const Turn& block) {
    lying_ = block.lying;
    elements_.push_back(block);
  }
  void add(const Inserted& block) {
    for (const drawing::Sheet& sheet : block.sheets) entries_.push_back({2, listed(sheet), sheet.name.id});
    elements_.push_back(block);
  }
  /// Its title, and its size where that is not the paper of the document: who prints has to know.
  std::string listed(const drawing::Sheet& sheet) const {
    constexpr double same_mm = 0.5;
    constexpr int digits = 4;
    for (const bool lying : {false, true}) {
      const drawing::Format own = frame_.format(lying);
      if (std::abs(own.width_mm - sheet.format.width_mm) < same_mm &&
          std::abs(own.height_mm - sheet.format.height_mm) < same_mm)
        return sheet.name.title;
    }
    return text(say::paper_other_size(sheet.name.title, {sheet.format.width_mm, "mm", digits},
                                      {sheet.format.height_mm, "mm", digits}));
  }
  void add(const FillIn& block) {
    if (auto* before = elements_.empty() ? nullptr : std::get_if<Strip>(&elements_.back()))
      before->stays_with_next = true;
    append(strips_of(ruler_, block, room()));
  }
  template <typename Block>
  void add(const Block& block) {
    append(strips_of(ruler_, block, room()));
  }

  const drawing::Ruler& ruler_;
  const PageFrame& frame_;
  const Chapter& chapter_;
  std::vector<ContentsEntry>& entries_;
  std::vector<Element> elements_;
  bool lying_ = false;
  int headings_ = 0;
};

void collect_ids(const drawing::Group& group, std::vector<std::string>& ids, std::set<std::string>* links) {
  const auto look_at = [&](const drawing::Name& name) {
    if (!name.id.empty()) ids.push_back(name.id);
    if (links != nullptr && name.link.starts_with('#')) links->insert(name.link.substr(1));
  };
  look_at(group.name);
  for (const drawing::Item& item : group.items) {
    if (const auto* inner = std::get_if<drawing::Group>(&item.what)) {
      collect_ids(*inner, ids, links);
    } else {
      std::visit([&](const auto& what) { look_at(what.name); }, item.what);
    }
  }
}

/// The number of the page of everything that has an id, with so many pages before.
std::map<std::string, std::size_t> page_by_id(const std::vector<Page>& pages, std::size_t before) {
  std::map<std::string, std::size_t> found;
  for (std::size_t i = 0; i < pages.size(); ++i) {
    std::vector<std::string> ids;
    collect_ids(pages[i].text, ids, nullptr);
    if (!pages[i].inserted.empty()) ids.push_back(pages[i].inserted.front().name.id);
    for (const std::string& id : ids) found.emplace(id, before + i + 1);
  }
  return found;
}

drawing::Sheet inserted_sheet(const PageFrame& frame, const drawing::Sheet& made, std::size_t number,
                              std::size_t count) {
  drawing::Sheet sheet = made;
  sheet.content = {};
  drawing::Group group = with_prefix(made.content, made.name.id);
  group.name = {made.name.id, made.name.title, {}};
  group.bookmark = made.name.title;
  group.bookmark_level = 2;
  sheet.content.items.push_back({std::move(group)});
  frame.add_foot_below(sheet, number, count);
  return sheet;
}

drawing::Sheet own_sheet(const PageFrame& frame, const Page& page, const std::string& chapter, std::size_t number,
                         std::size_t count) {
  drawing::Sheet sheet;
  sheet.format = frame.format(page.lying);
  sheet.margins = PageFrame::margins(page.lying);
  sheet.name.title = text(say::paper_page_of(chapter, static_cast<long long>(number)));
  sheet.description = sheet.name.title;
  frame.add_to(sheet, page.lying, chapter, number, count);
  sheet.content.items.push_back({page.text});
  return sheet;
}

/// Throws where an id is used twice or a link leads nowhere. Head and foot have the same ids on every page.
void require_sound(const std::vector<drawing::Sheet>& sheets) {
  std::set<std::string> known, links;
  for (const drawing::Sheet& sheet : sheets) {
    std::vector<std::string> ids;
    collect_ids(sheet.content, ids, &links);
    for (const std::string& id : ids)
      if (!known.insert(id).second && id != kHeadId && id != kFootId)
        throw std::invalid_argument(fmt::format("the id \"{}\" is used twice", id));
  }
  for (const std::string& link : links)
    if (!known.contains(link)) throw std::invalid_argument(fmt::format("nothing has the id \"{}\" of a link", link));
}

}  // namespace

std::vector<drawing::Sheet> pages(const drawing::Ruler& ruler, const std::vector<Chapter>& chapters,
                                  const Style& style) {
  std::vector<std::string> titles = {text(say::paper_contents())};
  for (const Chapter& chapter : chapters) titles.push_back(chapter.title);
  const PageFrame frame(ruler, style, titles);
  std::vector<ContentsEntry> entries;
  Flow body(frame), front(frame);
  for (std::size_t i = 0; i < chapters.size(); ++i)
    body.add(i + 1, ChapterSetter(ruler, frame, chapters[i], entries).run(), chapters[i].follows);
  if (style.contents) {
    Flow counted(frame);
    counted.add(0, contents(ruler, style.stamp, entries, {}, frame.room(false)));
    front.add(
        0, contents(ruler, style.stamp, entries, page_by_id(body.pages(), counted.pages().size()), frame.room(false)));
  }
  std::vector<Page> all = front.pages();
  all.insert(all.end(), body.pages().begin(), body.pages().end());
  std::vector<drawing::Sheet> sheets;
  for (const Page& page : all) {
    const std::size_t number = sheets.size() + 1;
    sheets.push_back(page.inserted.empty() ? own_sheet(frame, page, titles[page.chapter], number, all.size())
                                           : inserted_sheet(frame, page.inserted.front(), number, all.size()));
    sheets.back().name.id = fmt::format("page-{}", number);
    sheets.back().in_outline = false;
  }
  require_sound(sheets);
  return sheets;
}

drawing::Document document(const drawing::Ruler& ruler, const std::vector<Chapter>& chapters, const Style& style,
                           const std::string& created) {
  drawing::Document made;
  made.sheets = pages(ruler, chapters, style);
  made.title = printable(style.stamp.name, style.stamp.name.size());
  made.subject = printable(style.stamp.title, style.stamp.title.size());
  made.keywords = style.stamp.hash;
  made.created = created;
  return made;
}

}  // namespace zoneproof::paper
