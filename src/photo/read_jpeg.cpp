#include <turbojpeg.h>

#include <algorithm>
#include <charconv>
#include <memory>
#include <string_view>

#include "photo/camera_tags.h"
#include "photo/photo_refusal.h"
#include "photo/picture_reader.h"

namespace scantling {
namespace {

using Bytes = std::span<const std::uint8_t>;

struct Destroy {
  void operator()(void* handle) const { tjDestroy(handle); }
};
using Decoder = std::unique_ptr<void, Destroy>;

/// Calls `visit(marker, payload)` for each segment up to the end of the picture, passing over the
/// pixels between them, until it returns false.
template <class Visit>
void visit_segments(Bytes file, Visit visit) {
  const std::uint8_t* at = file.data() + 2;
  const std::uint8_t* const end = file.data() + file.size();
  while ((at = std::find(at, end, 0xff)) != end && at + 1 != end) {
    const int marker = at[1];
    const bool fill = marker == 0xff;
    const bool in_pixels = marker == 0x00 || (marker >= 0xd0 && marker <= 0xd7);
    if (fill || in_pixels) {
      at += fill ? 1 : 2;
      continue;
    }
    if (marker == 0xd9 || end - at < 4) return;
    const int length = (at[2] << 8) | at[3];
    if (length < 2 || end - at < 2 + length) return;
    if (!visit(marker, Bytes(at + 4, static_cast<std::size_t>(length - 2)))) return;
    at += 2 + length;
  }
}

constexpr int kStartOfScan = 0xda;

ExifBlock exif_of(Bytes file) {
  ExifBlock block;
  visit_segments(file, [&](int marker, Bytes payload) {
    constexpr std::string_view kPrefix("Exif\0\0", 6);
    if (marker == kStartOfScan) return false;
    if (marker != 0xe1 || payload.size() < kPrefix.size() ||
        !std::equal(kPrefix.begin(), kPrefix.end(), payload.begin()))
      return true;
    block = read_exif(payload.subspan(kPrefix.size()));
    return false;
  });
  return block;
}

/// A progressive file's every scan costs a pass over the whole picture, however few bytes it has.
bool has_too_many_scans(Bytes file) {
  constexpr int kMostScans = 100;  // phones write about 10
  bool progressive = false;
  int scans = 0;
  visit_segments(file, [&](int marker, Bytes) {
    if (marker == 0xc2) progressive = true;
    if (marker == kStartOfScan) ++scans;
    return scans == 0 || (progressive && scans <= kMostScans);
  });
  return scans > kMostScans;
}

bool contains(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

/// Some cameras pad the pixels with a few stray bytes. Every pixel was read all the same.
bool is_padding(std::string_view warning) {
  constexpr std::string_view kLead = "Corrupt JPEG data: ",
                             kTail = " extraneous bytes before marker 0xd9";
  if (!warning.starts_with(kLead) || !warning.ends_with(kTail)) return false;
  const std::string_view number =
      warning.substr(kLead.size(), warning.size() - kLead.size() - kTail.size());
  int count = 0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), count);
  return error == std::errc() && end == number.data() + number.size() && count <= 16;
}

PhotoRefusal refusal_for(const std::string& name, std::string_view fault) {
  if (contains(fault, "Unsupported") || contains(fault, "not implemented") ||
      contains(fault, "Sorry"))
    return refuse_unsupported(name, "a kind of JPEG that cameras don't write");
  if (contains(fault, "Premature end") || contains(fault, "missing SOS"))
    return refuse_truncated(name);
  return refuse_damaged(name);
}

int scaled_side(int side, int denominator) {
  return (side + denominator - 1) / denominator;
}

/// 1, 2, 4 or 8: the largest reduction that leaves the longest side above the wish.
int reduction_for(int width, int height, int longest_side_px) {
  int denominator = 1;
  while (denominator < 8 && scaled_side(std::max(width, height), denominator) > longest_side_px)
    denominator *= 2;
  return denominator;
}

}  // namespace

StoredPicture read_jpeg(const PictureRequest& request) {
  const Decoder decoder(tjInitDecompress());
  if (!decoder) throw refuse_memory(request.name);
  const auto size = static_cast<unsigned long>(request.bytes.size());
  int width = 0, height = 0, sampling = 0, colours = 0;
  if (tjDecompressHeader3(decoder.get(), request.bytes.data(), size, &width, &height, &sampling,
                          &colours) != 0)
    throw refusal_for(request.name, tjGetErrorStr2(decoder.get()));
  if (width == 0) throw refuse_truncated(request.name);  // it ends before its frame header
  require_size_within_limits(request.name, width, height, request.limits);
  if (colours == TJCS_CMYK || colours == TJCS_YCCK)
    throw refuse_unsupported(request.name, "a CMYK picture made for printing");
  if (has_too_many_scans(request.bytes)) throw refuse_damaged(request.name);

  StoredPicture picture;
  const bool luma = request.kind == PixelKind::luma;
  const int denominator = luma ? 1 : reduction_for(width, height, request.longest_side_px);
  width = scaled_side(width, denominator);
  height = scaled_side(height, denominator);
  picture.pixels.create(height, width, luma ? CV_8UC1 : CV_8UC3);
  if (tjDecompress2(decoder.get(), request.bytes.data(), size, picture.pixels.data, width,
                    static_cast<int>(picture.pixels.step), height, luma ? TJPF_GRAY : TJPF_RGB,
                    TJFLAG_LIMITSCANS) != 0) {
    // A warning counts: the rest of the picture would be guessed, and looks real.
    const std::string_view fault = tjGetErrorStr2(decoder.get());
    if (tjGetErrorCode(decoder.get()) != TJERR_WARNING || !is_padding(fault))
      throw refusal_for(request.name, fault);
    picture.checks.push_back({"photo_stray_bytes", Severity::warn,
                              "This photo's file ends with stray bytes: look whether any part of "
                              "it is smeared or shifted, "
                              "and if so take a new one."});
  }
  const ExifBlock exif = exif_of(request.bytes);
  picture.tags = exif.tags;
  picture.exif_orientation = picture.turn = exif.orientation;
  return picture;
}

}  // namespace scantling
