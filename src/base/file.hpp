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

/// Replaces a file so that after a crash or a power cut at any moment the path holds either the old bytes or the
/// new ones, whole: a temporary file in the same folder, fsync, rename, fsync of the folder. A symbolic link is
/// followed, an existing file keeps its permissions, one without write permission for anybody is left alone. A device
/// or a pipe is written into. Nothing on success, else why it was not written; then the old
/// file is untouched and no temporary file is left. A killed process may leave "PATH.saving-PID-N" behind.
std::optional<Message> save_file(const std::string& path, std::string_view bytes);

/// The file that a symbolic link leads to, so that saving replaces that and not the link; also where it is not there
/// yet. Any other path, and a circle of links, is given back as it is.
std::string behind_links(const std::string& path);

/// Waits until the disk has the names that stand in a folder, so that a power cut leaves what was made in it. False
/// where that cannot be had, errno then says why.
bool sync_folder(const std::string& folder);

}  // namespace zoneproof
