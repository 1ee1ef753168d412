#include "wiring/read_set.hpp"

#include <algorithm>
#include <stdexcept>

#include "wiring/drawn_circuit.hpp"

namespace zoneproof::wiring {

namespace {

using drawing::Group;

/// The marks that boxes of supplies and junctions bear: "T1" to the id in the box's own name.
void read_marks(const Group& group, std::map<std::string, std::string>& marks) {
  for (const char* kind : {"supply-", "consumer-"}) {
    if (!group.name.id.starts_with(kind)) continue;
    std::string says;
    drawing::each(
        group, [](const drawing::Shape&) {},
        [&](const drawing::TextLine& text) {
          if (says.empty()) says = text.content;
        });
    marks.emplace(says.substr(0, says.find(' ')), group.name.id.substr(std::string(kind).size()));
  }
  for (const drawing::Item& item : group.items)
    if (const auto* inner = std::get_if<Group>(&item.what)) read_marks(*inner, marks);
}

class SetReader {
 public:
  SetReader(const site::Site& site, const std::vector<drawing::Sheet>& sheets) : site_(site) {
    for (const drawing::Sheet& sheet : sheets) read_marks(sheet.content, marks_);
  }

  void add(const drawing::Sheet& sheet) {
    for (const std::vector<DrawnPin>& net : nets_of(read(sheet)).nets) {
      Ends ends;
      std::map<std::string, int> seen;
      for (const DrawnPin& pin : net) {
        if (pin.name.starts_with("detectors.")) continue;  // one box for many: each is read where it stands
        // A sheet of negatives names its boxes alone: all of their terminals are the one negative.
        const bool negatives = sheet.name.id.starts_with("wiring-negatives-");
        ends.insert({name_of(pin) + (negatives ? "-minus" : ""), pin_of(pin, sheet)});
      }
      if (!ends.empty()) nets_.push_back(std::move(ends));
    }
  }

  std::vector<Conductor> conductors() {
    merge();
    std::vector<Conductor> found;
    for (const Ends& ends : nets_) {
      Conductor conductor;
      for (const auto& [name, pin] : ends)
        if (!name.starts_with("shared ")) conductor.insert(name);
      found.push_back(std::move(conductor));
    }
    return with_two_ends(std::move(found));
  }

 private:
  using Ends = std::set<std::pair<std::string, int>>;

  /// 0 and 1 for the ends of a symbol in the order in which they are drawn, 0 for terminals and names.
  static int pin_of(const DrawnPin& pin, const drawing::Sheet& sheet) {
    if (!symbol(pin.name)) return 0;
    for (const DrawnPin& other : read(sheet).pins)
      if (other.name == pin.name) return other.at.x == pin.at.x && other.at.y == pin.at.y ? 0 : 1;
    return 0;
  }

  static bool symbol(const std::string& name) {
    for (const char* kind : {"resistor-", "contact-", "fuse-", "cell-"})
      if (name.starts_with(kind)) return true;
    return false;
  }

  std::string name_of(const DrawnPin& pin) const {
    if (pin.tag) return named_by(pin);
    std::string name = pin.name;
    if (name.ends_with("-symbol")) name.resize(name.size() - 7);
    if (!symbol(name)) name = name.substr(0, name.find('.'));
    return name;
  }

  static std::string pole(const std::string& says) { return says.ends_with("+") ? "-plus" : "-minus"; }

  std::string named_by(const DrawnPin& pin) const {
    if (pin.name.starts_with("tag-shared-")) return "shared " + pin.name;
    const std::string says = pin.says.substr(0, pin.says.find(" / "));
    if (says == "+" || says == "−") return unit_of(pin.name) + pole(says);
    const std::string of = says.substr(0, says.rfind(' '));
    for (const auto& [id, panel] : site_.panels)
      if (panel.name == of) return id + pole(says);
    for (const auto& [id, unit] : site_.units)
      if (unit.name == of) return id + pole(says);
    const std::size_t blank = of.find(' ');
    const auto mark = marks_.find(of.substr(0, blank));
    if (mark == marks_.end()) throw std::runtime_error("no box bears the mark of \"" + pin.says + "\"");
    return mark->second + (blank == std::string::npos ? "" : "-" + of.substr(blank + 1)) + pole(says);
  }

  /// Of a bar beside an input: "pole-trigger-ID-pullup", "pole-arming-ID-pullup".
  std::string unit_of(const std::string& name) const {
    for (const auto& [id, trigger] : site_.triggers)
      if (name.starts_with("pole-trigger-" + id + "-pull")) return trigger.unit.id;
    for (const auto& [id, unit] : site_.units)
      if (name.starts_with("pole-arming-" + id + "-pull")) return id;
    throw std::runtime_error("whose pole is " + name);
  }

  /// A terminal is one, on however many sheets it stands; so is an end of a symbol.
  void merge() {
    std::map<std::pair<std::string, int>, std::size_t> first;
    std::vector<std::size_t> parent(nets_.size());
    for (std::size_t i = 0; i < parent.size(); ++i) parent[i] = i;
    const auto find = [&](std::size_t i) {
      while (parent[i] != i) i = parent[i];
      return i;
    };
    for (std::size_t i = 0; i < nets_.size(); ++i)
      for (const auto& end : nets_[i]) {
        const auto [at, fresh] = first.emplace(end, i);
        if (!fresh) parent[find(i)] = find(at->second);
      }
    std::map<std::size_t, Ends> merged;
    for (std::size_t i = 0; i < nets_.size(); ++i) merged[find(i)].insert(nets_[i].begin(), nets_[i].end());
    nets_.clear();
    for (auto& [root, ends] : merged) nets_.push_back(std::move(ends));
  }

  const site::Site& site_;
  std::map<std::string, std::string> marks_;
  std::vector<Ends> nets_;
};

}  // namespace

std::vector<Conductor> with_two_ends(std::vector<Conductor> conductors) {
  conductors.erase(
      std::remove_if(conductors.begin(), conductors.end(), [](const Conductor& c) { return c.size() < 2; }),
      conductors.end());
  std::sort(conductors.begin(), conductors.end());
  return conductors;
}

std::vector<Conductor> conductors_on(const site::Site& site, const std::vector<drawing::Sheet>& sheets) {
  SetReader reader(site, sheets);
  for (const drawing::Sheet& sheet : sheets) reader.add(sheet);
  return reader.conductors();
}

}  // namespace zoneproof::wiring
