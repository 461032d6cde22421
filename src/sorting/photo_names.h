#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace scantling {

/// Order of names with their numbers read as numbers: "IMG 9" before "IMG 10".
bool name_before(const std::string& a, const std::string& b);

/// Whether a file's name ends as a photo's does (JPEG, PNG, TIFF, HEIC), in whatever case, and is
/// not hidden.
bool named_like_photo(const std::filesystem::path& file);

/// The photos that are meant: folders stand for the photos directly in them, by name; files stand
/// for themselves, whatever they are called.
std::vector<std::filesystem::path> photos_meant(const std::vector<std::filesystem::path>& given);

}  // namespace scantling
