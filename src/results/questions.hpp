#pragma once
#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/message.hpp"

/// What can be asked. A question is named as the command that asks it, its members as that command's options.
namespace zoneproof::results {

/// Every problem of a site file, and what is still to be found out on site.
struct CheckQuestion {};

/// The chains of all zones.
struct ProveQuestion {
  std::vector<std::string> links;  ///< words of links; empty: all
  std::string zone;                ///< id or number; empty: all
};

/// Voltages of each zone's pair at the panel and at the unit.
struct LevelsQuestion {
  std::string zone;       ///< id or number; empty: all
  std::string condition;  ///< word of a supply condition; empty: all
  bool yield = false;     ///< also how likely each reading is wrong
};

/// Voltages and currents of everything that is fed, in every condition; batteries.
struct SupplyQuestion {};

/// What each single fault of the wiring does.
struct FaultsQuestion {
  std::string zone;   ///< id or number; empty: all
  std::string costs;  ///< text of a costs file of one's own; empty: none
};

/// What detectors reach and cameras show.
struct SightQuestion {
  std::string zone;    ///< id or number; empty: all
  std::string camera;  ///< id or name: the zones that it is to witness; empty: all
  bool cures = true;   ///< whether changes are tried
  bool uses = true;    ///< whether it is told what each camera is for and which privacy areas it films
};

/// What carries the clips.
struct NetworkQuestion {};

/// The moments of an alarm, from its cause to the operator.
struct ClipQuestion {
  std::string zone;  ///< id or number; empty: all
};

/// Every zone in alarm at once.
struct StormQuestion {
  std::string runs;  ///< how many storms, in digits; empty: as many as usual
  std::string seed;  ///< in digits; empty: 1
  bool log = false;  ///< with the events of the first
};

/// What would cure each thin or broken check.
struct RemediesQuestion {
  std::string zone;   ///< id or number; empty: all
  std::string costs;  ///< text of a costs file of one's own; empty: none
};

/// What meter readings say of a terminal without papers. Readings that are given here stand for themselves, away from
/// any site; without them those of the site's part are meant.
struct TerminalQuestion {
  std::string part;                              ///< of kind zone_terminal; empty: the one that has readings
  std::vector<std::string> open, over, shorted;  ///< "4.98V", "4k7/1%=2.51V", "0.88mA", each also with "@battery"
  std::string meter, burden;                     ///< "10M/1%", "100/10%"
  std::string error, current_error;              ///< "0.5%+3"
  std::vector<std::string> eol;                  ///< "4k7/1%"
};

/// The deck for ngspice.
struct NetlistQuestion {};

/// The parts shelf.
struct PartsQuestion {
  std::string kind;  ///< word of a kind; empty: all
  std::string id;    ///< empty: all
};

/// The rulebooks.
struct RulesQuestion {
  std::string book;  ///< id; empty: all
};

/// The JSON Schema of a file format, or help on one of its fields.
struct SchemaQuestion {
  std::string format;  ///< site (also where empty), parts, rulebook or costs
  std::string field;   ///< pointer; empty: the schema
};

using Question = std::variant<CheckQuestion, ProveQuestion, LevelsQuestion, SupplyQuestion, FaultsQuestion,
                              SightQuestion, NetworkQuestion, ClipQuestion, StormQuestion, RemediesQuestion,
                              TerminalQuestion, NetlistQuestion, PartsQuestion, RulesQuestion, SchemaQuestion>;

/// An answer, or every reason why there is none.
template <class Answer>
struct Answered {
  std::optional<Answer> answer;
  std::vector<Message> problems;  ///< empty where there is an answer
};

/// Called now and then while something takes long, from any thread, with words for whoever waits. May be empty.
using Progress = std::function<void(const std::string& words)>;

}  // namespace zoneproof::results
