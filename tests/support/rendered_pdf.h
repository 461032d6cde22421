#pragma once

#include <opencv2/core.hpp>
#include <sstream>
#include <stdexcept>
#include <string>

#include "support/run_program.h"

namespace scantling {

/// A page of a PDF (counted from 1) as poppler draws it: CV_8UC1, anti-aliased.
inline cv::Mat rendered_pdf(const std::string& path, int page, double dpi) {
  const std::string number = std::to_string(page);
  const ProgramResult drawn = run_program({"pdftoppm", "-gray", "-r", std::to_string(dpi), "-f",
                                           number, "-l", number, "-singlefile", path});
  std::istringstream header(drawn.output.substr(0, 64));
  std::string magic;
  int width = 0, height = 0, white = 0;
  if (!(header >> magic >> width >> height >> white) || magic != "P5" || white != 255)
    throw std::runtime_error("pdftoppm drew nothing: " + drawn.errors);
  const std::size_t start = static_cast<std::size_t>(header.tellg()) + 1;
  cv::Mat picture(height, width, CV_8UC1);
  if (drawn.output.size() != start + picture.total())
    throw std::runtime_error("pdftoppm's picture is incomplete");
  std::copy(drawn.output.begin() + static_cast<std::ptrdiff_t>(start), drawn.output.end(),
            picture.data);
  return picture;
}

}  // namespace scantling
