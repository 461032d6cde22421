// Writes a small picture of each kind into a folder, for photo_fuzz to begin with.

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <opencv2/core.hpp>

#include "support/picture_files.h"

int main(int argc, char** argv) {
  using namespace scantling::test;
  if (argc != 2) {
    std::fprintf(stderr, "photo_fuzz_seeds FOLDER\n");
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::filesystem::create_directories(folder);
  const auto write = [&](const char* name, const Bytes& bytes) {
    std::ofstream(folder / name, std::ios::binary)
        .write(reinterpret_cast<const char*>(bytes.data()),
               static_cast<std::streamsize>(bytes.size()));
  };
  const cv::Mat rgb = asymmetric_picture(40, 24);
  const cv::Mat gray = luma_of(rgb);
  cv::Mat deep, alpha(24, 40, CV_8UC4, cv::Scalar(9, 90, 200, 128));
  rgb.convertTo(deep, CV_16U, 257);
  const Bytes exif = exif_block({.make = "Testmaker",
                                 .taken_at = "2026:03:04 10:11:12",
                                 .focal_length_mm = {{425, 100}},
                                 .focal_length_35mm = 26,
                                 .orientation = 6,
                                 .width_px = 40,
                                 .height_px = 24});
  write("colour.jpg", jpeg_with_exif(jpeg_file(rgb), exif));
  write("gray.jpg", jpeg_file(gray));
  write("progressive.jpg", jpeg_file(rgb, {.progressive = true}));
  write("cmyk.jpg", cmyk_jpeg_file(40, 24));
  write("rgb.png", png_with_exif(png_file(rgb), exif));
  write("gray.png", png_file(gray));
  write("deep.png", png_file(deep));
  write("alpha.png", png_file(alpha));
  write("palette.png", palette_png_file(40, 24, {{255, 0, 0}, {0, 255, 0}, {0, 0, 255}}));
  write("rgb.tif", tiff_file(rgb, 6));
  write("deep.tif", tiff_file(deep));
  write("bilevel.tif", bilevel_tiff_file(40, 24));
  const cv::Mat larger = asymmetric_picture(64, 64);
  write("plain.heic", heic_file(larger));
  write("turned.heic", heic_file(larger, {.exif = exif, .container_turn = 6}));
  return 0;
}
