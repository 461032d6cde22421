#include "report/scaled_photo.h"

#include <turbojpeg.h>

#include <algorithm>
#include <memory>
#include <opencv2/imgproc.hpp>
#include <stdexcept>

namespace scantling {

namespace {

constexpr int kJpegQuality = 80;

std::string as_jpeg(const cv::Mat& rgb) {
  const std::unique_ptr<void, int (*)(void*)> coder(tjInitCompress(), &tjDestroy);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  const int failed =
      coder ? tjCompress2(coder.get(), rgb.data, rgb.cols, static_cast<int>(rgb.step), rgb.rows,
                          TJPF_RGB, &bytes, &size, TJSAMP_420, kJpegQuality, 0)
            : -1;
  const std::unique_ptr<unsigned char, void (*)(unsigned char*)> owner(bytes, &tjFree);
  if (failed != 0) throw std::runtime_error("A photo could not be packed for the report.");
  return {reinterpret_cast<const char*>(bytes), size};
}

}  // namespace

ScaledPhoto scaled_photo(const cv::Mat& rgb, const cv::Rect& window, int longest_side_px) {
  const double factor =
      std::min(1.0, static_cast<double>(longest_side_px) / std::max(window.width, window.height));
  ScaledPhoto result;
  cv::resize(rgb(window), result.rgb, {}, factor, factor, cv::INTER_AREA);
  result.jpeg = as_jpeg(result.rgb);
  return result;
}

}  // namespace scantling
