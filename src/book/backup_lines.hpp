#pragma once
#include <array>
#include <cstdio>
#include <fstream>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/message.hpp"

/// Lines of a backup, with the chain over them (backup_file.hpp).
namespace zoneproof::book {

/// A table whose rows are in a backup, and what its rows are ordered by. In the order of references.
struct BackedUpTable {
  std::string_view name, key;
};
inline constexpr std::array<BackedUpTable, 4> kBackedUpTables = {
    {{"sites", "id"}, {"revisions", "site, number"}, {"files", "sha256"}, {"people", "name"}}};

class LineChain {
 public:
  LineChain();
  void add(std::string_view line);
  const std::string& sha256() const { return sha256_; }
  long long lines() const { return lines_; }

 private:
  std::string sha256_;
  long long lines_ = 0;
};

/// Writes lines into a file beside `path` and puts it into its place when it is whole and on the disk.
class LineWriter {
 public:
  explicit LineWriter(std::string path);
  ~LineWriter();
  LineWriter(const LineWriter&) = delete;
  LineWriter& operator=(const LineWriter&) = delete;

  void line(std::string_view text);
  const LineChain& chain() const { return chain_; }
  /// Nothing on success.
  std::optional<Message> finish();

 private:
  std::string path_, temporary_;
  std::FILE* file_ = nullptr;
  std::string fault_;  ///< the first reason why something was not written
  LineChain chain_;
};

/// Reads lines; a line that is longer than any that is written ends the reading as damaged.
class LineReader {
 public:
  explicit LineReader(const std::string& path);
  bool is_open() const { return file_.is_open(); }
  /// The next line; nothing at the end, and where `damaged()` then says so.
  std::optional<std::string> next();
  bool damaged() const { return damaged_; }
  long long line() const { return line_; }  ///< number of the line read last, from 1

 private:
  std::ifstream file_;
  bool damaged_ = false;
  long long line_ = 0;
};

}  // namespace zoneproof::book
