#pragma once
#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "cli/screen.hpp"
#include "results/ask.hpp"
#include "site/model.hpp"

/// What commands share before they have an answer: the site, its problems, and results for programs.
namespace zoneproof::cli {

/// One problem: its place on a line of its own, then what is wrong and what to do, within the screen's width.
void print_problem(std::ostream& stream, const Message& message);

/// Tells the problems of bad input, as text on standard error or, with `json`, as results. Returns the exit code: the
/// largest of the messages'.
int refuse(const std::string& command, const std::vector<Message>& messages, bool json, Screen& screen);

/// What is no error but worth saying, on standard error.
void print_notes(const std::vector<Message>& messages, Screen& screen);

/// Tells a message on standard error the moment it comes, below any progress; the screen must outlive it.
std::function<void(const Message&)> told_at_once_on(Screen& screen);

/// A site, and what reading it left to be said.
struct Loaded {
  site::Site site;
  std::vector<Message> notes;
};

/// The site of a file, with notes on standard error; nothing where it has errors, which are then told, and `exit_code`
/// set.
std::optional<Loaded> load(const std::string& path, const std::string& command, bool json, Screen& screen,
                           int& exit_code);

/// Shows progress on the screen, which must outlive it; the caller ends it.
results::Progress progress_on(Screen& screen);

/// Writes the results of a question as JSON, and nothing else, on standard output. Returns the exit code.
int put_results(const site::Site* site, const std::vector<Message>& notes, const results::Question& question,
                Screen& screen);
int put_results(const Loaded& loaded, const results::Question& question, Screen& screen);

/// Why nothing may be written to `output`: it is what is being read, or a person's own file beside a site that is, or a
/// file that is there already and was not said to be replaced. Work of hours must not go by a word typed too fast.
/// `inputs`: empty ones are none.
std::optional<Message> output_problem(const std::string& output, const std::vector<std::string>& inputs, bool replace);

/// A whole number from 1 to `most` that an option gives; a message where it is none.
std::optional<Message> read_whole(const std::string& typed, const char* option, long long most, long long& value);

}  // namespace zoneproof::cli
