// Feeds the import of jobs with hostile files (libFuzzer):
//
//   ninja -C build/fuzz job_import_fuzz job_import_seeds
//   build/fuzz/tests/fuzz/job_import_seeds seeds
//   TMPDIR=/dev/shm build/fuzz/tests/fuzz/job_import_fuzz -max_len=60000 found
//   tests/fuzz/corpus/job_import seeds
//
// What begins with "PK" is the zip file itself. What begins with "{" is its job.json, put into a
// well-made zip beside the photos that it names, so that the input reaches what lies behind the
// checksums. Anything else is a list of names, one a line, of the zip's entries.

#include <zip.h>

#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/csv.h"
#include "exchange/job_file.h"
#include "exchange/job_import.h"
#include "exchange/json_schema.h"
#include "fuzz/promise.h"
#include "record/record.h"
#include "record/record_error.h"
#include "report/html_report.h"
#include "report/refit_list.h"
#include "report/summary.h"
#include "support/temporary_folder.h"

namespace {

using namespace scantling;
using fuzz::require;
namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
using Entries = std::vector<std::pair<std::string, std::string>>;

/// The photos that a job may name: what they hold is the photo readers' business, not this one's.
constexpr std::array kPhotos{"a", "b", "c"};
constexpr std::array kNames{"ca978112ca1bbdcafac231b39a23dc4da786eff8147c4e72b9807785afee48bb",
                            "3e23e8160039594a33894f6564e1b1348bbd7a0088d42c4acb73eeaed59c009d",
                            "2e7d2c03a9507ae265ecf5b5356885a53393a2029d241394997265a1a25aefc6"};

/// As anybody could make one, names unchecked.
void write_zip(const fs::path& path, const Entries& entries) {
  int code = 0;
  zip_t* zip = zip_open(path.c_str(), ZIP_CREATE | ZIP_TRUNCATE, &code);
  require(zip != nullptr, "a zip to write");
  for (const auto& [name, bytes] : entries) {
    zip_source_t* source = zip_source_buffer(zip, bytes.data(), bytes.size(), 0);
    // The library itself refuses a name twice, or one that is no UTF-8.
    if (zip_file_add(zip, name.c_str(), source, 0) < 0) zip_source_free(source);
  }
  if (zip_close(zip) != 0) zip_discard(zip);
}

void write_input(const fs::path& path, std::string_view text) {
  if (text.starts_with("PK")) {
    std::ofstream(path, std::ios::binary) << text;
  } else if (text.starts_with('{')) {
    Entries entries{{"job.json", std::string(text)}};
    for (std::size_t i = 0; i < kPhotos.size(); ++i)
      if (text.find(kNames[i]) != std::string_view::npos)
        entries.emplace_back(std::string("photos/") + kNames[i], kPhotos[i]);
    write_zip(path, entries);
  } else {
    Entries entries;
    std::istringstream lines{std::string(text)};
    for (std::string line; std::getline(lines, line);) entries.emplace_back(line, "{}");
    write_zip(path, entries);
  }
}

/// One record for some jobs: making one a job would take most of the time.
struct Bench {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  int jobs = 0;
};

Bench& bench() {
  static std::optional<Bench> kept;
  if (!kept || kept->jobs > 20) kept.emplace();
  return *kept;
}

void require_sentence(const std::string& message) {
  require(!message.empty() && message.back() == '.', "a sentence");
  require(message.size() < 3000, "a short sentence");
}

/// What was taken in can be shown and handed on like any other job. The report takes a hundred
/// times as long as all the rest, so only some inputs come to it.
void use(Record& record, std::int64_t job, bool with_report) {
  const auto summary = summarise_job(record, job);
  require(summary.has_value(), "the job is there");
  keep_verdicts(record, *summary);
  if (with_report) require(!html_report(record, *summary).empty(), "a report");
  require(!refit_steps(*summary).empty(), "a refit list");
  const Json again = job_to_json(record, job);
  const Json written =
      Json::parse(again.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace));
  static const Json kSchema = Json::parse(job_schema_text());
  require(!schema_fault(written, kSchema), "its own export is taken");
}

}  // namespace

/// Fontconfig keeps what it knows of the fonts until the end.
extern "C" const char* __lsan_default_suppressions() {
  return "leak:libfontconfig\nleak:libpango\n";
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Bench& at = bench();
  const fs::path zip = at.folder / "job.zip";
  fs::remove(zip);
  write_input(zip, {reinterpret_cast<const char*>(data), size});
  const std::size_t before = at.record.jobs().size();
  try {
    const JobImport import(zip);
    import.conflicts(at.record);
    const std::int64_t job = import.into(at.record, ImportChoice::both);
    ++at.jobs;
    require(at.record.jobs().size() == before + 1, "one job more");
    use(at.record, job, size > 0 && data[size / 2] % 16 == 0);
    // The same once more: it is known now.
    require(!import.conflicts(at.record).empty(), "a conflict with itself");
    require(import.into(at.record, ImportChoice::mine) > 0, "the job that is there");
  } catch (const ExchangeError& error) {
    require_sentence(error.what());
    require(at.record.jobs().size() == before, "nothing half taken in");
  } catch (const RecordError& error) {
    require_sentence(error.what());
    require(at.record.jobs().size() == before, "nothing half taken in");
  }
  return 0;
}
