#include "support/picture_files.h"

#include <png.h>
#include <tiffio.h>
#include <turbojpeg.h>
#include <zlib.h>

#include <cmath>
#include <cstring>
#include <exiv2/exiv2.hpp>
#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <iterator>
#include <opencv2/core.hpp>
#include <span>
#include <stdexcept>

#include "support/temporary_folder.h"

namespace scantling::test {
namespace {

void require(bool fine, const char* what) {
  if (!fine) throw std::runtime_error(std::string("the test could not make its picture: ") + what);
}

Bytes big_endian_32(std::size_t value) {
  Bytes bytes;
  for (int shift = 24; shift >= 0; shift -= 8)
    bytes.push_back(static_cast<std::uint8_t>(value >> shift));
  return bytes;
}

Bytes joined(std::initializer_list<std::span<const std::uint8_t>> parts) {
  Bytes bytes;
  for (const auto part : parts) bytes.insert(bytes.end(), part.begin(), part.end());
  return bytes;
}

Bytes png_written(png_image& image, const void* pixels, png_int_32 stride, const void* palette) {
  png_alloc_size_t size = 0;
  require(png_image_write_to_memory(&image, nullptr, &size, 0, pixels, stride, palette), "png");
  Bytes bytes(size);
  require(png_image_write_to_memory(&image, bytes.data(), &size, 0, pixels, stride, palette),
          "png");
  bytes.resize(size);
  return bytes;
}

Bytes bytes_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return Bytes(std::istreambuf_iterator<char>(file), {});
}

}  // namespace

cv::Mat asymmetric_picture(int width, int height) {
  cv::Mat rgb(height, width, CV_8UC3);
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      const double u = static_cast<double>(x) / width, v = static_cast<double>(y) / height;
      rgb.at<cv::Vec3b>(y, x) = {cv::saturate_cast<uchar>(40 + 170 * u),
                                 cv::saturate_cast<uchar>(30 + 110 * v * v + 80 * u * v),
                                 cv::saturate_cast<uchar>(128 + 90 * std::sin(5 * u + 2 * v))};
    }
  return rgb;
}

cv::Mat luma_of(const cv::Mat& rgb) {
  cv::Mat luma(rgb.size(), CV_8UC1);
  for (int y = 0; y < rgb.rows; ++y)
    for (int x = 0; x < rgb.cols; ++x) {
      const cv::Vec3b& p = rgb.at<cv::Vec3b>(y, x);
      luma.at<uchar>(y, x) = cv::saturate_cast<uchar>(0.299 * p[0] + 0.587 * p[1] + 0.114 * p[2]);
    }
  return luma;
}

cv::Mat stored_for_orientation(const cv::Mat& upright, int orientation) {
  const int w = upright.cols, h = upright.rows;
  const bool swapped = orientation >= 5;
  cv::Mat stored(swapped ? cv::Size(h, w) : cv::Size(w, h), upright.type());
  const std::size_t pixel = upright.elemSize();
  for (int row = 0; row < stored.rows; ++row)
    for (int column = 0; column < stored.cols; ++column) {
      int x = 0, y = 0;
      switch (orientation) {
        case 1:
          x = column, y = row;
          break;  // row 0 is the top, column 0 the left
        case 2:
          x = w - 1 - column, y = row;
          break;  // top, right
        case 3:
          x = w - 1 - column, y = h - 1 - row;
          break;  // bottom, right
        case 4:
          x = column, y = h - 1 - row;
          break;  // bottom, left
        case 5:
          x = row, y = column;
          break;  // left, top
        case 6:
          x = w - 1 - row, y = column;
          break;  // right, top
        case 7:
          x = w - 1 - row, y = h - 1 - column;
          break;  // right, bottom
        default:
          x = row, y = h - 1 - column;
          break;  // left, bottom
      }
      std::memcpy(stored.ptr(row, column), upright.ptr(y, x), pixel);
    }
  return stored;
}

