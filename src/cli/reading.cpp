#include "cli/reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <ostream>

#include "base/file.hpp"
#include "base/utf8.hpp"
#include "cli/text_width.hpp"
#include "messages/cli.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {

void print_problem(std::ostream& stream, const Message& message) {
  const Place& place = message.place;
  std::string where = printable(place.file);
  if (place.line > 0) where += fmt::format(":{}:{}", place.line, place.column);
  if (!place.pointer.empty()) where += (where.empty() ? "" : ": ") + printable(place.pointer);
  const std::size_t indent = where.empty() ? 0 : 2;
  if (!where.empty()) stream << where << '\n';
  for (const std::string& sentence : {text(message), remedy(message)}) {
    for (const std::string& line : wrapped(sentence, Screen::kWidth - indent)) {
      stream << std::string(indent, ' ') << line << '\n';
    }
  }
}

int refuse(const std::string& command, const std::vector<Message>& messages, bool json, Screen& screen) {
  int exit_code = 0;
  for (const Message& message : messages) exit_code = std::max(exit_code, kind_of(message.code).exit_status);
  screen.end_progress();
  if (json) {
    screen.raw(results::refusal(command, messages).text);
  } else {
    for (const Message& message : messages) print_problem(screen.err(), message);
  }
  return exit_code;
}

void print_notes(const std::vector<Message>& messages, Screen& screen) {
  for (const Message& message : messages) print_problem(screen.err(), message);
}

std::function<void(const Message&)> told_at_once_on(Screen& screen) {
  return [&screen](const Message& message) {
    screen.end_progress();
    print_problem(screen.err(), message);
    screen.err().flush();
  };
}

std::optional<Loaded> load(const std::string& path, const std::string& command, bool json, Screen& screen,
                           int& exit_code) {
  site::ReadResult read = site::load_site(path);
  if (!read.site) {
    exit_code = refuse(command, read.messages, json, screen);
    return std::nullopt;
  }
  print_notes(read.messages, screen);
  return Loaded{*std::move(read.site), std::move(read.messages)};
}

results::Progress progress_on(Screen& screen) {
  return [&screen](const std::string& words) { screen.progress(words); };
}

int put_results(const site::Site* site, const std::vector<Message>& notes, const results::Question& question,
                Screen& screen) {
  const results::Reply reply = results::ask(site, notes, question, progress_on(screen));
  screen.end_progress();
  screen.raw(reply.text);
  return reply.status;
}

int put_results(const Loaded& loaded, const results::Question& question, Screen& screen) {
  return put_results(&loaded.site, loaded.notes, question, screen);
}

std::optional<Message> output_problem(const std::string& output, const std::vector<std::string>& inputs, bool replace) {
  if (output == "-") return say::output_is_dash();
  std::error_code ignored;  // what cannot be looked at is told when it is written
  if (!std::filesystem::is_regular_file(output, ignored)) return std::nullopt;
  for (const std::string& input : inputs) {
    for (const std::string& read :
         {input, site::file_beside(input, site::kPartsEnding), site::file_beside(input, site::kCostsEnding)})
      if (std::filesystem::equivalent(output, read, ignored)) return say::output_is_input(output);
  }
  if (!replace && !is_stream(output)) return say::output_is_there(output);  // "/dev/stdout" of a shell's "> FILE"
  return std::nullopt;
}

std::optional<Message> read_whole(const std::string& typed, const char* option, long long most, long long& value) {
  const bool digits = !typed.empty() && typed.size() <= 6 && typed.find_first_not_of("0123456789") == std::string::npos;
  value = digits ? std::stoll(typed) : 0;
  if (value >= 1 && value <= most) return std::nullopt;
  return say::option_whole(typed, option, most);
}

}  // namespace zoneproof::cli
