#include "cli/help.hpp"

#include <algorithm>

#include "base/language.hpp"
#include "cli/text_width.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

constexpr std::size_t kMostOfName = 30;

void print_lines(const std::vector<HelpLine>& lines, Screen& screen) {
  std::size_t widest = 0;
  for (const HelpLine& line : lines) widest = std::max(widest, std::min(text_width(line.name), kMostOfName));
  for (const HelpLine& line : lines) screen.entry(line.name, line.meaning, widest + 4, Style::heading, 2);
}

/// What every command takes, and is read before any of them (language_option.hpp).
HelpLine language_line() {
  return {"--language " + text(say::value_language()), text(say::help_language(languages())), true};
}

std::string usage(const CommandHelp& command) {
  std::string out = text(say::program_name()) + " " + command.name;
  for (const HelpLine& line : command.lines) {
    if (!line.option) out += " " + line.name;
  }
  return out + " " + text(say::options_in_usage());
}

}  // namespace

void print_help(const CommandHelp& command, Screen& screen) {
  screen.line(usage(command), 0, Style::heading);
  screen.line();
  screen.line(command.purpose);
  screen.line();
  std::vector<HelpLine> lines = command.lines;
  lines.push_back(language_line());
  print_lines(lines, screen);
  screen.heading(text(say::heading_example()));
  screen.line(command.example, 2);
}

void print_overview(const std::vector<CommandHelp>& commands, Screen& screen) {
  screen.line(text(say::program_purpose()));
  std::vector<HelpLine> lines;
  for (const CommandHelp& command : commands) lines.push_back({command.name, command.purpose});
  screen.heading(text(say::heading_commands()));
  print_lines(lines, screen);
  screen.line();
  print_lines({language_line()}, screen);
  screen.line();
  screen.line(text(say::how_to_help()));
  screen.line(text(say::exit_codes()));
}

}  // namespace zoneproof::cli
