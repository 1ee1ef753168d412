#pragma once
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <system_error>
#include <vector>

#include "base/message.hpp"
#include "cli/folder_lock.hpp"

namespace zoneproof::cli {

struct FileToSave {
  std::string path, bytes;
};

/// Whether something at a path may be a folder to write into: nothing where it is one, or is not there yet and the
/// folder above it is, else why not. A command makes the folder that it fills and none above it: a slip of the pen
/// would be one.
std::optional<Message> folder_problem(const std::string& path);

/// Why a folder could not be made: bad input where no such folder can be, else output that could not be written.
Message folder_refused(const std::string& path, const std::error_code& why);

/// "tables/chains.changed-2.csv" of "tables/chains.csv": the name number 2 for what is set aside, beside the file that
/// a symbolic link leads to.
std::string name_to_set_aside(const std::string& path, int number);

struct SaveAsked {
  std::vector<std::string> inputs = {};       ///< what was read; never written over
  bool replace = false;                       ///< what is there already is written over
  std::vector<std::string> left_behind = {};  ///< files beside which a killed run left something, as well
  Waiting waiting = {};
};

/// A file that was there, and where it lies now.
struct SetAside {
  std::string path, as;
};

/// Writes all of a set of files or none, with the folders that they need: a set of papers of which half are of an
/// earlier revision misleads more than none. What is in the way is told before anything is written; then every file is
/// written beside its place, which is where a full disk shows, and only then all are moved. Symbolic links are
/// followed. Nothing that came to stand where nothing stood before is written over, whoever put it there.
///
/// From ready() on until this ends other runs that write into these folders wait, so what is looked at then is so still
/// when it is written. Where a file system has no locks none waits, and what killed runs left stays.
class Saving {
 public:
  Saving(std::vector<FileToSave> files, SaveAsked asked);
  ~Saving();
  Saving(const Saving&) = delete;
  Saving& operator=(const Saving&) = delete;

  /// Makes the folders, waits until no other run writes there, and looks what is in the way. False: nothing is to be
  /// written, problems() tell why.
  bool ready();

  /// Writes them. What stands at the paths of `changed` gets another name before, one that is free. After a failure it
  /// is back in its place, or else still in set_aside(). False: problems() tell why; they may have a warning also where
  /// all are written.
  bool write(const std::set<std::string>& changed = {});

  const std::vector<FileToSave>& files() const { return files_; }
  const std::vector<Message>& problems() const { return problems_; }
  /// What somebody would look for in vain at its old place.
  std::vector<SetAside> set_aside() const;

 private:
  struct Staged;

  bool in_turn();
  bool folder_for(const std::string& path);
  bool write_beside(const FileToSave& file, bool changed);
  bool move_aside(Staged& one);
  bool move_in(Staged& one);
  void tell_what_is_unsafe();
  bool undone();

  std::vector<FileToSave> files_;
  SaveAsked asked_;
  std::optional<FoldersInTurn> locked_;
  std::set<std::string> there_;  ///< what may be written over: no other than what was there when others had to wait
  std::vector<Staged> staged_;
  std::vector<std::string> made_;  ///< folders, the outermost first
  std::vector<Message> problems_;
};

/// Writes a set of which nothing is set aside. A single one may be a stream. Nothing where all is well.
std::vector<Message> save_all(std::vector<FileToSave> files, SaveAsked asked);

}  // namespace zoneproof::cli