Bytes jpeg_file(const cv::Mat& pixels, const JpegOptions& options) {
  const bool gray = pixels.channels() == 1;
  const tjhandle encoder = tjInitCompress();
  unsigned char* buffer = nullptr;
  unsigned long size = 0;
  const int sampling = gray ? TJSAMP_GRAY : options.full_chroma ? TJSAMP_444 : TJSAMP_420;
  const int status = tjCompress2(encoder, pixels.data, pixels.cols, static_cast<int>(pixels.step),
                                 pixels.rows, gray ? TJPF_GRAY : TJPF_RGB, &buffer, &size, sampling,
                                 options.quality, options.progressive ? TJFLAG_PROGRESSIVE : 0);
  Bytes bytes(buffer, buffer + size);
  tjFree(buffer);
  tjDestroy(encoder);
  require(status == 0, "jpeg");
  return bytes;
}

Bytes cmyk_jpeg_file(int width, int height) {
  const cv::Mat cmyk(height, width, CV_8UC4, cv::Scalar(200, 180, 90, 240));
  const tjhandle encoder = tjInitCompress();
  unsigned char* buffer = nullptr;
  unsigned long size = 0;
  const int status = tjCompress2(encoder, cmyk.data, width, static_cast<int>(cmyk.step), height,
                                 TJPF_CMYK, &buffer, &size, TJSAMP_444, 90, 0);
  Bytes bytes(buffer, buffer + size);
  tjFree(buffer);
  tjDestroy(encoder);
  require(status == 0, "cmyk jpeg");
  return bytes;
}

Bytes png_file(const cv::Mat& pixels) {
  // The plain writer, as the simplified one would change 16-bit values.
  constexpr int kTypes[] = {0, PNG_COLOR_TYPE_GRAY, 0, PNG_COLOR_TYPE_RGB, PNG_COLOR_TYPE_RGBA};
  Bytes bytes;
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png_create_info_struct(png);
  require(setjmp(png_jmpbuf(png)) == 0, "png");
  png_set_write_fn(
      png, &bytes,
      [](png_structp p, png_bytep data, png_size_t size) {
        Bytes& to = *static_cast<Bytes*>(png_get_io_ptr(p));
        to.insert(to.end(), data, data + size);
      },
      [](png_structp) {});
  const bool deep = pixels.depth() == CV_16U;
  png_set_IHDR(png, info, static_cast<png_uint_32>(pixels.cols),
               static_cast<png_uint_32>(pixels.rows), deep ? 16 : 8, kTypes[pixels.channels()],
               PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_write_info(png, info);
  if (deep) png_set_swap(png);
  for (int y = 0; y < pixels.rows; ++y) png_write_row(png, pixels.ptr(y));
  png_write_end(png, info);
  png_destroy_write_struct(&png, &info);
  return bytes;
}

Bytes palette_png_file(int width, int height, const std::vector<cv::Vec3b>& palette) {
  cv::Mat indices(height, width, CV_8UC1);
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      indices.at<uchar>(y, x) = static_cast<uchar>(static_cast<std::size_t>(x) % palette.size());
  png_image image;
  std::memset(&image, 0, sizeof image);
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(width);
  image.height = static_cast<png_uint_32>(height);
  image.format = PNG_FORMAT_RGB_COLORMAP;
  image.colormap_entries = static_cast<png_uint_32>(palette.size());
  return png_written(image, indices.data, static_cast<png_int_32>(indices.step), palette.data());
}

Bytes tiff_file(const cv::Mat& pixels, int orientation) {
  const TemporaryFolder folder;
  const auto path = folder / "picture.tif";
  TIFF* tiff = TIFFOpen(path.c_str(), "w");
  require(tiff, "tiff");
  const int channels = pixels.channels();
  TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, pixels.cols);
  TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, pixels.rows);
  TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, pixels.depth() == CV_16U ? 16 : 8);
  TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, channels);
  TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, channels == 1 ? PHOTOMETRIC_MINISBLACK : PHOTOMETRIC_RGB);
  TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  TIFFSetField(tiff, TIFFTAG_COMPRESSION, COMPRESSION_LZW);
  TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, 16);
  TIFFSetField(tiff, TIFFTAG_ORIENTATION, orientation);
  TIFFSetField(tiff, TIFFTAG_MAKE, "Testmaker");
  for (int y = 0; y < pixels.rows; ++y)
    require(TIFFWriteScanline(tiff, const_cast<uchar*>(pixels.ptr(y)),
                              static_cast<std::uint32_t>(y), 0) == 1,
            "tiff");
  TIFFClose(tiff);
  return bytes_of(path);
}

