#include "cli/arguments.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "cli/commands.hpp"
#include "messages/book_command.hpp"
#include "messages/cli.hpp"
#include "messages/serve.hpp"

namespace zoneproof::cli {

namespace {

/// A command with its options, as CLI11 sees it and as the help shows it. Words of people come from the catalogue; of
/// CLI11 only the parsing is used. What is required is asked for here, so that its absence is our own message.
class Command {
 public:
  Command(CLI::App& app, std::string name, const Message& purpose, const Message& example) : name_(name) {
    app_ = app.add_subcommand(name);
    app_->allow_extras();
    app_->set_help_flag("-h,--help");
    help_ = {std::move(name), text(purpose), text(example), {}};
  }

  void positional(std::string& target, const Message& shown, const Message& meaning, bool required = true) {
    CLI::Option* option = app_->add_option("arg" + std::to_string(help_.lines.size()), target);
    const std::string label = text(shown);
    if (required) required_.emplace_back(option, label);
    valued_.emplace_back(option, label);
    help_.lines.push_back({required ? label : "[" + label + "]", text(meaning), false});
  }
  void option(const std::string& names, std::string& target, const Message& shown, const Message& meaning) {
    valued_.emplace_back(app_->add_option(names, target), names.substr(names.find("--")));
    help_.lines.push_back({names + " " + text(shown), text(meaning), true});
  }
  /// An option that may be given again and again, one value each time.
  void options(const std::string& names, std::vector<std::string>& target, const Message& shown,
               const Message& meaning) {
    CLI::Option* option = app_->add_option(names, target)->allow_extra_args(false);
    valued_.emplace_back(option, names.substr(names.find("--")));
    help_.lines.push_back({names + " " + text(shown), text(meaning), true});
  }
  void flag(const std::string& names, bool& target, const Message& meaning) {
    app_->add_flag(names, target);
    flags_.push_back(names);
    help_.lines.push_back({names, text(meaning), true});
  }
  void runs(std::function<int(Screen&)> run) { run_ = std::move(run); }

  bool has_flag(const std::string& name) const { return std::find(flags_.begin(), flags_.end(), name) != flags_.end(); }
  const CLI::App& app() const { return *app_; }
  const CommandHelp& help() const { return help_; }
  const std::function<int(Screen&)>& run() const { return run_; }

  std::vector<Message> problems() const {
    std::vector<Message> problems;
    for (const std::string& extra : app_->remaining()) {
      const std::optional<Message> torn = torn_list(extra);
      problems.push_back(torn ? *torn : say::unknown_argument(extra, name_));
    }
    for (const auto& [option, label] : required_) {
      if (option->count() == 0) problems.push_back(say::argument_missing(label, name_));
    }
    for (const auto& [option, label] : valued_) {  // an empty value is a slip, as of a variable that is not set
      const std::vector<std::string>& values = option->results();
      if (std::find(values.begin(), values.end(), "") == values.end()) continue;
      problems.push_back(requires_it(option) ? say::argument_empty(label) : say::option_empty(label));
    }
    return problems;
  }

 private:
  /// A list of an option that a blank tore in two, as "--links loop, trigger".
  std::optional<Message> torn_list(const std::string& extra) const {
    for (const auto& [option, label] : valued_) {
      if (option->count() == 0 || label.rfind("--", 0) != 0) continue;
      const std::string& found = option->results().back();
      if ((!found.empty() && found.back() == ',') || extra.front() == ',')
        return say::blank_in_list(label, found, extra);
    }
    return std::nullopt;
  }

  /// What a command requires is a file; everything else can be left out.
  bool requires_it(const CLI::Option* option) const {
    return std::any_of(required_.begin(), required_.end(), [&](const auto& one) { return one.first == option; });
  }

