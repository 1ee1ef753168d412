#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "drawing/ruler.hpp"
#include "drawing/sheet.hpp"
#include "paper/label_stock.hpp"

namespace zoneproof::paper {

/// What a label says: lines, the first in bold, and a QR code where there is text for one.
struct Label {
  std::string id;  ///< of its group; unique
  std::vector<std::string> lines;
  std::string qr = {};
};

struct LabelSheets {
  std::vector<drawing::Sheet> sheets;
  std::vector<Message> messages;  ///< labels whose words or codes the stock has no room for: they are left out
  std::vector<Label> left_out;    ///< all of them
};

/// Labels in their order, row by row, `used` places of the first sheet left free (labels that are gone already). A
/// flag has the same on both halves. The code stands at the left, as high as the print; words beside it in the larger
/// of two sizes that fits. To be printed at 100 %: pages have no margin of their own.
LabelSheets label_sheets(const drawing::Ruler& ruler, const std::vector<Label>& labels, const LabelStock& stock,
                         int used = 0);

}  // namespace zoneproof::paper
