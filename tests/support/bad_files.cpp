#include "support/bad_files.h"

#include <zlib.h>

#include <stdexcept>
#include <string_view>

namespace scantling::test {
namespace {

Bytes cut(Bytes bytes, double part) {
  bytes.resize(static_cast<std::size_t>(static_cast<double>(bytes.size()) * part));
  return bytes;
}

Bytes text(std::string_view s) {
  return {s.begin(), s.end()};
}

Bytes with_flipped_middle(Bytes bytes) {
  for (std::size_t i = bytes.size() / 2; i < bytes.size() / 2 + 40; ++i) bytes[i] ^= 0xff;
  return bytes;
}

/// A progressive JPEG with one scan written a thousand times: small to store, endless to decode.
Bytes jpeg_with_a_thousand_scans() {
  const Bytes bytes = jpeg_file(asymmetric_picture(640, 480), {.progressive = true});
  std::size_t scan = 0;
  for (std::size_t i = 2; i + 1 < bytes.size(); ++i)
    if (bytes[i] == 0xff && bytes[i + 1] == 0xda) scan = i;
  Bytes many(bytes.begin(), bytes.end() - 2);
  for (int i = 0; i < 1000; ++i)
    many.insert(many.end(), bytes.begin() + static_cast<std::ptrdiff_t>(scan), bytes.end() - 2);
  many.insert(many.end(), {0xff, 0xd9});
  return many;
}

}  // namespace

Bytes jpeg_claiming(int width, int height) {
  Bytes bytes = jpeg_file(asymmetric_picture(640, 480));
  for (std::size_t i = 2; i + 9 < bytes.size(); ++i)
    if (bytes[i] == 0xff && bytes[i + 1] == 0xc0) {
      bytes[i + 5] = static_cast<std::uint8_t>(height >> 8);
      bytes[i + 6] = static_cast<std::uint8_t>(height);
      bytes[i + 7] = static_cast<std::uint8_t>(width >> 8);
      bytes[i + 8] = static_cast<std::uint8_t>(width);
      return bytes;
    }
  throw std::logic_error("no frame header");
}

Bytes png_claiming(std::uint32_t width, std::uint32_t height) {
  Bytes bytes = png_file(asymmetric_picture(640, 480));
  const auto put = [&](std::size_t at, std::uint32_t value) {
    for (std::size_t i = 0; i < 4; ++i)
      bytes[at + i] = static_cast<std::uint8_t>(value >> (24 - 8 * i));
  };
  put(16, width);
  put(20, height);
  put(29, static_cast<std::uint32_t>(crc32(0, bytes.data() + 12, 17)));
  return bytes;
}

std::vector<BadFile> bad_files() {
  const cv::Mat rgb = asymmetric_picture(640, 480);
  const Bytes jpeg = jpeg_file(rgb);
  const Bytes progressive = jpeg_file(rgb, {.progressive = true});
  const Bytes png = png_file(rgb);
  const Bytes tiff = tiff_file(rgb);
  return {
      {"empty.jpg", {}, "photo_truncated", "is empty"},
      {"one-byte.jpg", {0xff}, "photo_not_a_photo", "JPEG, PNG, TIFF or HEIC"},
      {"text.jpg", text("Pads bought in May.\nNothing else.\n"), "photo_not_a_photo",
       "a text file"},
      {"paper.jpg", text("%PDF-1.7\n%\xe2\xe3"), "photo_not_a_photo", "a PDF document"},
      {"archive.heic", text(std::string_view("PK\x03\x04\x14\0\0\0", 8)), "photo_not_a_photo",
       "a ZIP archive"},
      {"moving.png", text("GIF89a......."), "photo_not_a_photo", "a GIF animation"},
      {"web.jpg", text("RIFF....WEBPVP8 "), "photo_not_a_photo", "a WebP picture"},
      {"film.jpg",
       text(std::string_view("\0\0\0\x18"
                             "ftypmp42\0\0\0\0",
                             16)),
       "photo_not_a_photo", "a video"},
      {"zeros.jpg", Bytes(10'000, 0), "photo_not_a_photo", "not a photo"},
      {"head-only.jpg", {0xff, 0xd8, 0xff}, "photo_truncated", "breaks off"},
      {"head-only.png", Bytes(png.begin(), png.begin() + 12), "photo_truncated", "breaks off"},
      {"head-only.tif", Bytes(tiff.begin(), tiff.begin() + 6), "photo_truncated", "breaks off"},
      {"cut-1.jpg", cut(jpeg, 0.02), "photo_truncated", "copy it from the phone"},
      {"cut-2.jpg", cut(jpeg, 0.5), "photo_truncated", "copy it from the phone"},
      {"cut-3.jpg", Bytes(jpeg.begin(), jpeg.end() - 30), "photo_truncated",
       "copy it from the phone"},
      {"cut-4.jpg", cut(progressive, 0.5), "photo_truncated", "copy it from the phone"},
      {"cut.png", cut(png, 0.5), "photo_truncated", "copy it from the phone"},
      {"cut.tif", cut(tiff, 0.5), "photo_truncated", "copy it from the phone"},
      {"hurt.png", with_flipped_middle(png), "photo_damaged", "is damaged"},
      {"hurt.tif", with_flipped_middle(tiff), "photo_damaged", "is damaged"},
      {"dot.jpg", jpeg_file(asymmetric_picture(1, 1)), "photo_too_small", "1 x 1"},
      {"dot.png", png_file(asymmetric_picture(1, 1)), "photo_too_small", "1 x 1"},
      {"dot.tif", tiff_file(asymmetric_picture(1, 1)), "photo_too_small", "1 x 1"},
      {"thumbnail.jpg", jpeg_file(asymmetric_picture(640, 479)), "photo_too_small", "640 x 479"},
      {"bomb.jpg", jpeg_claiming(60'000, 60'000), "photo_too_large", "60000 x 60000"},
      {"wide.jpg", jpeg_claiming(32'001, 600), "photo_too_large", "32001 x 600"},
      {"area.jpg", jpeg_claiming(12'000, 12'000), "photo_too_large", "120 million"},
      {"bomb.png", png_claiming(60'000, 60'000), "photo_too_large", "60000 x 60000"},
      {"huge.png", png_claiming(2'000'000'000, 2'000'000'000), "photo_damaged", "is damaged"},
      {"nothing.png", png_claiming(0, 600), "photo_damaged", "is damaged"},
      {"lie.png", png_claiming(8'000, 8'000), "photo_damaged", "is damaged"},
      {"lie.jpg", jpeg_claiming(8'000, 8'000), "photo_damaged", "is damaged"},
      {"scans.jpg", jpeg_with_a_thousand_scans(), "photo_damaged", "is damaged"},
      {"print.jpg", cmyk_jpeg_file(640, 480), "photo_unsupported", "CMYK"},
  };
}

}  // namespace scantling::test
