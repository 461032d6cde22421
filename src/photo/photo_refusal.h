#pragma once

#include <string>

#include "base/check.h"
#include "photo/photo.h"

namespace scantling {

/// Thrown inside this folder only: `load_photo` turns it into its check.
struct PhotoRefusal {
  Check check;
};

// One sentence a fault, each saying what to do next. `name` is the file's name for the user.
PhotoRefusal refuse_missing(const std::string& name);
PhotoRefusal refuse_folder(const std::string& name);
PhotoRefusal refuse_unreadable(const std::string& name, const std::string& reason);
PhotoRefusal refuse_empty(const std::string& name);
/// `kind` says what the file is instead, such as "a PDF document"; empty where unknown.
PhotoRefusal refuse_not_a_photo(const std::string& name, const std::string& kind);
PhotoRefusal refuse_truncated(const std::string& name);
PhotoRefusal refuse_damaged(const std::string& name);
/// `kind` says what sort of picture it is, such as "a CMYK picture for printing".
PhotoRefusal refuse_unsupported(const std::string& name, const std::string& kind);
PhotoRefusal refuse_file_bytes(const std::string& name, const PhotoLimits& limits);
PhotoRefusal refuse_memory(const std::string& name);

/// @throws PhotoRefusal when a picture of this size, known from its header, breaks the limits.
void require_size_within_limits(const std::string& name, long long width_px, long long height_px,
                                const PhotoLimits& limits);

}  // namespace scantling
