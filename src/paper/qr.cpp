#include "paper/qr.hpp"

#include <algorithm>
#include <map>
#include <qrcodegen.hpp>
#include <stdexcept>
#include <utility>
#include <vector>

#include "drawing/shapes.hpp"

namespace zoneproof::paper {

namespace {

constexpr int kQuiet = 4;

/// UTF-8 is announced where it is more than ASCII (ISO/IEC 18004: interpretation 26): unannounced bytes are ISO 8859-1
/// by the standard, and readers guess.
std::vector<qrcodegen::QrSegment> segments_of(const std::string& says) {
  constexpr long utf8 = 26;
  const bool ascii = std::all_of(says.begin(), says.end(), [](char c) { return c > '\0' && c <= '\x7e'; });
  if (ascii) return qrcodegen::QrSegment::makeSegments(says.c_str());
  return {qrcodegen::QrSegment::makeEci(utf8), qrcodegen::QrSegment::makeBytes({says.begin(), says.end()})};
}

std::optional<qrcodegen::QrCode> encoded(const std::string& says, QrStrength strength) {
  using Ecc = qrcodegen::QrCode::Ecc;
  try {
    return qrcodegen::QrCode::encodeSegments(segments_of(says),
                                             strength == QrStrength::medium ? Ecc::MEDIUM : Ecc::LOW);
  } catch (const qrcodegen::data_too_long&) {
    return std::nullopt;
  }
}

using Corner = std::pair<int, int>;

/// The edges between dark and light, each so that dark is at its right hand, by the corner where they begin.
std::map<Corner, std::vector<Corner>> edges_of(const qrcodegen::QrCode& code) {
  std::map<Corner, std::vector<Corner>> edges;
  for (int y = 0; y < code.getSize(); ++y) {
    for (int x = 0; x < code.getSize(); ++x) {
      if (!code.getModule(x, y)) continue;
      if (!code.getModule(x, y - 1)) edges[{x, y}].push_back({x + 1, y});
      if (!code.getModule(x + 1, y)) edges[{x + 1, y}].push_back({x + 1, y + 1});
      if (!code.getModule(x, y + 1)) edges[{x + 1, y + 1}].push_back({x, y + 1});
      if (!code.getModule(x - 1, y)) edges[{x, y + 1}].push_back({x, y});
    }
  }
  return edges;
}

/// Follows edges into closed rings; corners at which a ring goes straight on are left out.
std::vector<std::vector<Corner>> rings_of(std::map<Corner, std::vector<Corner>> edges) {
  std::vector<std::vector<Corner>> rings;
  while (!edges.empty()) {
    std::vector<Corner> ring;
    const Corner start = edges.begin()->first;
    Corner at = start;
    do {
      const auto found = edges.find(at);
      const Corner next = found->second.back();
      found->second.pop_back();
      if (found->second.empty()) edges.erase(found);
      const std::size_t count = ring.size();
      const bool down = at.first == next.first;
      const bool straight =
          count > 0 && (down ? ring[count - 1].first == at.first : ring[count - 1].second == at.second);
      if (!straight) ring.push_back(at);
      at = next;
    } while (at != start);
    rings.push_back(std::move(ring));
  }
  return rings;
}

}  // namespace

std::optional<int> qr_modules(const std::string& says, QrStrength strength) {
  const auto code = encoded(says, strength);
  return code ? std::optional(code->getSize() + 2 * kQuiet) : std::nullopt;
}

QrDrawn qr_code(const std::string& id, const std::string& says, drawing::Point at, double side_mm,
                QrStrength strength) {
  const auto made = encoded(says, strength);
  if (!made) throw std::invalid_argument("a QR code cannot hold so long a text");
  const qrcodegen::QrCode& code = *made;
  QrDrawn drawn;
  drawn.box = {at.x, at.y, at.x + side_mm, at.y + side_mm};
  drawn.module_mm = side_mm / (code.getSize() + 2 * kQuiet);
  std::vector<drawing::Subpath> path;
  for (const std::vector<Corner>& ring : rings_of(edges_of(code))) {
    drawing::Points points;
    for (const auto& [x, y] : ring)
      points.push_back({at.x + (x + kQuiet) * drawn.module_mm, at.y + (y + kQuiet) * drawn.module_mm});
    path.push_back(drawing::ring(points));
  }
  drawn.shape = drawing::filled(id, std::move(path), drawing::Ink::text);
  drawn.shape.name.title = says;
  return drawn;
}

}  // namespace zoneproof::paper
