#include "wiring/field_row.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/message.hpp"
#include "messages/wiring.hpp"

namespace zoneproof::wiring {

using schematic::kGrid_mm;

void FieldRow::make_field(FieldBlockOf spec, const site::Ref& cable) {
  cable_ = cable;
  spec.most_mm = context_.most_ladder_mm;
  if (in_a_cable(cable_))
    spec.cable_words_mm = room_for_words(context_.ruler, cable_spec(context_, cable_, {}, nullptr));
  field_ = field_block(context_, spec);
  const bool own_first = field_.feeds.empty() || in_cable(field_.feeds.front());
  if (own_first || !in_a_cable(cable_)) return;
  full_ = false;  // supply wires in another cable run where the words would stand
  std::string says;
  for (const std::string& line : words_of_cable(context_, cable_, true)) says += (says.empty() ? "" : ": ") + line;
  spec.notes.push_back(says);
  field_ = field_block(context_, spec);
}

bool FieldRow::has_ladder() const {
  return std::any_of(field_.device.ports.begin(), field_.device.ports.end(),
                     [](const schematic::Port& port) { return port.id == "first"; });
}

void FieldRow::build_cables(Board& board, double top, Strand* first, Strand* second) const {
  std::vector<Strand*> strands;
  schematic::CableOf spec;
  if (in_a_cable(cable_)) spec = cable_spec(context_, cable_, id_, &board, full_);
  const auto core = [&](Strand* strand, double y, const std::string& colour) {
    spec.cores.push_back({strand->key + "-core", y, colour});
    strands.push_back(strand);
  };
  for (std::size_t i = 0; i < field_.feeds.size(); ++i)
    if (in_cable(field_.feeds[i])) core(&plus_[i], field_.feeds[i].plus_mm, field_.feeds[i].feed.core_colour);
  if (in_a_cable(cable_) && first != nullptr) core(first, field_.first_mm, colour_);
  if (in_a_cable(cable_) && second != nullptr) core(second, field_.second_mm, return_colour_);
  for (std::size_t i = field_.feeds.size(); i-- > 0;)
    if (in_cable(field_.feeds[i])) core(&minus_[i], field_.feeds[i].minus_mm, field_.feeds[i].feed.return_core_colour);
  if (!strands.empty()) pass_all(board, top, spec, strands);
  for (std::size_t i = 0; i < field_.feeds.size(); ++i) {
    const FeedPair& pair = field_.feeds[i];
    if (in_cable(pair) || !in_a_cable(pair.feed.cable)) continue;
    for (const bool plus : {true, false}) {
      Strand& strand = plus ? plus_[i] : minus_[i];
      schematic::CableOf own = cable_spec(context_, pair.feed.cable, strand.key, &board, plus && i == 0);
      own.cores.push_back({strand.key + "-core", plus ? pair.plus_mm : pair.minus_mm,
                           plus ? pair.feed.core_colour : pair.feed.return_core_colour});
      pass_all(board, top, own, {&strand});
    }
  }
}

/// The device lies no higher than its words need, so that it takes no room of others.
void FieldRow::pass_all(Board& board, double top, schematic::CableOf spec, const std::vector<Strand*>& strands) const {
  const double room = schematic::on_grid(room_for_words(context_.ruler, spec)), up = spec.cores.front().y_mm - room;
  for (schematic::Core& core : spec.cores) core.y_mm -= up;
  const std::size_t mark = board.add(schematic::cable(context_.ruler, spec, Columns::field_cable), top + up);
  for (std::size_t i = 0; i < strands.size(); ++i)
    board.pass(*strands[i], mark, spec.cores[i].id + "-a", spec.cores[i].id + "-b");
}

void FieldRow::begin_feeds(std::size_t field) const {
  plus_.clear();
  minus_.clear();
  for (std::size_t i = 1; i <= field_.feeds.size(); ++i) {
    plus_.push_back({fmt::format("{}-plus-{}", id_, i), field, fmt::format("plus-{}", i)});
    minus_.push_back({fmt::format("{}-minus-{}", id_, i), field, fmt::format("minus-{}", i)});
  }
}

void FieldRow::finish_feeds(Board& board, double top) const {
  for (std::size_t i = 0; i < field_.feeds.size(); ++i) {
    const FeedPair& pair = field_.feeds[i];
    for (const std::string& detector : pair.detectors) board.note("feed:" + detector);
    if (may_be_fused(pair.feed)) {
      const schematic::Device fuse = fuse_device(context_, pair.detectors.front(), pair.feed, Columns::at_panel);
      const std::size_t at = board.add(fuse, top + pair.plus_mm - fuse.ports.front().y_mm);
      board.pass(plus_[i], at, "in", "out");
    }
    for (const bool plus : {true, false}) {
      const Strand& strand = plus ? plus_[i] : minus_[i];
      const std::size_t tag =
          board.add(pole_tag(context_, pair.feed, plus, "tag-" + strand.key, schematic::Side::left, Columns::panel),
                    top + (plus ? pair.plus_mm : pair.minus_mm) - kGrid_mm);
      board.finish(strand, tag, "wire");
    }
  }
}

}  // namespace zoneproof::wiring
