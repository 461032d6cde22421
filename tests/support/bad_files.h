#pragma once

#include <vector>

#include "support/picture_files.h"

namespace scantling::test {

/// A file that no one can measure from, and what the program says to it.
struct BadFile {
  const char* name;
  Bytes bytes;
  const char* id;     ///< of its one `stop` check
  const char* words;  ///< must be in the sentence
};

std::vector<BadFile> bad_files();

/// A JPEG whose frame header claims another size.
Bytes jpeg_claiming(int width, int height);
/// A PNG whose header claims another size, with a right checksum.
Bytes png_claiming(std::uint32_t width, std::uint32_t height);

}  // namespace scantling::test
