#include "support/drawn_file.h"

#include <turbojpeg.h>

#include <cmath>
#include <exiv2/exiv2.hpp>
#include <memory>
#include <opencv2/imgproc.hpp>
#include <stdexcept>

namespace scantling::drawn {
namespace {

constexpr double kSensorCrop = 5.2;  ///< 35 mm film over the invented sensor
constexpr const char* kMake = "Fernhill";
constexpr const char* kModel = "Fernhill F2";
constexpr const char* kTaken = "2026:04:11 15:20:00";

using Codec = std::unique_ptr<void, int (*)(tjhandle)>;

/// As whole mm, the way phones write it (CIPA DC-008: by the picture's diagonal, 43.27 mm film).
int written_f35(const DrawnCamera& camera) {
  const double diagonal = std::hypot(camera.width_px, camera.height_px);
  return static_cast<int>(std::lround(camera.f35_factor * camera.focal_px * 43.2666 / diagonal));
}

cv::Mat as_stored(const cv::Mat& upright, int orientation) {
  cv::Mat stored;
  switch (orientation) {
    case 1:
      return upright;
    case 3:
      cv::rotate(upright, stored, cv::ROTATE_180);
      return stored;
    case 6:
      cv::rotate(upright, stored, cv::ROTATE_90_COUNTERCLOCKWISE);
      return stored;
    case 8:
      cv::rotate(upright, stored, cv::ROTATE_90_CLOCKWISE);
      return stored;
    default:
      throw std::runtime_error("EXIF orientation must be 1, 3, 6 or 8");
  }
}

std::vector<unsigned char> compress(const cv::Mat& rgb, int quality) {
  const Codec codec(tjInitCompress(), tjDestroy);
  unsigned char* data = nullptr;
  unsigned long size = 0;
  if (tjCompress2(codec.get(), rgb.data, rgb.cols, static_cast<int>(rgb.step), rgb.rows, TJPF_RGB,
                  &data, &size, TJSAMP_420, quality, TJFLAG_ACCURATEDCT) != 0)
    throw std::runtime_error(std::string("JPEG: ") + tjGetErrorStr2(codec.get()));
  std::vector<unsigned char> bytes(data, data + size);
  tjFree(data);
  return bytes;
}

}  // namespace

std::vector<unsigned char> jpeg_file(const DrawnScene& scene, const cv::Mat& rgb) {
  const DrawnCamera& camera = scene.camera;
  const cv::Mat stored = as_stored(rgb, camera.exif_orientation);
  const auto jpeg = compress(stored, camera.jpeg_quality);
  const int f35 = written_f35(camera);
  Exiv2::ExifData exif;
  exif["Exif.Image.Make"] = kMake;
  exif["Exif.Image.Model"] = kModel;
  exif["Exif.Image.Software"] = "Scantling drawn picture (not a photograph)";
  exif["Exif.Image.Orientation"] = static_cast<std::uint16_t>(camera.exif_orientation);
  exif["Exif.Photo.DateTimeOriginal"] = kTaken;
  exif["Exif.Photo.PixelXDimension"] = static_cast<std::uint32_t>(stored.cols);
  exif["Exif.Photo.PixelYDimension"] = static_cast<std::uint32_t>(stored.rows);
  exif["Exif.Photo.FocalLength"] =
      Exiv2::Rational{static_cast<std::int32_t>(std::lround(f35 / kSensorCrop * 100)), 100};
  exif["Exif.Photo.FocalLengthIn35mmFilm"] = static_cast<std::uint16_t>(f35);
  const auto image = Exiv2::ImageFactory::open(jpeg.data(), static_cast<long>(jpeg.size()));
  image->readMetadata();
  image->setExifData(exif);
  image->writeMetadata();
  Exiv2::BasicIo& io = image->io();
  io.open();
  const Exiv2::DataBuf bytes = io.read(static_cast<long>(io.size()));
  return {bytes.pData_, bytes.pData_ + bytes.size_};
}

Photo as_photo(const DrawnScene& scene, const cv::Mat& rgb) {
  const auto jpeg = compress(rgb, scene.camera.jpeg_quality);
  Photo photo;
  photo.luma.create(rgb.rows, rgb.cols, CV_8UC1);
  const Codec codec(tjInitDecompress(), tjDestroy);
  if (tjDecompress2(codec.get(), jpeg.data(), jpeg.size(), photo.luma.data, rgb.cols,
                    static_cast<int>(photo.luma.step), rgb.rows, TJPF_GRAY,
                    TJFLAG_ACCURATEDCT) != 0)
    throw std::runtime_error(std::string("JPEG: ") + tjGetErrorStr2(codec.get()));
  const bool turned = scene.camera.exif_orientation >= 5;
  const int f35 = written_f35(scene.camera);
  photo.tags.make = kMake;
  photo.tags.model = kModel;
  photo.tags.taken_at = kTaken;
  photo.tags.focal_length_mm = std::round(f35 / kSensorCrop * 100) / 100;
  photo.tags.focal_length_35mm = f35;
  photo.tags.exif_width_px = turned ? rgb.rows : rgb.cols;
  photo.tags.exif_height_px = turned ? rgb.cols : rgb.rows;
  photo.exif_orientation = scene.camera.exif_orientation;
  return photo;
}

}  // namespace scantling::drawn
