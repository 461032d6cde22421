#include "photo/camera_tags.h"

#include <cmath>
#include <exiv2/exiv2.hpp>

namespace scantling {
namespace {

class ExifReader {
 public:
  explicit ExifReader(const Exiv2::ExifData& data) : data_(data) {}

  std::string text(const char* key) const {
    const Exiv2::Value* value = find(key);
    return value ? tidy_tag(value->toString()) : std::string();
  }

  std::optional<double> number(const char* key) const {
    const Exiv2::Value* value = find(key);
    if (!value || value->count() == 0) return std::nullopt;
    const Exiv2::Rational ratio = value->toRational(0);
    if (ratio.second == 0) return std::nullopt;
    return static_cast<double>(ratio.first) / static_cast<double>(ratio.second);
  }

  std::optional<long long> whole(const char* key) const {
    const auto value = number(key);
    if (!value || !(std::abs(*value) < 1e9)) return std::nullopt;
    return std::llround(*value);
  }

 private:
  const Exiv2::Value* find(const char* key) const {
    const auto found = data_.findKey(Exiv2::ExifKey(key));
    return found == data_.end() ? nullptr : &found->value();
  }

  const Exiv2::ExifData& data_;
};

ExifBlock block_from(const Exiv2::ExifData& data) {
  const ExifReader exif(data);
  ExifBlock block;
  CameraTags& tags = block.tags;
  tags.make = exif.text("Exif.Image.Make");
  tags.model = exif.text("Exif.Image.Model");
  tags.software = exif.text("Exif.Image.Software");
  tags.taken_at = exif.text("Exif.Photo.DateTimeOriginal");
  if (const auto value = exif.number("Exif.Photo.FocalLength"))
    tags.focal_length_mm = plausible_focal_length_mm(*value);
  if (const auto value = exif.number("Exif.Photo.FocalLengthIn35mmFilm"))
    tags.focal_length_35mm = plausible_focal_length_35mm(*value);
  if (const auto value = exif.whole("Exif.Photo.PixelXDimension"))
    tags.exif_width_px = plausible_side_px(*value);
  if (const auto value = exif.whole("Exif.Photo.PixelYDimension"))
    tags.exif_height_px = plausible_side_px(*value);
  if (const auto value = exif.whole("Exif.Image.Orientation"))
    block.orientation = plausible_orientation(*value);
  return block;
}

}  // namespace

std::optional<double> plausible_focal_length_mm(double value) {
  if (!(value >= 0.5 && value <= 2000)) return std::nullopt;
  return value;
}

std::optional<double> plausible_focal_length_35mm(double value) {
  if (!(value >= 10 && value <= 200)) return std::nullopt;
  return value;
}

std::optional<int> plausible_side_px(long long value) {
  if (value < 1 || value > 100'000) return std::nullopt;
  return static_cast<int>(value);
}

int plausible_orientation(long long value) {
  return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
}

std::string tidy_tag(std::string text) {
  text = text.substr(0, text.find('\0'));
  std::erase_if(text, [](char c) { return c < 0x20 || c > 0x7e; });
  if (text.size() > 100) text.resize(100);
  const auto first = text.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

namespace {

/// Exiv2 would write its doubts to standard error, and would not look into HEIC
/// files.
void set_up_exiv2() {
  [[maybe_unused]] static const bool done = [] {
    Exiv2::LogMsg::setLevel(Exiv2::LogMsg::mute);
    Exiv2::enableBMFF(true);
    return true;
  }();
}

}  // namespace

CameraTags camera_tags_of(const std::filesystem::path& path) {
  set_up_exiv2();
  try {
    const auto image = Exiv2::ImageFactory::open(path.string());
    image->readMetadata();
    return block_from(image->exifData()).tags;
  } catch (...) {
    return {};
  }
}

ExifBlock read_exif(std::span<const std::uint8_t> block) {
  set_up_exiv2();
  constexpr std::size_t kShortest = 8, kLongest = 1u << 20;
  if (block.size() < kShortest || block.size() > kLongest) return {};
  try {
    Exiv2::ExifData data;
    Exiv2::ExifParser::decode(data, block.data(), static_cast<std::uint32_t>(block.size()));
    return block_from(data);
  } catch (...) {
    return {};
  }
}

}  // namespace scantling
