#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.hpp"
#include "drawing/sheet.hpp"

namespace zoneproof::paper {

inline constexpr double kLabelClear_mm = 0.8;            ///< at the edges of a label, where knives and printers err
inline constexpr double kSmallestLabelLetters_mm = 1.8;  ///< smaller ones nobody reads at a terminal

/// How a label goes about a wire.
enum class LabelKind {
  wrap,  ///< wound round it: printed once, what is below the print is clear film that goes over it
  flag   ///< folded over it: printed on both halves, the fold between them is upright
};

/// A sheet of labels as one can buy it, as its packet tells: a file of one's own, or the generic stock that comes with
/// the program. All in millimetres.
struct LabelStock {
  std::string name;
  LabelKind kind = LabelKind::wrap;
  double paper_width_mm = 0.0, paper_height_mm = 0.0;
  int columns = 0, rows = 0;
  double left_mm = 0.0, top_mm = 0.0;         ///< of the first label
  double pitch_x_mm = 0.0, pitch_y_mm = 0.0;  ///< from a label to its neighbours
  double label_width_mm = 0.0, label_height_mm = 0.0;
  double print_height_mm = 0.0;  ///< from its upper edge; flag: as high as the label
  double fold_mm = 0.0;          ///< flag: width of what lies round the wire
  double least_module_mm = 0.0;  ///< of a QR code that the printer used prints cleanly
  int on_a_sheet() const { return columns * rows; }
  /// What is printed at one place: of a flag one half.
  double face_width_mm() const { return kind == LabelKind::flag ? (label_width_mm - fold_mm) / 2 : label_width_mm; }
};

struct StockRead {
  std::optional<LabelStock> stock;
  std::vector<Message> messages;  ///< with line and column
};

/// Reads {"format": "zoneproof-labels", "version": 1, ...}. Every member must be there, but for `fold_mm` of a wrap.
/// Each thing that is wrong is told once: a key that is missing or unknown, what is no number above 0, a paper that no
/// page of a PDF can be, labels that overlap, leave the paper or hold no letter.
StockRead read_label_stock(std::string_view text, const std::string& file);

/// The stock that comes with the program (data/labels/generic.json, generic_letter.json): no product, a grid for plain
/// adhesive paper of the width given.
const LabelStock& generic_label_stock(const drawing::Format& paper = drawing::kA4);

}  // namespace zoneproof::paper
