#include "paper/label_stock.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "base/embedded.hpp"
#include "base/json_place.hpp"
#include "base/json_text.hpp"
#include "messages/paper.hpp"
#include "paper/grid.hpp"

namespace zoneproof::paper {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kFormat = "zoneproof-labels";
constexpr int kVersion = 1;
constexpr int kShownDigits = 4;
/// The largest page that readers of PDF take: 14400 units of 1/72 inch (ISO 32000-1, annex C.2, from memory).
constexpr double kLargestPaper_mm = 14400.0 / 72.0 * 25.4;
/// Less of it holds no letter.
constexpr double kLeastFace_mm = kSmallestLabelLetters_mm + 2 * kLabelClear_mm;
constexpr int kMostLabels =
    static_cast<int>(kLargestPaper_mm / kLeastFace_mm);  ///< that stand side by side on any paper

struct Field {
  std::string_view key;
  double LabelStock::*member;
  bool may_be_zero;
};
constexpr std::array<Field, 11> kFields = {{{"paper_width_mm", &LabelStock::paper_width_mm, false},
                                            {"paper_height_mm", &LabelStock::paper_height_mm, false},
                                            {"left_mm", &LabelStock::left_mm, true},
                                            {"top_mm", &LabelStock::top_mm, true},
                                            {"pitch_x_mm", &LabelStock::pitch_x_mm, false},
                                            {"pitch_y_mm", &LabelStock::pitch_y_mm, false},
                                            {"label_width_mm", &LabelStock::label_width_mm, false},
                                            {"label_height_mm", &LabelStock::label_height_mm, false},
                                            {"print_height_mm", &LabelStock::print_height_mm, false},
                                            {"fold_mm", &LabelStock::fold_mm, false},
                                            {"least_module_mm", &LabelStock::least_module_mm, false}}};
constexpr std::array<std::pair<std::string_view, int LabelStock::*>, 2> kCounts = {
    {{"columns", &LabelStock::columns}, {"rows", &LabelStock::rows}}};

class Reader {
 public:
  Reader(const Json& document, const std::string& file) : document_(document), file_(file) {}

  StockRead run() {
    if (!document_.is_object() || document_.value("format", Json()) != Json(kFormat)) {
      complain(say::labels_format_wrong(), document_.is_object() && document_.contains("format") ? "/format" : "");
      return {std::nullopt, std::move(messages_)};
    }
    if (document_.value("version", Json()) != Json(kVersion)) complain(say::labels_version_wrong(), "/version");
    read_words();
    for (const auto& [key, member] : kCounts) read_count(key, member);
    for (const Field& field : kFields)
      if (field.key != "fold_mm" || stock_.kind == LabelKind::flag) read_length(field);
    for (const auto& [key, value] : document_.items())
      if (!known(key)) messages_.push_back(say::labels_key_unknown(key).at({file_, "/" + key, 0, 0, true}));
    if (messages_.empty()) hold_together();
    if (!messages_.empty()) return {std::nullopt, std::move(messages_)};
    return {stock_, {}};
  }

 private:
  void complain(Message message, const std::string& pointer) {
    messages_.push_back(std::move(message).at({file_, pointer, 0, 0, false}));
  }

  bool known(const std::string& key) const {
    for (const std::string_view word : {"format", "version", "name", "kind"})
      if (key == word) return true;
    for (const auto& [word, member] : kCounts)
      if (key == word) return true;
    for (const Field& field : kFields)
      if (key == field.key) return field.key != "fold_mm" || stock_.kind == LabelKind::flag;
    return false;
  }

  /// The value of a key that must be there.
  const Json* wanted(std::string_view key) {
    const auto found = document_.find(std::string(key));
    if (found != document_.end()) return &*found;
    complain(say::labels_key_missing(std::string(key)), "");
    return nullptr;
  }

  void read_words() {
    const Json* name = wanted("name");
    if (name != nullptr && name->is_string()) stock_.name = name->get<std::string>();
    if (name != nullptr && !name->is_string()) complain(say::labels_text_wanted("name"), "/name");
    const Json* kind = wanted("kind");
    if (kind == nullptr) return;
    if (*kind == "flag") stock_.kind = LabelKind::flag;
    if (*kind != "flag" && *kind != "wrap") complain(say::labels_kind_unknown(), "/kind");
  }

