#include "photo/file_kind.h"

#include <libheif/heif.h>

#include <algorithm>
#include <string_view>

namespace scantling {
namespace {

using namespace std::string_view_literals;

std::string_view head_of(std::span<const std::uint8_t> bytes, std::size_t longest) {
  return {reinterpret_cast<const char*>(bytes.data()), std::min(bytes.size(), longest)};
}

bool has_at(std::string_view head, std::size_t place, std::string_view magic) {
  return head.size() >= place + magic.size() && head.substr(place, magic.size()) == magic;
}

bool is_heic(std::string_view head, std::span<const std::uint8_t> bytes) {
  if (!has_at(head, 4, "ftyp"sv)) return false;
  const int length = static_cast<int>(std::min<std::size_t>(bytes.size(), 4096));
  return heif_check_filetype(bytes.data(), length) == heif_filetype_yes_supported;
}

struct Magic {
  std::size_t place;
  std::string_view bytes;
  const char* kind;
};

constexpr Magic kOtherKinds[] = {
    {0, "%PDF"sv, "a PDF document"},
    {0, "PK\x03\x04"sv, "a ZIP archive or an office document"},
    {0, "\x1f\x8b"sv, "a compressed archive"},
    {0, "Rar!"sv, "a compressed archive"},
    {0, "7z\xbc\xaf"sv, "a compressed archive"},
    {0, "GIF8"sv, "a GIF animation"},
    {0, "BM"sv, "a BMP picture"},
    {8, "WEBP"sv, "a WebP picture"},
    {8, "AVI "sv, "a video"},
    {4, "ftyp"sv, "a video or an unknown kind of picture"},
    {4, "moov"sv, "a video"},
    {0, "\x1a\x45\xdf\xa3"sv, "a video"},
    {0,
     "\x7f"
     "ELF"sv,
     "a program"},
    {0, "MZ"sv, "a program"},
    {0, "SQLite format 3"sv, "a database"},
};

/// Plain ASCII or UTF-8 writing: no zero byte and hardly a control character.
bool looks_like_text(std::string_view head) {
  const auto odd = std::count_if(head.begin(), head.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 && byte != '\n' && byte != '\r' && byte != '\t' && byte != '\f';
  });
  return !head.empty() && odd == 0;
}

}  // namespace

std::optional<PhotoFormat> photo_format_of(std::span<const std::uint8_t> bytes) {
  const std::string_view head = head_of(bytes, 64);
  if (has_at(head, 0, "\xff\xd8\xff"sv)) return PhotoFormat::jpeg;
  if (has_at(head, 0, "\x89PNG\r\n\x1a\n"sv)) return PhotoFormat::png;
  for (const auto magic : {"II*\0"sv, "MM\0*"sv, "II+\0"sv, "MM\0+"sv})
    if (has_at(head, 0, magic)) return PhotoFormat::tiff;
  if (is_heic(head, bytes)) return PhotoFormat::heic;
  return std::nullopt;
}

std::string other_kind_of(std::span<const std::uint8_t> bytes) {
  const std::string_view head = head_of(bytes, 512);
  for (const Magic& magic : kOtherKinds)
    if (has_at(head, magic.place, magic.bytes)) return magic.kind;
  if (looks_like_text(head)) return "a text file";
  return {};
}

}  // namespace scantling
