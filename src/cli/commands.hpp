#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "cli/screen.hpp"
#include "results/questions.hpp"
#include "site/draft.hpp"

/// The commands. Each takes what was asked, writes to the screen and returns the exit code: 0 all is well, 1 something
/// asked for is not proven, 2 bad input. What must not happen is thrown, and becomes 3 (run.hpp).
/// Where `json` is set, standard output holds one JSON object (results/ask.hpp) and nothing else.
namespace zoneproof::cli {

struct CheckOptions {
  std::string site;  ///< path
  bool json = false;
};
/// Every problem of a site file; without problems, what is still to be found out on site.
int check(const CheckOptions& asked, Screen& screen);

struct ProveOptions {
  std::string site;
  std::string links;  ///< names of links joined by commas; empty: all
  std::string zone;   ///< id or number; empty: all
  bool all = false;   ///< all evidence, not only what is to be read first
  bool json = false;
};
/// The chains of all zones, and the evidence of what is not proven.
int prove(const ProveOptions& asked, Screen& screen);

struct LevelsOptions {
  std::string site;
  std::string zone;
  std::string condition;  ///< word of a supply condition; empty: all, the extremes over them
  bool corner = false;    ///< what makes each extreme
  bool yield = false;     ///< how likely each reading is wrong
  bool json = false;
};
/// Voltages of each zone's pair at the panel and at the unit.
int levels(const LevelsOptions& asked, Screen& screen);

struct SupplyOptions {
  std::string site;
  bool json = false;
};
/// Voltages and currents of everything that is fed, in every condition; batteries.
int supply(const SupplyOptions& asked, Screen& screen);

struct FaultsOptions {
  std::string site;
  std::string zone;   ///< id or number; empty: all
  std::string costs;  ///< path of a costs file of one's own; empty: that beside the site, where there is one
  bool all = false;   ///< also the faults that are noticed or harmless
  bool json = false;
};
/// What each single fault of the wiring does, and which of them nobody notices.
int faults(const FaultsOptions& asked, Screen& screen);

struct SightOptions {
  std::string site;
  std::string zone;      ///< id or number; empty: all
  std::string camera;    ///< id or name; empty: all
  std::string plan;      ///< path of the plan to be drawn, .svg, .pdf or .png; empty: none
  std::string pictures;  ///< folder for the picture that each camera should give; empty: none
  bool replace = false;  ///< files that are there already are written over
  bool json = false;
};
/// What detectors reach and cameras show; patches that nobody sees, with cause and cure; plan and expected pictures.
int sight(const SightOptions& asked, Screen& screen);

struct NetworkOptions {
  std::string site;
  bool all = false;  ///< also what is proven
  bool json = false;
};
/// What carries the clips: power over data cables, mains failure, addresses, what is exposed, load of every link.
int network(const NetworkOptions& asked, Screen& screen);

struct ClipOptions {
  std::string site;
  std::string zone;      ///< id or number; empty: all
  std::string drawing;   ///< path of what is to be drawn, .svg, .pdf or .png; empty: nothing
  bool replace = false;  ///< files that are there already are written over
  bool json = false;
};
/// The moments of an alarm of each zone, from its cause to the operator; who records what around arming and after a
/// power cut.
int clip(const ClipOptions& asked, Screen& screen);

struct StormOptions {
  std::string site;
  std::string runs;  ///< how many storms; empty: as many as usual
  std::string seed;  ///< of what is drawn at random; empty: 1
  bool log = false;  ///< also every event of the first storm
  bool json = false;
};
/// Every zone in alarm within seconds: when each clip arrives, and which queue makes it wait.
int storm(const StormOptions& asked, Screen& screen);

struct DrawOptions {
  std::string site;
  std::string drawing;   ///< "wiring", "plan", "picture" or "discharge"
  std::string of;        ///< id of a unit, camera or supply; empty: all
  std::string output;    ///< path, .svg, .pdf or .png
  std::string ink;       ///< name of a palette; empty: light
  std::string volts;     ///< of wiring: "found", "rest" or "alarm"; empty: no figures at terminals
  bool replace = false;  ///< files that are there already are written over
};
/// One drawing.
int draw(const DrawOptions& asked, Screen& screen);

struct HandoverOptions {
  std::string site;
  std::string output;    ///< folder
  std::string paper;     ///< "a4" or "letter"; empty: a4
  std::string prices;    ///< path of the installer's price list; empty: none
  std::string labels;    ///< path of a file that tells a stock of labels; empty: the generic one
  std::string address;   ///< of the site's page, for codes on labels; empty: none
  std::string date;      ///< "2026-03-01", for every page; empty: none
  bool replace = false;  ///< files that are there already are written over
};
/// The handover file: one PDF for the whole site, its tables and drawings as files of their own.
int handover(const HandoverOptions& asked, Screen& screen);

struct ServeOptions {
  std::string book;                ///< folder; empty: the person's own
  std::string postgresql;          ///< connection string; empty: SQLite in the folder
  std::string port;                ///< empty: the usual one
  std::string address;             ///< beside the loopback address; empty: that one alone
  std::vector<std::string> names;  ///< by which others call this machine
  std::string page;                ///< folder of a built page; empty: the one in the program
  std::string set_password;        ///< name of the person to be given a password; empty: it serves
  std::string role;                ///< of that person; empty: designer, or as before
};
/// The page and its interface, at an address of this machine, until it is ended.
int serve(const ServeOptions& asked, Screen& screen);

struct RemediesOptions {
  std::string site;
  std::string zone;      ///< id or number; empty: all
  std::string costs;     ///< path of a costs file of one's own; empty: that beside the site, where there is one
  std::string take;      ///< number of the remedy whose changed site is to be written
  std::string output;    ///< path of that site
  bool replace = false;  ///< an output that is there already is written over
  bool all = false;      ///< also what was refused
  bool json = false;
};
/// What would cure each thin or broken check, tried, with what it costs.
int remedies(const RemediesOptions& asked, Screen& screen);

struct TerminalOptions {
  std::string site;  ///< path; empty: the readings are given as options
  results::TerminalQuestion question;
  bool json = false;
};
/// What meter readings say of a terminal without papers, and which reading to take next.
int terminal(const TerminalOptions& asked, Screen& screen);

struct NetlistOptions {
  std::string site;
  std::string output;    ///< path; empty: the screen
  bool replace = false;  ///< an output that is there already is written over
  bool json = false;
};
/// The deck for ngspice.
int netlist(const NetlistOptions& asked, Screen& screen);

struct PartsOptions {
  std::string kind;
  std::string id;
  bool json = false;
};
/// The parts shelf.
int parts(const PartsOptions& asked, Screen& screen);

struct RulesOptions {
  std::string book;
  bool json = false;
};
/// The rulebooks, or all entries of one.
int rules(const RulesOptions& asked, Screen& screen);

struct SchemaOptions {
  std::string format;  ///< site (also where empty), parts, rulebook or costs
  std::string field;   ///< pointer: help on one field
  bool json = false;   ///< the help as JSON; a schema is JSON anyway
};
/// The JSON Schema of a file format, or help on one of its fields.
int schema(const SchemaOptions& asked, Screen& screen);

struct DraftOptions {
  std::string zones;         ///< path of the CSV
  std::string output;        ///< path; empty: the screen
  bool replace = false;      ///< an output that is there already is written over
  std::string parts;         ///< path of a file of own parts; empty: that beside the table, where there is one
  std::string grade, units;  ///< as typed; whole numbers
  site::DraftRequest request;
  bool json = false;
};
/// A site file from a table of zones.
int draft(const DraftOptions& asked, Screen& screen);

struct BookOptions {
  std::string action;      ///< "list", "log", "show", "import", "export", "backup", "restore" or "check"
  std::string what;        ///< id of a site, or path of a file
  std::string book;        ///< folder; empty: as the environment says, else the person's own
  std::string postgresql;  ///< connection string; empty: as the environment says, else SQLite
  std::string as;          ///< import: id of the site
  std::string who, why;    ///< import
  std::string revision;    ///< show, export: as typed; empty: the last
  std::string output;      ///< export: path; empty: the screen
  bool replace = false;    ///< a file that is there already is written over
  bool all = false;        ///< log: every revision
  bool json = false;
};
/// Sites, every revision of them, import and export, backup and restore.
int book(const BookOptions& asked, Screen& screen);

}  // namespace zoneproof::cli
