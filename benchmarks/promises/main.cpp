// zoneproof_promises FILE [--most-seconds N] [ROW ...]: measures the promises, all of them or the rows named, prints a
// table for people and writes FILE for programs.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <exception>
#include <fstream>
#include <optional>
#include <string_view>

#include "promises/table.hpp"

namespace {

using namespace zoneproof::promises;

struct Asked {
  std::string file;
  Effort effort;
  std::vector<std::string> rows;  ///< empty: all
};

bool row_exists(const std::string& name) {
  return std::any_of(rows().begin(), rows().end(), [&](const Row& row) { return row.name == name; });
}

std::optional<Asked> read_arguments(int count, char** arguments) {
  Asked asked;
  for (int i = 1; i < count; ++i) {
    const std::string word = arguments[i];
    if (word == "--most-seconds" && i + 1 < count) {
      const std::string_view number = arguments[++i];
      const auto [end, trouble] =
          std::from_chars(number.data(), number.data() + number.size(), asked.effort.most_seconds);
      const bool whole = trouble == std::errc() && end == number.data() + number.size();
      if (!whole || !(asked.effort.most_seconds >= 1.0 && asked.effort.most_seconds <= 1e6)) return std::nullopt;
    } else if (asked.file.empty() && word.rfind("--", 0) != 0) {
      asked.file = word;
    } else if (row_exists(word)) {
      asked.rows.push_back(word);
    } else {
      return std::nullopt;
    }
  }
  return asked.file.empty() ? std::nullopt : std::optional(asked);
}

int usage() {
  fmt::print(stderr, "usage: zoneproof_promises FILE [--most-seconds 1 ... 1000000] [ROW ...]\nrows:");
  for (const Row& row : rows()) fmt::print(stderr, " {}", row.name);
  fmt::print(stderr, "\n");
  return 2;
}

bool write(const std::string& file, const std::vector<Figure>& figures) {
  std::ofstream out(file);
  out << json_of(figures);
  out.close();
  return out.good();
}

}  // namespace

int main(int count, char** arguments) {
  const std::optional<Asked> asked = read_arguments(count, arguments);
  if (!asked) return usage();
  std::vector<Figure> figures;
  bool failed = false;
  fmt::print("{}", table_head());
  for (const Row& row : rows()) {
    const auto& named = asked->rows;
    if (!named.empty() && std::find(named.begin(), named.end(), row.name) == named.end()) continue;
    try {
      for (const Figure& figure : row.measure(asked->effort)) {
        fmt::print("{}", table_lines(figure));
        figures.push_back(figure);
      }
    } catch (const std::exception& problem) {  // the other rows are measured all the same
      fmt::print(stderr, "zoneproof_promises: {}: {}\n", row.name, problem.what());
      failed = true;
    }
    std::fflush(stdout);
    if (write(asked->file, figures)) continue;  // after each row: who stops here keeps what was measured
    fmt::print(stderr, "zoneproof_promises: {} cannot be written\n", asked->file);
    return 1;
  }
  return failed ? 1 : 0;
}
