#pragma once

#include <cstdint>
#include <filesystem>
#include <opencv2/core.hpp>

#include "made_camera.h"
#include "made_scene.h"

namespace scantling::made {

/// Reads a PNG of 16 bits a channel, its values taken as linear light: CV_32FC3 (R, G, B) or
/// CV_32FC1, 1.0 = full scale. @throws std::runtime_error when it cannot be read.
cv::Mat read_linear_png(const std::filesystem::path& file);

/// The coarse picture enlarged; for distances it may be all.
cv::Mat widened(const RenderFrame& frame, const cv::Mat& coarse);

/// The same with the fine part laid into it. One channel for distances.
cv::Mat assemble(const RenderFrame& frame, const cv::Mat& coarse, const cv::Mat& fine);

/// What the lens, sensor and phone make of the rendered light: depth of field, blur, distortion,
/// vignetting, noise, tone curve, sharpening. @return the upright photo, CV_8UC3 (R, G, B), sRGB.
cv::Mat develop(const Scene& scene, const cv::Mat& light, const cv::Mat& depth);

/// Writes the photo as the phone would: turned for its EXIF orientation, JPEG 4:2:0 with EXIF.
void write_photo(const Scene& scene, const cv::Mat& upright, const std::filesystem::path& file);

/// Blurs by distance: a disc of `aperture_px_mm * |1/z - 1/focus_mm|` px, as a Gaussian. Nothing
/// sharp bleeds into what lies out of focus behind it.
cv::Mat out_of_focus(const cv::Mat& light, const cv::Mat& depth_mm, double aperture_px_mm,
                     double focus_mm);

}  // namespace scantling::made