Bytes bilevel_tiff_file(int width, int height) {
  const TemporaryFolder folder;
  const auto path = folder / "picture.tif";
  TIFF* tiff = TIFFOpen(path.c_str(), "w");
  require(tiff, "tiff");
  TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, width);
  TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, height);
  TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, 1);
  TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, 1);
  TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_MINISWHITE);
  TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, height);
  std::vector<std::uint8_t> row(static_cast<std::size_t>((width + 7) / 8), 0);
  std::fill(row.begin(), row.begin() + width / 16, 0xff);
  for (int y = 0; y < height; ++y)
    require(TIFFWriteScanline(tiff, row.data(), static_cast<std::uint32_t>(y), 0) == 1, "tiff");
  TIFFClose(tiff);
  return bytes_of(path);
}

Bytes exif_block(const ExifFields& fields) {
  Exiv2::ExifData data;
  if (!fields.make.empty()) data["Exif.Image.Make"] = fields.make;
  if (!fields.model.empty()) data["Exif.Image.Model"] = fields.model;
  if (!fields.software.empty()) data["Exif.Image.Software"] = fields.software;
  if (!fields.taken_at.empty()) data["Exif.Photo.DateTimeOriginal"] = fields.taken_at;
  if (fields.focal_length_mm)
    data["Exif.Photo.FocalLength"] =
        Exiv2::URational(static_cast<std::uint32_t>(fields.focal_length_mm->first),
                         static_cast<std::uint32_t>(fields.focal_length_mm->second));
  const auto set_short = [&](const char* key, std::optional<int> value) {
    if (value) data[key] = static_cast<std::uint16_t>(*value);
  };
  const auto set_long = [&](const char* key, std::optional<int> value) {
    if (value) data[key] = static_cast<std::uint32_t>(*value);
  };
  set_short("Exif.Photo.FocalLengthIn35mmFilm", fields.focal_length_35mm);
  set_short("Exif.Image.Orientation", fields.orientation);
  set_long("Exif.Photo.PixelXDimension", fields.width_px);
  set_long("Exif.Photo.PixelYDimension", fields.height_px);
  Exiv2::Blob blob;
  Exiv2::ExifParser::encode(blob, Exiv2::littleEndian, data);
  return Bytes(blob.begin(), blob.end());
}

Bytes jpeg_with_exif(const Bytes& jpeg, const Bytes& exif_block) {
  const std::size_t length = 2 + 6 + exif_block.size();
  const Bytes segment_head = {0xff,
                              0xe1,
                              static_cast<std::uint8_t>(length >> 8),
                              static_cast<std::uint8_t>(length),
                              'E',
                              'x',
                              'i',
                              'f',
                              0,
                              0};
  return joined({std::span(jpeg).first(2), segment_head, exif_block, std::span(jpeg).subspan(2)});
}

Bytes png_with_exif(const Bytes& png, const Bytes& exif_block) {
  constexpr std::size_t kAfterHeader = 8 + 25;
  const Bytes typed = joined({Bytes{'e', 'X', 'I', 'f'}, exif_block});
  return joined({std::span(png).first(kAfterHeader), big_endian_32(exif_block.size()), typed,
                 big_endian_32(crc32(0, typed.data(), static_cast<uInt>(typed.size()))),
                 std::span(png).subspan(kAfterHeader)});
}

}  // namespace scantling::test
