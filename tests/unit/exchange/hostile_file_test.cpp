// Files made to do harm, or broken on their way: each is refused with a
// sentence and changes nothing.
#include <gmock/gmock.h>
#include <zip.h>

#include <fstream>
#include <functional>
#include <iterator>
#include <nlohmann/json.hpp>

#include "exchange/job_file.h"
#include "exchange/job_import.h"
#include "record/record_error.h"
#include "support/temporary_folder.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
using ::testing::HasSubstr;
using ::testing::SizeIs;

using Entries = std::vector<std::pair<std::string, std::string>>;

/// As anybody could make one, names unchecked.
void write_zip(const fs::path& path, const Entries& entries) {
  int code = 0;
  zip_t* zip = zip_open(path.c_str(), ZIP_CREATE | ZIP_TRUNCATE, &code);
  ASSERT_TRUE(zip);
  for (const auto& [name, bytes] : entries) {
    zip_source_t* source = zip_source_buffer(zip, bytes.data(), bytes.size(), 0);
    ASSERT_GE(zip_file_add(zip, name.c_str(), source, 0), 0) << name;
  }
  ASSERT_EQ(zip_close(zip), 0);
}

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

struct HostileFile : ::testing::Test {
  TemporaryFolder folder;
  fs::path zip = folder / "job.zip";
  Record record{folder / "record.sqlite"};
  Json json = good_json();
  std::string photo = sample_photo_png();

  Json good_json() {
    Record other(folder / "other.sqlite");
    return job_to_json(other, add_sample_axle(other, folder));
  }
  std::string photo_name() const {
    return "photos/" + json["parts"][0]["photos"][0]["sha256"].get<std::string>();
  }
  void write(const Entries& more = {}) {
    Entries entries{{"job.json", json.dump()}, {photo_name(), photo}};
    entries.insert(entries.end(), more.begin(), more.end());
    write_zip(zip, entries);
  }
  /// What the user is told; the record must be as it was.
  std::string told() {
    std::string sentence = "taken in";
    try {
      JobImport(zip).into(record, ImportChoice::both);
    } catch (const ExchangeError& error) {
      sentence = error.what();
    } catch (const RecordError& error) {
      sentence = error.what();
    }
    if (sentence != "taken in") {
      EXPECT_THAT(record.jobs(), SizeIs(0)) << sentence;
      EXPECT_THAT(record.vehicles(), SizeIs(0)) << sentence;
      EXPECT_EQ(sentence.back(), '.');
    }
    return sentence;
  }
};

TEST_F(HostileFile, TheGoodOneIsTakenIn) {
  write();
  EXPECT_EQ(told(), "taken in");
}

TEST_F(HostileFile, NamesThatLeadOutOfTheFileAreRefused) {
  for (const char* name : {"../evil", "/etc/passwd", "photos/../../evil", "a\\b", "C:evil",
                           "photos/..", "bad\x01name"}) {
    write({{name, "x"}});
    EXPECT_THAT(told(), HasSubstr("leads out of it")) << name;
  }
  EXPECT_FALSE(fs::exists(folder.path().parent_path() / "evil"));
}

TEST_F(HostileFile, WhatBelongsToNoJobIsRefused) {
  for (const char* name : {"run.sh", "photos/short", "JOB.JSON", ".hidden"}) {
    write({{name, "x"}});
    EXPECT_THAT(told(), HasSubstr("belongs to no job")) << name;
  }
}

TEST_F(HostileFile, AZipBombIsRefusedUnread) {
  write({{"report.pdf", std::string(64u << 20, '\0')}});
  ASSERT_LT(fs::file_size(zip), 1u << 20);
  EXPECT_THAT(told(), HasSubstr("fill the disk"));
}

TEST_F(HostileFile, ThousandsOfEntriesAreRefused) {
  Entries many;
  for (int i = 0; i < 2500; ++i) many.emplace_back("photos/" + std::to_string(i), "x");
  write(many);
  EXPECT_THAT(told(), HasSubstr("more than any job has"));
}

