#include "exchange/zip_file.h"

#include <fmt/format.h>
#include <zip.h>

#include <algorithm>
#include <cstring>
#include <deque>
#include <set>

namespace scantling {
namespace fs = std::filesystem;

namespace {

std::string said(zip_error_t* error) {
  return zip_error_strerror(error);
}

[[noreturn]] void refuse(const fs::path& path, const std::string& why) {
  throw ExchangeError(fmt::format("{} {} Nothing was taken in.", path.string(), why));
}

/// Absolute, upwards, with a backslash or a control character: no name of ours
/// looks like that.
bool leads_astray(const std::string& name) {
  if (name.empty() || name.size() > 255 || name.front() == '/' || name.back() == '/') return true;
  if (name.find("..") != std::string::npos || name.find('\\') != std::string::npos ||
      name.find(':') != std::string::npos)
    return true;
  return std::any_of(name.begin(), name.end(),
                     [](char c) { return static_cast<unsigned char>(c) < 0x20; });
}

}  // namespace

struct ZipReader::Archive {
  fs::path path;
  zip_t* zip = nullptr;
};

ZipReader::ZipReader(const fs::path& path, const ZipLimits& limits)
    : archive_(new Archive{path, nullptr}) {
  std::error_code failed;
  if (!fs::is_regular_file(path, failed))
    throw ExchangeError(path.string() + " is not there, or no plain file: check its name.");
  int code = 0;
  zip_t* zip = zip_open(path.c_str(), ZIP_RDONLY | ZIP_CHECKCONS, &code);
  if (!zip) refuse(path, "is no whole zip file: have it sent or copied again.");
  archive_->zip = zip;
  try {
    const zip_int64_t count = zip_get_num_entries(zip, 0);
    if (count < 0 || static_cast<std::uint64_t>(count) > limits.entries)
      refuse(path, fmt::format("holds {} files, more than any job has.", count));
    std::uint64_t total = 0;
    std::set<std::string> seen;
    for (zip_uint64_t i = 0; i < static_cast<zip_uint64_t>(count); ++i) {
      zip_stat_t stat;
      zip_stat_init(&stat);
      if (zip_stat_index(zip, i, ZIP_FL_ENC_RAW, &stat) != 0 || !(stat.valid & ZIP_STAT_NAME) ||
          !(stat.valid & ZIP_STAT_SIZE) || !(stat.valid & ZIP_STAT_COMP_SIZE))
        refuse(path, "is damaged: have it sent or copied again.");
      const std::string name = stat.name;
      if (leads_astray(name))
        refuse(path,
               "holds a file whose name leads out of it: it was not made "
               "by Scantling.");
      if ((stat.valid & ZIP_STAT_ENCRYPTION_METHOD) && stat.encryption_method != ZIP_EM_NONE)
        refuse(path, "is locked with a password: have it sent without one.");
      if (!seen.insert(name).second) refuse(path, "holds the same name twice.");
      const bool packed_too_well =
          stat.size > (1u << 20) &&
          stat.size / std::max<zip_uint64_t>(1, stat.comp_size) > limits.largest_ratio;
      total += stat.size;
      if (stat.size > limits.entry_bytes || total > limits.total_bytes || packed_too_well)
        refuse(path,
               "would unpack to more than any job needs: it was made to "
               "fill the disk.");
      names_.push_back(name);
    }
  } catch (...) {
    zip_discard(zip);
    throw;
  }
}

ZipReader::~ZipReader() {
  zip_discard(archive_->zip);
}

bool ZipReader::has(const std::string& name) const {
  return std::find(names_.begin(), names_.end(), name) != names_.end();
}

std::string ZipReader::bytes(const std::string& name, std::uint64_t most_bytes) const {
  zip_file_t* file = zip_fopen(archive_->zip, name.c_str(), ZIP_FL_ENC_RAW);
  if (!file) refuse(archive_->path, fmt::format("lacks {}, or it cannot be unpacked.", name));
  std::string bytes;
  std::vector<char> block(1 << 18);
  zip_int64_t count = 0;
  while ((count = zip_fread(file, block.data(), block.size())) > 0) {
    bytes.append(block.data(), static_cast<std::size_t>(count));
    if (bytes.size() > most_bytes) break;
  }
  const int closed = zip_fclose(file);
  if (bytes.size() > most_bytes)
    refuse(archive_->path, fmt::format("holds a {} larger than it may be.", name));
  if (count < 0 || closed != 0)
    refuse(archive_->path, fmt::format("holds a damaged {}: have it sent or copied again.", name));
  return bytes;
}

struct ZipWriter::Archive {
  fs::path path;
  zip_t* zip = nullptr;
  std::deque<std::string> kept;  ///< libzip reads them when the file is closed

  [[noreturn]] void fail() {
    throw ExchangeError(fmt::format("Could not write {} ({}): check the folder and the disk.",
                                    path.string(), said(zip_get_error(zip))));
  }
  void add(const std::string& name, zip_source_t* source, bool packed) {
    if (!source) fail();
    const zip_int64_t index = zip_file_add(zip, name.c_str(), source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
      zip_source_free(source);
      fail();
    }
    zip_set_file_compression(zip, static_cast<zip_uint64_t>(index),
                             packed ? ZIP_CM_DEFLATE : ZIP_CM_STORE, 0);
  }
};

ZipWriter::ZipWriter(fs::path path) : archive_(new Archive{std::move(path), nullptr, {}}) {
  int code = 0;
  archive_->zip = zip_open(archive_->path.c_str(), ZIP_CREATE | ZIP_TRUNCATE, &code);
  if (!archive_->zip)
    throw ExchangeError(
        fmt::format("Could not write {}: check that its folder is there and may be "
                    "written to.",
                    archive_->path.string()));
}

ZipWriter::~ZipWriter() {
  if (archive_->zip) zip_discard(archive_->zip);
}

void ZipWriter::add(const std::string& name, std::string bytes) {
  const std::string& kept = archive_->kept.emplace_back(std::move(bytes));
  archive_->add(name, zip_source_buffer(archive_->zip, kept.data(), kept.size(), 0), true);
}

void ZipWriter::add_file(const std::string& name, const fs::path& file) {
  archive_->add(name, zip_source_file(archive_->zip, file.c_str(), 0, -1), false);
}

void ZipWriter::finish() {
  if (zip_close(archive_->zip) != 0) archive_->fail();
  archive_->zip = nullptr;
}

}  // namespace scantling
