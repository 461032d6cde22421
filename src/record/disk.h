#pragma once

#include <filesystem>
#include <string>

namespace scantling {

/// Makes the folder and what is missing above it, each readable by its owner only (mode 0700).
/// @throws RecordError when that cannot be done.
void make_private_folders(const std::filesystem::path& folder);

/// Forces the folder's own entries (new names, renames) to disk. @throws RecordError.
void sync_folder(const std::filesystem::path& folder);

/// SHA-256 (FIPS 180-4) of a file's content in lower-case hexadecimal; empty where it cannot be
/// read to its end.
std::string sha256_of_file(const std::filesystem::path& file);

/// The sentence for a failed system call: what could not be done to `path`, why, what to do next.
std::string disk_sentence(const std::string& could_not, const std::filesystem::path& path,
                          int error_number);

}  // namespace scantling
