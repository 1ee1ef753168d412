#include "wiring/board.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "base/message.hpp"
#include "messages/wiring.hpp"

namespace zoneproof::wiring {

std::set<int> SheetBook::of(const std::string& thing) const {
  const auto found = sheets_.find(thing);
  return found == sheets_.end() ? std::set<int>{} : found->second;
}

int SheetBook::first(const std::string& thing) const {
  const std::set<int> sheets = of(thing);
  return sheets.empty() ? 0 : *sheets.begin();
}

std::string SheetBook::link(int sheet) const {
  const auto found = ids_.find(sheet);
  return found == ids_.end() ? std::string() : "#" + found->second;
}

std::string SheetBook::shown(const std::set<int>& sheets) {
  std::string says;
  for (auto at = sheets.begin(); at != sheets.end();) {
    auto end = at;
    while (std::next(end) != sheets.end() && *std::next(end) == *end + 1) ++end;
    if (!says.empty()) says += ", ";
    if (*end > *at + 1)
      says += text(say::wiring_sheets_between(*at, *end));
    else
      says += *end > *at ? fmt::format("{}, {}", *at, *end) : fmt::format("{}", *at);
    at = std::next(end);
  }
  return says;
}

std::string Context::reading(const std::string& terminal) const {
  const auto found = options.readings.find(terminal);
  return found == options.readings.end() ? std::string() : found->second;
}

std::size_t Board::add(schematic::Device device) {
  diagram_.devices.push_back(std::move(device));
  return diagram_.devices.size() - 1;
}

std::size_t Board::add(schematic::Device device, double top_mm) {
  device.top_mm = top_mm;
  return add(std::move(device));
}

void Board::join(const std::string& net, std::size_t device, const std::string& port) {
  const auto [entry, fresh] = nets_.emplace(net, diagram_.nets.size());
  if (fresh) diagram_.nets.push_back({net, {}, {}});
  const std::vector<schematic::Port>& ports = diagram_.devices[device].ports;
  const auto at = std::find_if(ports.begin(), ports.end(), [&](const schematic::Port& own) { return own.id == port; });
  if (at == ports.end()) throw std::logic_error("a device without the port " + port);
  diagram_.nets[entry->second].ends.push_back({device, static_cast<std::size_t>(at - ports.begin())});
}

void Board::join(const std::string& net, std::size_t a, const std::string& port_a, std::size_t b,
                 const std::string& port_b) {
  join(net, a, port_a);
  join(net, b, port_b);
}

void Board::pass(Strand& strand, std::size_t device, const std::string& in, const std::string& out) {
  finish(strand, device, in);
  strand = {strand.key, device, out, strand.step + 1};
}

void Board::finish(const Strand& strand, std::size_t device, const std::string& port) {
  join(fmt::format("{}-{}", strand.key, strand.step), strand.device, strand.port, device, port);
}

std::optional<std::size_t> Board::device_of(const std::string& screw) const {
  const auto found = screws_.find(screw);
  if (found == screws_.end()) return std::nullopt;
  return found->second;
}

}  // namespace zoneproof::wiring
