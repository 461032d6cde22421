#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace scantling {

/// What was saved of a damaged record.
struct Rescue {
  struct Table {
    std::string name;
    std::size_t saved = 0;
    std::size_t lost = 0;  ///< rows that were met and could not be kept; unreadable pages hide more
    bool whole = true;     ///< false where part of the table could not be read
  };
  std::vector<Table> tables;
  std::size_t stand_ins = 0;       ///< jobs or cars made anew for what hung on lost ones
  std::size_t photos_saved = 0;    ///< files whose content still has its hash
  std::size_t photos_missing = 0;  ///< named in the record, but gone or altered
};

/// Saves what can still be read of a damaged record into a new one, photos included. The damaged
/// files are only read, from a copy. Rows are read in ever smaller pieces around what cannot be.
/// What hangs on a lost car or job is kept under a stand-in named "Recovered"; what hangs on
/// anything else that is lost is left out and counted.
/// @throws RecordError where `fresh` is there already or cannot be written, or where nothing at all
/// can be read: the sentence then names the newest backup copy, if there is one.
Rescue rescue_record(const std::filesystem::path& damaged, const std::filesystem::path& fresh);

/// "Saved: 41 jobs, 120 photos, ...; lost: ..." in sentences.
std::string rescue_words(const Rescue& rescue);

/// The newest dated copy beside the record (see Record::back_up); empty where there is none.
std::filesystem::path newest_backup(const std::filesystem::path& record);

}  // namespace scantling
