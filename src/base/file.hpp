#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/json_text.hpp"
#include "base/message.hpp"

namespace zoneproof {

/// The bytes of a file; nothing, with the reason in `messages`, where it is missing, a folder, unreadable or longer
/// than `limit` bytes.
std::optional<std::string> read_file(const std::string& path, std::vector<Message>& messages,
                                     std::size_t limit = kLargestJsonText);

/// Who may read a file that is written.
enum class Access {
  as_before,  ///< as the file that is replaced; a new one as the process's mask says
  owner,      ///< its owner alone, from the first byte on, whatever stood there before
};

/// Replaces a file so that after a crash or a power cut at any moment the path holds either the old bytes or the
/// new ones, whole: a temporary file in the same folder, fsync, rename, fsync of the folder. A symbolic link is
/// followed, an existing file keeps its permissions, one without write permission for anybody is left alone. A stream
/// is written into. Nothing on success, else why it was not written; then the old file is untouched and no temporary
/// file is left. A killed process may leave "PATH.saving-PID-N" behind.
///
/// For the owner alone: a file of any permissions is replaced, for it is the program's own; a stream is refused, for
/// others may read it; and what killed processes left beside the file is removed, for it is as secret as the file is.
std::optional<Message> save_file(const std::string& path, std::string_view bytes, Access access = Access::as_before);

/// Why what stands at a path is not to be replaced by a file: a folder, a circle of links, a file without write
/// permission for anybody. Nothing where there is nothing.
std::optional<Message> replace_problem(const std::string& path);

/// Whether bytes written to a path go somewhere else than into a file of that name: a device, a pipe, a socket, and
/// what this process has open already ("/dev/stdout", "/dev/fd/3", what a shell makes of ">(...)"), also where that is
/// a file.
bool is_stream(const std::string& path);

/// Removes a temporary file that a killed process left behind, and no other: whoever writes one holds a lock on it
/// (flock(2), which ends with the process). False where it is none, somebody writes it, or nobody can say.
bool remove_leftover(const std::string& temporary);

/// The file that a symbolic link leads to, so that saving replaces that and not the link; also where it is not there
/// yet. Any other path, and a circle of links, is given back as it is.
std::string behind_links(const std::string& path);

/// Waits until the disk has the names that stand in a folder, so that a power cut leaves what was made in it. False
/// where that cannot be had, errno then says why.
bool sync_folder(const std::string& folder);

}  // namespace zoneproof
