#pragma once
#include <string>

namespace zoneproof {

/// Gives a file a name that nothing has yet. False where something has it, errno is EEXIST then, or where it cannot be
/// renamed; the file keeps its name then. Two programs that want one name cannot both get it: renameat2(2) with
/// RENAME_NOREPLACE, and where the file system has none of that (NFS) link and unlink, between which the file has both
/// names, never none. Where it has no links either (some file systems of FUSE) the name is reserved by an empty file.
bool rename_new(const std::string& from, const std::string& to);

}  // namespace zoneproof
