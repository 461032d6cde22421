#include "photo/photo_refusal.h"

#include <fmt/format.h>

#include <algorithm>

namespace scantling {
namespace {

PhotoRefusal stop(const char* id, std::string message) {
  return {{id, Severity::stop, std::move(message)}};
}

}  // namespace

PhotoRefusal refuse_missing(const std::string& name) {
  return stop("photo_missing",
              fmt::format("There is no file \"{}\": check its name and folder.", name));
}

PhotoRefusal refuse_folder(const std::string& name) {
  return stop("photo_not_a_photo",
              fmt::format("\"{}\" is a folder or a device: choose the photo file itself.", name));
}

PhotoRefusal refuse_unreadable(const std::string& name, const std::string& reason) {
  return stop("photo_unreadable",
              fmt::format("\"{}\" can't be opened ({}): check that you are allowed to read it, or "
                          "copy it to your own folder.",
                          name, reason));
}

PhotoRefusal refuse_empty(const std::string& name) {
  return stop("photo_truncated",
              fmt::format("\"{}\" is empty: copy it from the phone once more.", name));
}

PhotoRefusal refuse_not_a_photo(const std::string& name, const std::string& kind) {
  return stop("photo_not_a_photo",
              fmt::format("\"{}\" is {}: choose a JPEG, PNG, TIFF or HEIC photo.", name,
                          kind.empty() ? "not a photo" : kind + ", not a photo"));
}

PhotoRefusal refuse_truncated(const std::string& name) {
  return stop(
      "photo_truncated",
      fmt::format("\"{}\" breaks off before its end: copy it from the phone once more.", name));
}

PhotoRefusal refuse_damaged(const std::string& name) {
  return stop("photo_damaged",
              fmt::format("\"{}\" is damaged, so no size can be trusted to it: copy it from the "
                          "phone once more, or take a new photo.",
                          name));
}

PhotoRefusal refuse_unsupported(const std::string& name, const std::string& kind) {
  return stop("photo_unsupported",
              fmt::format("\"{}\" is {}: save it as an ordinary JPEG at full size, then try again.",
                          name, kind));
}

PhotoRefusal refuse_file_bytes(const std::string& name, const PhotoLimits& limits) {
  return stop("photo_too_large",
              fmt::format("\"{}\" is larger than {} MB: use the photo as the phone stored it.",
                          name, limits.file_bytes >> 20));
}

PhotoRefusal refuse_memory(const std::string& name) {
  return stop(
      "photo_too_large",
      fmt::format("There is not enough memory to open \"{}\": close other programs, or use a "
                  "smaller photo.",
                  name));
}

void require_size_within_limits(const std::string& name, long long width_px, long long height_px,
                                const PhotoLimits& limits) {
  if (width_px <= 0 || height_px <= 0) throw refuse_damaged(name);
  // Each side first: the product of two sides within the limit can't overflow.
  if (width_px > limits.side_px || height_px > limits.side_px ||
      width_px * height_px > limits.pixels)
    throw stop(
        "photo_too_large",
        fmt::format("\"{}\" claims to be {} x {} pixels, more than the {} million this program "
                    "opens: use the photo as the phone stored it.",
                    name, width_px, height_px, limits.pixels / 1'000'000));
  if (std::min(width_px, height_px) < limits.smallest_side_px)
    throw stop(
        "photo_too_small",
        fmt::format("\"{}\" is only {} x {} pixels, too small to measure from: send the photo at "
                    "its original size, not a preview.",
                    name, width_px, height_px));
}

}  // namespace scantling