TEST_F(HostileFile, BrokenJsonIsRefused) {
  for (const std::string& text :
       {std::string("{"), std::string(), std::string("[]"), std::string("null"), std::string("3"),
        std::string("\xff\xfe"), json.dump().substr(0, 700), std::string(100'000, '['),
        std::string("{\"format\":") + std::string(60'000, '{')}) {
    write_zip(zip, {{"job.json", text}, {photo_name(), photo}});
    EXPECT_THAT(told(), HasSubstr("job.json")) << text.substr(0, 20);
  }
}

TEST_F(HostileFile, AbsurdValuesAreRefusedByTheirPlace) {
  struct Case {
    std::function<void(Json&)> spoil;
    const char* says;
  };
  const Case cases[] = {
      {[](Json& j) { j["format"] = "other"; }, "the job.format"},
      {[](Json& j) { j.erase("parts"); }, "lacks \"parts\""},
      {[](Json& j) { j["job"]["odometer_km"] = -5; }, "odometer_km"},
      {[](Json& j) { j["job"]["odometer_km"] = 1e300; }, "odometer_km"},
      {[](Json& j) { j["job"]["date"] = "21.11.2026"; }, "date"},
      {[](Json& j) { j["job"]["date"] = "2026-02-31"; }, "date"},
      {[](Json& j) { j["job"]["sheet"] = 150; }, "sheets"},
      {[](Json& j) { j["vehicle"]["name"] = std::string(100'000, 'n'); }, "too long"},
      {[](Json& j) { j["vehicle"]["name"] = 7; }, "vehicle.name"},
      {[](Json& j) { j["parts"][0]["minimum_mm"] = 0; }, "minimum_mm"},
      {[](Json& j) { j["parts"][0]["kind"] = "drum"; }, "kind"},
      {[](Json& j) { j["parts"][0]["place"] = nullptr; }, "neither inner nor outer"},
      {[](Json& j) { j["parts"][0]["photos"][0]["sha256"] = "../../etc/passwd"; }, "sha256"},
      {[](Json& j) { j["parts"][0]["photos"][0]["view"] = "x-ray"; }, "view"},
      {[](Json& j) {
         j["parts"][0]["photos"][0]["measurements"][0]["measurement"]["dimensions"][0]["value_mm"] =
             1e9;
       },
       "value_mm"},
      {[](Json& j) {
         j["parts"][0]["photos"][0]["measurements"][0]["measurement"]["edges"] = Json::array({3});
       },
       "job.json"},
      {[](Json& j) { j["parts"][0]["photos"][0]["measurements"][0]["options"] = Json::object(); },
       "cannot be read"},
      {[](Json& j) { j["parts"][3]["hand_readings"][0]["value_mm"] = -1; }, "value_mm"},
      {[](Json& j) { j["parts"][3]["hand_readings"][0]["standard_uncertainty_mm"] = "small"; },
       "standard_uncertainty_mm"},
      {[](Json& j) {
         j["work"] = Json{{"date", "2026-11-22"}, {"next_check_km", -1}};
       },
       "next_check_km"},
      {[](Json& j) {
         j["work"] =
             Json{{"date", "2026-11-22"},
                  {"fasteners", {{{"name", "bolt"}, {"renewed", true}, {"tightening", "9e9"}}}}};
       },
       "bolt"},
      {[](Json& j) { j["parts"] = Json(std::vector<Json>(200, j["parts"][0])); }, "too many"}};
  const Json good = json;
  for (const Case& c : cases) {
    json = good;
    c.spoil(json);
    write_zip(zip,
              {{"job.json", json.dump()},
               {"photos/" + good["parts"][0]["photos"][0]["sha256"].get<std::string>(), photo}});
    EXPECT_THAT(told(), HasSubstr(c.says));
  }
}

TEST_F(HostileFile, AForgedPhotoIsRefused) {
  write_zip(zip, {{"job.json", json.dump()}, {photo_name(), "another photo"}});
  EXPECT_THAT(told(), HasSubstr("not the one that the job names"));
  write_zip(zip, {{"job.json", json.dump()}});
  EXPECT_THAT(told(), HasSubstr("is not in the file"));
}

TEST_F(HostileFile, ANewerFormatIsTold) {
  json["format_version"] = 2;
  write();
  EXPECT_THAT(told(), HasSubstr("newer Scantling"));
}

TEST_F(HostileFile, WhatIsNoZipOrHalfOneIsTold) {
  std::ofstream(zip) << "not a zip";
  EXPECT_THAT(told(), HasSubstr("no whole zip"));
  fs::remove(zip);
  EXPECT_THAT(told(), HasSubstr("is not there"));
  write();
  const std::string whole = bytes_of(zip);
  for (const double part : {0.1, 0.5, 0.9, 0.999}) {
    std::ofstream(zip, std::ios::binary)
        << whole.substr(0, static_cast<std::size_t>(part * static_cast<double>(whole.size())));
    EXPECT_NE(told(), "taken in") << part;
  }
}

/// One byte wrong anywhere: refused, or taken in as it was meant; never a
/// crash, never a half job.
TEST_F(HostileFile, AFlippedByteNeverLeavesHalfAJob) {
  write();
  const std::string whole = bytes_of(zip);
  int refused = 0;
  for (std::size_t i = 0; i < 60; ++i) {
    std::string spoilt = whole;
    spoilt[i * whole.size() / 60] ^= 0x20;
    std::ofstream(zip, std::ios::binary) << spoilt;
    Record fresh(folder / ("record-" + std::to_string(i) + ".sqlite"));
    try {
      const std::int64_t id = JobImport(zip).into(fresh, ImportChoice::none);
      EXPECT_THAT(fresh.parts(id), SizeIs(4));
    } catch (const std::runtime_error&) {
      ++refused;
      EXPECT_THAT(fresh.jobs(), SizeIs(0));
    }
  }
  EXPECT_GT(refused, 30);
}

}  // namespace
}  // namespace scantling