  void read_count(std::string_view key, int LabelStock::*member) {
    const Json* value = wanted(key);
    if (value == nullptr) return;
    if (!value->is_number_integer() || *value < 1 || *value > kMostLabels)
      return complain(say::labels_count_wanted(std::string(key), kMostLabels), "/" + std::string(key));
    stock_.*member = value->get<int>();
  }

  void read_length(const Field& field) {
    const Json* value = wanted(field.key);
    if (value == nullptr) return;
    const std::string key(field.key);
    const double length = value->is_number() ? value->get<double>() : -1.0;
    if (length < 0.0 || (length == 0.0 && !field.may_be_zero))
      return complain(field.may_be_zero ? say::labels_distance_wanted(key) : say::labels_length_wanted(key), "/" + key);
    if (key.starts_with("paper_") && length > kLargestPaper_mm)
      return complain(say::labels_paper_too_large(Measure{length, "mm", kShownDigits},
                                                  Measure{kLargestPaper_mm, "mm", kShownDigits}),
                      "/" + key);
    stock_.*(field.member) = length;
  }

  void hold_together() {
    const LabelStock& s = stock_;
    const double right = s.left_mm + (s.columns - 1) * s.pitch_x_mm + s.label_width_mm;
    const double bottom = s.top_mm + (s.rows - 1) * s.pitch_y_mm + s.label_height_mm;
    const auto mm = [](double length) { return Measure{length, "mm", kShownDigits}; };
    if (right > s.paper_width_mm + kRounding_mm)
      complain(say::labels_leave_right(mm(right), mm(s.paper_width_mm)), "/paper_width_mm");
    if (bottom > s.paper_height_mm + kRounding_mm)
      complain(say::labels_leave_below(mm(bottom), mm(s.paper_height_mm)), "/paper_height_mm");
    if (s.columns > 1 && s.pitch_x_mm < s.label_width_mm - kRounding_mm)
      complain(say::labels_overlap(mm(s.pitch_x_mm), mm(s.label_width_mm)), "/pitch_x_mm");
    if (s.rows > 1 && s.pitch_y_mm < s.label_height_mm - kRounding_mm)
      complain(say::labels_overlap(mm(s.pitch_y_mm), mm(s.label_height_mm)), "/pitch_y_mm");
    if (s.print_height_mm > s.label_height_mm + kRounding_mm)
      complain(say::labels_print_too_high(mm(s.print_height_mm), mm(s.label_height_mm)), "/print_height_mm");
    if (s.kind == LabelKind::flag && s.fold_mm >= s.label_width_mm)
      complain(say::labels_fold_too_wide(mm(s.fold_mm), mm(s.label_width_mm)), "/fold_mm");
    if (messages_.empty() && std::min(s.face_width_mm(), s.print_height_mm) < kLeastFace_mm - kRounding_mm)
      complain(say::labels_no_room(mm(s.face_width_mm()), mm(s.print_height_mm), mm(kLeastFace_mm)),
               s.print_height_mm < kLeastFace_mm - kRounding_mm ? "/print_height_mm" : "/label_width_mm");
  }

  const Json& document_;
  const std::string& file_;
  LabelStock stock_;
  std::vector<Message> messages_;
};

}  // namespace

StockRead read_label_stock(std::string_view text, const std::string& file) {
  StockRead read;
  const Json document = parse_json(text, file, read.messages);
  if (any_error(read.messages)) return read;
  StockRead made = Reader(document, file).run();
  place_in_text(made.messages, text);
  made.messages.insert(made.messages.begin(), read.messages.begin(), read.messages.end());
  return made;
}

const LabelStock& generic_label_stock(const drawing::Format& paper) {
  static const auto embedded = [](const std::string& name) {
    StockRead read = read_label_stock(embedded_file(name), name);
    if (!read.stock) throw std::logic_error(full_text(read.messages.front()));
    return *read.stock;
  };
  static const LabelStock a4 = embedded("labels/generic.json"), letter = embedded("labels/generic_letter.json");
  return paper.width_mm == drawing::kLetter.width_mm ? letter : a4;
}

}  // namespace zoneproof::paper
