#include <png.h>
#include <turbojpeg.h>

#include <cstdio>
#include <exiv2/exiv2.hpp>
#include <fstream>
#include <memory>
#include <stdexcept>

#include "made_develop.h"

namespace scantling::made {

cv::Mat read_linear_png(const std::filesystem::path& file) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> stream(std::fopen(file.c_str(), "rb"),
                                                               std::fclose);
  if (!stream) throw std::runtime_error("cannot read " + file.string());
  png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png_create_info_struct(png);
  cv::Mat image;
  std::vector<png_byte> row;
  if (setjmp(png_jmpbuf(png))) {
    png_destroy_read_struct(&png, &info, nullptr);
    throw std::runtime_error("not a whole PNG: " + file.string());
  }
  png_init_io(png, stream.get());
  png_read_info(png, info);
  const int width = static_cast<int>(png_get_image_width(png, info));
  const int height = static_cast<int>(png_get_image_height(png, info));
  const int channels = png_get_channels(png, info);
  if (png_get_bit_depth(png, info) != 16 || (channels != 1 && channels != 3)) {
    png_error(png, "16 bits a channel, 1 or 3 channels wanted");
  }
  image.create(height, width, CV_32FC(channels));
  row.resize(png_get_rowbytes(png, info));
  for (int y = 0; y < height; ++y) {
    png_read_row(png, row.data(), nullptr);
    float* out = image.ptr<float>(y);
    for (size_t i = 0; i < row.size() / 2; ++i) {
      out[i] = static_cast<float>(row[2 * i] * 256 + row[2 * i + 1]) / 65535.0f;
    }
  }
  png_destroy_read_struct(&png, &info, nullptr);
  return image;
}

namespace {

/// The picture as it lies in the file so that a viewer obeying `orientation` shows it upright.
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
      throw std::runtime_error("orientation must be 1, 3, 6 or 8");
  }
}

std::vector<unsigned char> encode_jpeg(const cv::Mat& rgb, int quality) {
  const std::unique_ptr<void, int (*)(tjhandle)> encoder(tjInitCompress(), tjDestroy);
  unsigned char* data = nullptr;
  unsigned long size = 0;
  if (tjCompress2(encoder.get(), rgb.data, rgb.cols, static_cast<int>(rgb.step), rgb.rows, TJPF_RGB,
                  &data, &size, TJSAMP_420, quality, TJFLAG_ACCURATEDCT) != 0) {
    throw std::runtime_error(std::string("JPEG: ") + tjGetErrorStr2(encoder.get()));
  }
  std::vector<unsigned char> bytes(data, data + size);
  tjFree(data);
  return bytes;
}

/// A focal length of the right ratio for an invented sensor.
Exiv2::Rational focal_length_mm(double f35_mm) {
  constexpr double kCrop = 4.7;
  return {static_cast<int32_t>(std::lround(f35_mm / kCrop * 100)), 100};
}

Exiv2::ExifData exif_of(const PhotoSettings& settings, cv::Size stored) {
  Exiv2::ExifData exif;
  exif["Exif.Image.Make"] = settings.make;
  exif["Exif.Image.Model"] = settings.model;
  exif["Exif.Image.Orientation"] = static_cast<uint16_t>(settings.orientation);
  exif["Exif.Image.Software"] = "Scantling made picture (rendered, not a photograph)";
  exif["Exif.Image.DateTime"] = settings.date_time;
  exif["Exif.Photo.DateTimeOriginal"] = settings.date_time;
  exif["Exif.Photo.PixelXDimension"] = static_cast<uint32_t>(stored.width);
  exif["Exif.Photo.PixelYDimension"] = static_cast<uint32_t>(stored.height);
  exif["Exif.Photo.FocalLength"] = focal_length_mm(settings.f35_mm);
  exif["Exif.Photo.FocalLengthIn35mmFilm"] = static_cast<uint16_t>(std::lround(settings.f35_mm));
  exif["Exif.Photo.ColorSpace"] = static_cast<uint16_t>(1);
  return exif;
}

}  // namespace

void write_photo(const Scene& scene, const cv::Mat& upright, const std::filesystem::path& file) {
  const cv::Mat stored = as_stored(upright, scene.photo.orientation);
  const auto jpeg = encode_jpeg(stored, scene.photo.jpeg_quality);
  auto image = Exiv2::ImageFactory::open(jpeg.data(), static_cast<long>(jpeg.size()));
  image->readMetadata();
  image->setExifData(exif_of(scene.photo, stored.size()));
  image->writeMetadata();
  auto& io = image->io();
  io.open();
  const auto bytes = io.read(static_cast<long>(io.size()));
  std::ofstream out(file, std::ios::binary);
  out.write(reinterpret_cast<const char*>(bytes.pData_), bytes.size_);
  if (!out.flush()) throw std::runtime_error("cannot write " + file.string());
}

}  // namespace scantling::made
