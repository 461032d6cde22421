#pragma once

#include <filesystem>

namespace scantling {

/// Writes `photo`, a JPEG, again with `factor` times as many pixels a side, finely grained as a
/// phone's are, under its own EXIF block. For benchmarks: what counts is the size.
/// @throws std::runtime_error where `photo` cannot be read or `to` not be written.
void write_larger_photo(const std::filesystem::path& photo, int factor,
                        const std::filesystem::path& to);

}  // namespace scantling