  std::string name_;
  CLI::App* app_ = nullptr;
  CommandHelp help_;
  std::function<int(Screen&)> run_;
  std::vector<std::string> flags_;
  std::vector<std::pair<CLI::Option*, std::string>> required_, valued_;
};

using Commands = std::vector<std::unique_ptr<Command>>;

/// A command whose options live as long as it does.
template <class Options>
struct Declared {
  Command* command;
  std::shared_ptr<Options> asked;
};

template <class Options>
Declared<Options> declare(CLI::App& app, Commands& commands, const char* name, const Message& purpose,
                          const Message& example, int (*run)(const Options&, Screen&)) {
  commands.push_back(std::make_unique<Command>(app, name, purpose, example));
  auto asked = std::make_shared<Options>();
  commands.back()->runs([asked, run](Screen& screen) { return run(*asked, screen); });
  return {commands.back().get(), asked};
}

template <class Options>
void add_site(Declared<Options>& declared) {
  declared.command->positional(declared.asked->site, say::value_site(), say::help_site());
}

template <class Options>
void add_json(Declared<Options>& declared) {
  declared.command->flag("--json", declared.asked->json, say::help_json());
}

void declare_site_commands(CLI::App& app, Commands& all) {
  auto checked = declare<CheckOptions>(app, all, "check", say::about_check(), say::example_check(), check);
  add_site(checked);
  add_json(checked);

  auto proved = declare<ProveOptions>(app, all, "prove", say::about_prove(), say::example_prove(), prove);
  add_site(proved);
  proved.command->option("--links", proved.asked->links, say::value_links(), say::help_links());
  proved.command->option("--zone", proved.asked->zone, say::value_zone(), say::help_zone());
  proved.command->flag("--all", proved.asked->all, say::help_all());
  add_json(proved);

  auto levelled = declare<LevelsOptions>(app, all, "levels", say::about_levels(), say::example_levels(), levels);
  add_site(levelled);
  levelled.command->option("--zone", levelled.asked->zone, say::value_zone(), say::help_zone());
  levelled.command->option("--condition", levelled.asked->condition, say::value_condition(), say::help_condition());
  levelled.command->flag("--corner", levelled.asked->corner, say::help_corner());
  levelled.command->flag("--yield", levelled.asked->yield, say::help_yield());
  add_json(levelled);

  auto supplied = declare<SupplyOptions>(app, all, "supply", say::about_supply(), say::example_supply(), supply);
  add_site(supplied);
  add_json(supplied);

  auto failing = declare<FaultsOptions>(app, all, "faults", say::about_faults(), say::example_faults(), faults);
  add_site(failing);
  failing.command->option("--zone", failing.asked->zone, say::value_zone(), say::help_zone());
  failing.command->option("--costs", failing.asked->costs, say::value_file(), say::help_costs());
  failing.command->flag("--all", failing.asked->all, say::help_all_faults());
  add_json(failing);

  auto exported = declare<NetlistOptions>(app, all, "netlist", say::about_netlist(), say::example_netlist(), netlist);
  add_site(exported);
  exported.command->option("-o,--output", exported.asked->output, say::value_file(), say::help_deck_file());
  exported.command->flag("--replace", exported.asked->replace, say::help_replace());
  add_json(exported);
}

void declare_sight(CLI::App& app, Commands& all) {
  auto looked = declare<SightOptions>(app, all, "sight", say::about_sight(), say::example_sight(), sight);
  add_site(looked);
  looked.command->option("--zone", looked.asked->zone, say::value_zone(), say::help_zone());
  looked.command->option("--camera", looked.asked->camera, say::value_camera(), say::help_camera());
  looked.command->option("--plan", looked.asked->plan, say::value_file(), say::help_plan());
  looked.command->option("--pictures", looked.asked->pictures, say::value_folder(), say::help_pictures());
  looked.command->flag("--replace", looked.asked->replace, say::help_replace());
  add_json(looked);
}

void declare_delivery(CLI::App& app, Commands& all) {
  auto carried = declare<NetworkOptions>(app, all, "network", say::about_network(), say::example_network(), network);
  add_site(carried);
  carried.command->flag("--all", carried.asked->all, say::help_all_network());
  add_json(carried);

  auto timed = declare<ClipOptions>(app, all, "clip", say::about_clip(), say::example_clip(), clip);
  add_site(timed);
  timed.command->option("--zone", timed.asked->zone, say::value_zone(), say::help_zone());
  timed.command->option("--drawing", timed.asked->drawing, say::value_file(), say::help_clip_drawing());
  timed.command->flag("--replace", timed.asked->replace, say::help_replace());
  add_json(timed);

  auto all_at_once = declare<StormOptions>(app, all, "storm", say::about_storm(), say::example_storm(), storm);
  add_site(all_at_once);
  all_at_once.command->option("--runs", all_at_once.asked->runs, say::value_count(), say::help_runs());
  all_at_once.command->option("--seed", all_at_once.asked->seed, say::value_count(), say::help_seed());
  all_at_once.command->flag("--log", all_at_once.asked->log, say::help_storm_log());
  add_json(all_at_once);
}

void declare_paper(CLI::App& app, Commands& all) {
  auto drawn = declare<DrawOptions>(app, all, "draw", say::about_draw(), say::example_draw(), draw);
  add_site(drawn);
  drawn.command->positional(drawn.asked->drawing, say::value_drawing(), say::help_drawing());
  drawn.command->option("--of", drawn.asked->of, say::value_id(), say::help_draw_of());
  drawn.command->option("-o,--output", drawn.asked->output, say::value_file(), say::help_draw_file());
  drawn.command->option("--ink", drawn.asked->ink, say::value_ink(), say::help_ink());
  drawn.command->option("--volts", drawn.asked->volts, say::value_wiring_state(), say::help_volts());
  drawn.command->flag("--replace", drawn.asked->replace, say::help_replace());

  auto paper = declare<HandoverOptions>(app, all, "handover", say::about_handover(), say::example_handover(), handover);
  add_site(paper);
  paper.command->option("-o,--output", paper.asked->output, say::value_folder(), say::help_handover_folder());
  paper.command->option("--paper", paper.asked->paper, say::value_paper(), say::help_paper());
  paper.command->option("--prices", paper.asked->prices, say::value_file(), say::help_prices());
  paper.command->option("--labels", paper.asked->labels, say::value_file(), say::help_labels());
  paper.command->option("--address", paper.asked->address, say::value_address(), say::help_label_address());
  paper.command->option("--date", paper.asked->date, say::value_date(), say::help_paper_date());
  paper.command->flag("--replace", paper.asked->replace, say::help_replace());
}

void declare_serve(CLI::App& app, Commands& all) {
  auto served = declare<ServeOptions>(app, all, "serve", say::about_serve(), say::example_serve(), serve);
  Command& command = *served.command;
  ServeOptions& asked = *served.asked;
  command.option("--book", asked.book, say::value_folder(), say::help_serve_book());
  command.option("--postgresql", asked.postgresql, say::value_connection(), say::help_serve_postgresql());
  command.option("--port", asked.port, say::value_count(), say::help_serve_port());
  command.option("--address", asked.address, say::value_address(), say::help_serve_address());
  command.options("--name", asked.names, say::value_name(), say::help_serve_name());
  command.option("--page", asked.page, say::value_folder(), say::help_serve_page());
  command.option("--set-password", asked.set_password, say::value_name(), say::help_serve_set_password());
  command.option("--role", asked.role, say::value_role(), say::help_serve_role());
}

void declare_remedies(CLI::App& app, Commands& all) {
  auto cured = declare<RemediesOptions>(app, all, "remedies", say::about_remedies(), say::example_remedies(), remedies);
  add_site(cured);
  cured.command->option("--zone", cured.asked->zone, say::value_zone(), say::help_zone());
  cured.command->option("--costs", cured.asked->costs, say::value_file(), say::help_costs());
  cured.command->flag("--all", cured.asked->all, say::help_all_remedies());
  cured.command->option("--take", cured.asked->take, say::value_count(), say::help_take());
  cured.command->option("-o,--output", cured.asked->output, say::value_file(), say::help_take_file());
  cured.command->flag("--replace", cured.asked->replace, say::help_replace());
  add_json(cured);
}

void declare_terminal(CLI::App& app, Commands& all) {
  auto told = declare<TerminalOptions>(app, all, "terminal", say::about_terminal(), say::example_terminal(), terminal);
  Command& command = *told.command;
  TerminalOptions& asked = *told.asked;
  command.positional(asked.site, say::value_site(), say::help_terminal_site(), false);
  command.option("--part", asked.question.part, say::value_part(), say::help_terminal_part());
  command.options("--open", asked.question.open, say::value_shown(), say::help_terminal_open());
  command.options("--over", asked.question.over, say::value_over(), say::help_terminal_over());
  command.options("--short", asked.question.shorted, say::value_shown(), say::help_terminal_short());
  command.option("--meter", asked.question.meter, say::value_ohms(), say::help_terminal_meter());
  command.option("--error", asked.question.error, say::value_error(), say::help_terminal_error());
  command.option("--burden", asked.question.burden, say::value_ohms(), say::help_terminal_burden());
  command.option("--current-error", asked.question.current_error, say::value_error(),
                 say::help_terminal_current_error());
  command.options("--eol", asked.question.eol, say::value_ohms(), say::help_terminal_eol());
  add_json(told);
}

void declare_shelf_commands(CLI::App& app, Commands& all) {
  auto shelf = declare<PartsOptions>(app, all, "parts", say::about_parts(), say::example_parts(), parts);
  shelf.command->positional(shelf.asked->kind, say::value_kind(), say::help_kind(), false);
  shelf.command->option("--id", shelf.asked->id, say::value_part(), say::help_part_id());
  add_json(shelf);

  auto books = declare<RulesOptions>(app, all, "rules", say::about_rules(), say::example_rules(), rules);
  books.command->positional(books.asked->book, say::value_book(), say::help_book(), false);
  add_json(books);

  auto fields = declare<SchemaOptions>(app, all, "schema", say::about_schema(), say::example_schema(), schema);
  fields.command->positional(fields.asked->format, say::value_format(), say::help_format(), false);
  fields.command->option("--field", fields.asked->field, say::value_pointer(), say::help_field());
  add_json(fields);
}

void declare_draft(CLI::App& app, Commands& all) {
  auto drafted = declare<DraftOptions>(app, all, "draft", say::about_draft(), say::example_draft(), draft);
  Command& command = *drafted.command;
  DraftOptions& asked = *drafted.asked;
  command.positional(asked.zones, say::value_csv(), say::help_csv());
  command.option("-o,--output", asked.output, say::value_file(), say::help_draft_file());
  command.flag("--replace", asked.replace, say::help_replace());
  command.option("--parts", asked.parts, say::value_file(), say::help_draft_parts());
  command.option("--name", asked.request.name, say::value_name(), say::help_draft_name());
  command.option("--panel", asked.request.panel, say::value_part(), say::help_draft_panel());
  command.option("--terminal", asked.request.zone_terminal, say::value_part(), say::help_draft_terminal());
  command.option("--unit", asked.request.unit, say::value_part(), say::help_draft_unit());
  command.option("--units", asked.units, say::value_count(), say::help_draft_units());
  command.option("--supply", asked.request.supply, say::value_part(), say::help_draft_supply());
  command.option("--battery", asked.request.battery, say::value_part(), say::help_draft_battery());
  command.option("--rulebook", asked.request.rulebook, say::value_book(), say::help_draft_rulebook());
  command.option("--grade", asked.grade, say::value_count(), say::help_draft_grade());
  command.option("--origin", asked.request.origin, say::value_origin(), say::help_draft_origin());
  add_json(drafted);
}

void declare_book(CLI::App& app, Commands& all) {
  auto kept = declare<BookOptions>(app, all, "book", say::about_book(), say::example_book(), book);
  Command& command = *kept.command;
  BookOptions& asked = *kept.asked;
  command.positional(asked.action, say::value_book_action(), say::help_book_action());
  command.positional(asked.what, say::value_book_what(), say::help_book_what(), false);
  command.option("--book", asked.book, say::value_folder(), say::help_book_folder());
  command.option("--postgresql", asked.postgresql, say::value_connection(), say::help_postgresql());
  command.option("--as", asked.as, say::value_id(), say::help_book_as());
  command.option("--who", asked.who, say::value_name(), say::help_book_who());
  command.option("--why", asked.why, say::value_words(), say::help_book_why());
  command.option("--revision", asked.revision, say::value_count(), say::help_book_revision());
  command.option("-o,--output", asked.output, say::value_file(), say::help_book_output());
  command.flag("--replace", asked.replace, say::help_replace());
  command.flag("--all", asked.all, say::help_book_all());
  add_json(kept);
}

std::vector<CommandHelp> overview(const Commands& commands) {
  std::vector<CommandHelp> all;
  for (const auto& command : commands) all.push_back(command->help());
  return all;
}

/// What CLI11 says as "--zone: 1 required TEXT missing", or as "--zone: At Most 1 required but received 2".
Message option_problem(const CLI::ParseError& error) {
  const std::string what = error.what(), option = what.substr(0, what.find(':')), end = " missing";
  const bool missing = what.size() > end.size() && what.compare(what.size() - end.size(), end.size(), end) == 0;
  return missing ? say::option_empty(option) : say::option_twice(option);
}

/// Flags that were given a value, as "--all=3": the parser's library would take some of them for yes or no.
std::vector<Message> flags_with_values(const std::vector<std::string>& arguments, const Commands& commands) {
  std::vector<Message> problems;
  for (const std::string& argument : arguments) {
    const std::string name = argument.substr(0, argument.find('='));
    if (name.size() == argument.size()) continue;
    const bool flag =
        name == "--help" || name == "--version" ||
        std::any_of(commands.begin(), commands.end(), [&](const auto& command) { return command->has_flag(name); });
    if (flag) problems.push_back(say::flag_with_value(name));
  }
  return problems;
}

const Command* chosen(const Commands& commands) {
  for (const auto& command : commands) {
    if (command->app().parsed()) return command.get();
  }
  return nullptr;
}

Request request_of(const CLI::App& app, const Commands& commands) {
  Request request;
  const Command* command = chosen(commands);
  if (command != nullptr) {
    request.problems = command->problems();
    if (request.problems.empty()) request.command = command->run();
    return request;
  }
  const std::vector<std::string> extras = app.remaining();
  if (extras.empty()) {
    request.overview = overview(commands);
    return request;
  }
  std::vector<std::string> known;
  for (const auto& one : commands) known.push_back(one->help().name);
  const bool option = !extras.front().empty() && extras.front().front() == '-';
  request.problems.push_back(option ? say::command_missing(extras.front(), known)
                                    : say::no_such_command(extras.front(), known));
  return request;
}

}  // namespace

Request read_arguments(const std::vector<std::string>& arguments) {
  CLI::App app;
  app.allow_extras();
  app.require_subcommand(0, 1);
  app.set_help_flag("-h,--help");
  bool version = false;
  app.add_flag("--version", version);
  Commands commands;
  declare_site_commands(app, commands);
  declare_sight(app, commands);
  declare_delivery(app, commands);
  declare_paper(app, commands);
  declare_serve(app, commands);
  declare_remedies(app, commands);
  declare_terminal(app, commands);
  declare_draft(app, commands);
  declare_shelf_commands(app, commands);
  declare_book(app, commands);
  std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());  // CLI11 takes the last argument first
  Request request;
  request.problems = flags_with_values(arguments, commands);
  if (!request.problems.empty()) return request;
  try {
    app.parse(reversed);
  } catch (const CLI::CallForHelp&) {
    const Command* command = chosen(commands);
    if (command != nullptr) {
      request.help = command->help();
    } else {
      request.overview = overview(commands);
      request.asks_for_help = true;
    }
    return request;
  } catch (const CLI::ParseError& error) {
    request.problems.push_back(option_problem(error));
    return request;
  }
  if (!version) return request_of(app, commands);
  request.version = true;
  return request;
}

}  // namespace zoneproof::cli
