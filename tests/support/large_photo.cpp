#include "support/large_photo.h"

#include <turbojpeg.h>

#include <fstream>
#include <iterator>
#include <memory>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <stdexcept>
#include <vector>

namespace scantling {
namespace {

using Bytes = std::vector<unsigned char>;
using Tool = std::unique_ptr<void, int (*)(void*)>;

Bytes read(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return Bytes(std::istreambuf_iterator<char>(stream), {});
}

cv::Mat3b decode(const Bytes& file) {
  const Tool tool(tjInitDecompress(), tjDestroy);
  int width = 0, height = 0, sampling = 0, colours = 0;
  const auto size = static_cast<unsigned long>(file.size());
  if (tjDecompressHeader3(tool.get(), file.data(), size, &width, &height, &sampling, &colours) != 0)
    throw std::runtime_error("not a JPEG");
  cv::Mat3b picture(height, width);
  if (tjDecompress2(tool.get(), file.data(), size, picture.data, width,
                    static_cast<int>(picture.step), height, TJPF_RGB, 0) != 0)
    throw std::runtime_error("a damaged JPEG");
  return picture;
}

Bytes encode(const cv::Mat3b& picture) {
  const Tool tool(tjInitCompress(), tjDestroy);
  unsigned char* out = nullptr;
  unsigned long size = 0;
  const int failed =
      tjCompress2(tool.get(), picture.data, picture.cols, static_cast<int>(picture.step),
                  picture.rows, TJPF_RGB, &out, &size, TJSAMP_420, 92, 0);
  const std::unique_ptr<unsigned char, void (*)(unsigned char*)> owner(out, tjFree);
  if (failed != 0) throw std::runtime_error("cannot write a JPEG");
  return Bytes(out, out + size);
}

/// The APP1 segment, marker and all; empty where the file has none before its tables.
Bytes exif_segment(const Bytes& file) {
  for (std::size_t at = 2;
       at + 4 < file.size() && file[at] == 0xff && file[at + 1] >= 0xe0 && file[at + 1] <= 0xef;) {
    const std::size_t length = 2 + (std::size_t{file[at + 2]} << 8 | file[at + 3]);
    if (at + length > file.size()) break;
    const auto first = file.begin() + static_cast<std::ptrdiff_t>(at);
    if (file[at + 1] == 0xe1) return Bytes(first, first + static_cast<std::ptrdiff_t>(length));
    at += length;
  }
  return {};
}

}  // namespace

void write_larger_photo(const std::filesystem::path& photo, int factor,
                        const std::filesystem::path& to) {
  const Bytes from = read(photo);
  cv::Mat3b picture;
  cv::resize(decode(from), picture, {}, factor, factor, cv::INTER_CUBIC);
  cv::theRNG().state = 48;
  cv::Mat3s grain(picture.size());
  cv::randn(grain, cv::Scalar::all(0), cv::Scalar::all(1.5));
  cv::add(picture, grain, picture, cv::noArray(), CV_8U);
  Bytes file = encode(picture);
  const Bytes exif = exif_segment(from);
  file.insert(file.begin() + 2, exif.begin(), exif.end());
  std::ofstream stream(to, std::ios::binary);
  stream.write(reinterpret_cast<const char*>(file.data()),
               static_cast<std::streamsize>(file.size()));
  if (!stream.flush()) throw std::runtime_error("cannot write " + to.string());
}

}  // namespace scantling
