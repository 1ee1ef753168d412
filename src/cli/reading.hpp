#pragma once
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "cli/screen.hpp"
#include "site/model.hpp"

/// What commands share before they have an answer: the site, its problems, and what an option named.
namespace zoneproof::cli {

/// One problem: its place on a line of its own, then what is wrong and what to do, within the screen's width.
void print_problem(std::ostream& stream, const Message& message);

/// Tells the problems of bad input, as text on standard error or, with `json`, as results. Returns the exit code: the
/// largest of the messages'.
int refuse(const std::string& command, const std::vector<Message>& messages, bool json, Screen& screen);

/// What is no error but worth saying, on standard error.
void print_notes(const std::vector<Message>& messages, Screen& screen);

/// The site of a file, with notes on standard error; nothing where it has errors, which are then told, and `exit_code`
/// set.
std::optional<site::Site> load(const std::string& path, const std::string& command, bool json, Screen& screen,
                               int& exit_code);

/// Why nothing may be written to `output`: it is what is being read, or a file that is there already and was not said
/// to be replaced. Work of hours must not go by a word typed too fast.
std::optional<Message> output_problem(const std::string& output, const std::string& input, bool replace);

/// The zone that a person named by id or by number; a message where there is none, or more than one of that number.
struct ZoneFound {
  std::string id;
  std::optional<Message> problem;
};
ZoneFound find_zone(const site::Site& site, const std::string& named);

}  // namespace zoneproof::cli
