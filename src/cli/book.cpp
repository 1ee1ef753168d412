#include <array>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/book_asked.hpp"
#include "cli/reading.hpp"
#include "messages/book_command.hpp"
#include "messages/cli.hpp"
#include "results/results.hpp"

namespace zoneproof::cli {

namespace {

/// What an action wants beside its name.
enum class Wants { nothing, site, file };

struct Action {
  std::string_view name;
  Wants wants;
  BookAction run;
  bool makes;  ///< whether it makes a book where there is none
};

constexpr std::array<Action, 8> kActions = {{{"list", Wants::nothing, list_sites, false},
                                             {"log", Wants::site, log_site, false},
                                             {"show", Wants::site, show_revision, false},
                                             {"import", Wants::file, import_file, true},
                                             {"export", Wants::site, export_site, false},
                                             {"backup", Wants::file, back_up, false},
                                             {"restore", Wants::file, restore_backup, true},
                                             {"check", Wants::nothing, check_book, false}}};

const Action* action_called(const std::string& name) {
  for (const Action& action : kActions) {
    if (action.name == name) return &action;
  }
  return nullptr;
}

std::vector<Message> problems_of(const BookOptions& asked, const Action* action) {
  if (action == nullptr) {
    std::vector<std::string> names;
    for (const Action& one : kActions) names.emplace_back(one.name);
    return {say::book_action_unknown(asked.action, names)};
  }
  const std::string name(action->name);
  if (action->wants == Wants::nothing && !asked.what.empty())
    return {say::unknown_argument(asked.what, "book " + name)};
  if (action->wants != Wants::nothing && asked.what.empty()) {
    const Message wanted = action->wants == Wants::site ? say::value_book_site() : say::value_file();
    return {say::argument_missing(text(wanted), "book " + name)};
  }
  return {};
}

/// What was typed, else what the environment says, else the person's own place.
book::Address address_of(const BookOptions& asked, const Terminal& terminal) {
  return {asked.book.empty() ? terminal.book : asked.book,
          asked.postgresql.empty() ? terminal.postgresql : asked.postgresql};
}

/// Whatever opening left to be said is said, but not that a new book was made for what is refused then.
bool has_input(const BookOptions& asked, const Action& action, std::vector<Message>& problems) {
  if (!action.makes) return true;
  std::error_code error;
  if (std::filesystem::exists(asked.what, error)) return true;
  problems.push_back(say::book_input_missing(asked.what));
  return false;
}

}  // namespace

int book(const BookOptions& asked, Screen& screen) {
  const Action* action = action_called(asked.action);
  std::vector<Message> problems = problems_of(asked, action);
  if (!problems.empty() || !has_input(asked, *action, problems)) return refuse_book(problems, asked, screen);
  const auto opening = action->makes ? book::Opening::make_missing : book::Opening::existing_only;
  const auto opened = book::Book::open(address_of(asked, screen.terminal()), opening);
  if (!opened.answer) return refuse_book(opened.problems, asked, screen);
  print_notes((*opened.answer)->notes(), screen);
  return action->run(**opened.answer, asked, screen);
}

int refuse_book(const std::vector<Message>& problems, const BookOptions& asked, Screen& screen) {
  return refuse("book", problems, asked.json, screen);
}

void put_book_json(nlohmann::ordered_json results, const BookOptions& asked, Screen& screen) {
  results["action"] = asked.action;
  screen.end_progress();
  screen.raw(results::results_text("book", std::nullopt, std::move(results)));
}

std::string shown_time(const std::string& time) {
  if (time.size() < 16) return time;
  return time.substr(0, 10) + " " + time.substr(11, 5) + " UTC";
}

WantedRevision wanted_revision(const BookOptions& asked) {
  const std::string& typed = asked.revision;
  if (typed.empty()) return {};
  const bool digits = typed.size() <= 15 && typed.find_first_not_of("0123456789") == std::string::npos;
  if (!digits) return {std::nullopt, {say::book_revision_typed(typed)}};
  return {std::stoll(typed), {}};
}

}  // namespace zoneproof::cli
