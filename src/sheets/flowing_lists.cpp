#include "sheets/flowing_lists.hpp"

#include <fmt/format.h>

#include "base/message.hpp"
#include "drawing/text_block.hpp"
#include "drawing/type.hpp"
#include "messages/sheets.hpp"

namespace zoneproof::sheets {

using drawing::Role;
using std::string;

namespace {

constexpr double kLineGap_mm = 1.6, kListGap_mm = 2.4;

drawing::TextBlock block(const drawing::Ruler& ruler, const string& says, bool heading, double width) {
  return drawing::broken(ruler, says, {Role::reading, heading}, heading ? drawing::kReading_mm : drawing::kLabel_mm,
                         width);
}

}  // namespace

double FlowingLists::height(const drawing::Ruler& ruler, const string& says, bool heading) const {
  return slots.empty() ? 0.0 : block(ruler, says, heading, slots.front().width()).height_mm + kLineGap_mm;
}

bool FlowingLists::set(const drawing::Ruler& ruler, const string& says, bool heading, double with_next_mm) {
  for (Cursor at = cursor_; at.slot < slots.size(); ++at.slot, at.used_mm = 0.0) {
    const drawing::Box& slot = slots[at.slot];
    const drawing::TextBlock made = block(ruler, says, heading, slot.width());
    if (at.used_mm + made.height_mm + with_next_mm > slot.height()) continue;
    group.items.push_back({drawing::set(ruler, fmt::format("list-{}", group.items.size() + 1), made, drawing::Ink::text,
                                        {slot.left, slot.top + at.used_mm})});
    cursor_ = {at.slot, group.items.size(), at.used_mm + made.height_mm + kLineGap_mm};
    return true;
  }
  return false;
}

void FlowingLists::back_to(const Cursor& cursor) {
  group.items.resize(cursor.items);
  cursor_ = cursor;
}

void FlowingLists::add(const drawing::Ruler& ruler, const string& heading, const std::vector<string>& lines) {
  if (lines.empty()) return;
  const Cursor begin = cursor_;
  if (cursor_.used_mm > 0.0) cursor_.used_mm += kListGap_mm;
  if (!heading.empty() && !set(ruler, heading, true, height(ruler, lines.front(), false))) return back_to(begin);
  std::vector<Cursor> before;
  std::size_t done = 0;
  for (; done < lines.size(); ++done) {
    before.push_back(cursor_);
    if (!set(ruler, lines[done], false, 0.0)) break;
  }
  while (done < lines.size()) {
    if (set(ruler, text(say::sheets_more(static_cast<long long>(lines.size() - done))), false, 0.0)) return;
    if (done == 0) return;
    back_to(before[--done]);
  }
}

}  // namespace zoneproof::sheets
