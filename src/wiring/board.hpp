#pragma once
#include <map>
#include <set>
#include <string>
#include <vector>

#include "drawing/ruler.hpp"
#include "schematic/diagram.hpp"
#include "site/model.hpp"
#include "wiring/names.hpp"
#include "wiring/wiring.hpp"

/// What the sheets of one set share while they are made, and a sheet's diagram under construction.
namespace zoneproof::wiring {

/// On which sheets things are drawn: "supply:ID", "zone:ID" (its loop), "feed:ID" (a detector's supply terminals),
/// "unit:ID", "shared:ID". Known from a pass before the one that writes the numbers.
class SheetBook {
 public:
  void note(const std::string& thing, int sheet) { sheets_[thing].insert(sheet); }
  void name(int sheet, const std::string& id) { ids_[sheet] = id; }
  std::set<int> of(const std::string& thing) const;
  /// The first sheet of a thing; 0: none.
  int first(const std::string& thing) const;
  /// "#wiring-supplies-1", for a link to that sheet; empty where there is none.
  std::string link(int sheet) const;
  /// "3, 5" of several; a run of three or more as "3 to 6".
  static std::string shown(const std::set<int>& sheets);
  bool operator==(const SheetBook&) const = default;

 private:
  std::map<std::string, std::set<int>> sheets_;
  std::map<int, std::string> ids_;
};

struct Context {
  const drawing::Ruler& ruler;
  const site::Site& site;
  const std::string& hash;  ///< of the site, made once for all sheets
  const Options& options;
  const Marks& marks;
  const SheetBook& book;                                 ///< of the pass before
  const std::map<std::string, std::string>& feed_homes;  ///< of each fed detector: the row that shows its supply
  double most_ladder_mm = 0.0;  ///< the width that the contacts of a loop may take before they fold

  /// The figure that somebody wants beside a terminal.
  std::string reading(const std::string& terminal) const;
};

/// One of the lines of a row on its way to the right: the terminal where it ends so far.
struct Strand {
  std::string key;  ///< nets are called KEY-1, KEY-2 and so on from symbol to symbol
  std::size_t device = 0;
  std::string port;
  int step = 1;
};

class Board {
 public:
  explicit Board(int sheet) : sheet_(sheet) {}
  int sheet() const { return sheet_; }

  std::size_t add(schematic::Device device);
  std::size_t add(schematic::Device device, double top_mm);
  /// Makes a terminal of a device one of the ends of a net. Throws std::logic_error where the device has no such port.
  void join(const std::string& net, std::size_t device, const std::string& port);
  void join(const std::string& net, std::size_t a, const std::string& port_a, std::size_t b, const std::string& port_b);
  /// Leads a strand to `in`; it goes on from `out`.
  void pass(Strand& strand, std::size_t device, const std::string& in, const std::string& out);
  void finish(const Strand& strand, std::size_t device, const std::string& port);

  void note(const std::string& thing) { things_.insert(thing); }
  /// Whether this is the first time on this sheet that somebody says so.
  bool first_time(const std::string& thing) { return said_.insert(thing).second; }
  /// Where a terminal stands that more than one wire may end at.
  void stands(const std::string& screw, std::size_t device) { screws_[screw] = device; }
  std::optional<std::size_t> device_of(const std::string& screw) const;

  const schematic::Diagram& diagram() const { return diagram_; }
  const std::set<std::string>& things() const { return things_; }

 private:
  int sheet_;
  schematic::Diagram diagram_;
  std::map<std::string, std::size_t> nets_;
  std::set<std::string> things_, said_;
  std::map<std::string, std::size_t> screws_;
};

}  // namespace zoneproof::wiring
