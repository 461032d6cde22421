// A job handed on as one file and taken in elsewhere.
#include <gmock/gmock.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "exchange/csv.h"
#include "exchange/job_file.h"
#include "exchange/job_import.h"
#include "exchange/json_schema.h"
#include "exchange/zip_file.h"
#include "record/words.h"
#include "report/summary.h"
#include "support/temporary_folder.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using Json = nlohmann::ordered_json;
using ::testing::Contains;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

struct Exchange : ::testing::Test {
  TemporaryFolder folder;
  Record mine{folder / "mine.sqlite"};
  Record theirs{folder / "theirs.sqlite"};
  std::filesystem::path zip = folder / "job.zip";
  std::int64_t job = add_job();

  std::int64_t add_job() {
    Sheet sheet;
    sheet.name = "A4, kitchen printer";
    sheet.scale = {0.9975, 1.0015, 0.0004, true};
    const std::int64_t sheet_id = mine.add_sheet(sheet);
    const std::int64_t id = add_sample_axle(mine, folder);
    Job changed = mine.job(id).value();
    changed.sheet_id = sheet_id;
    changed.next_check_km = 90'000;
    mine.update_job(changed);
    const Part part = mine.parts(id).at(0);
    const PhotoEntry photo = mine.photos(part.id).at(0);
    mine.set_photo_camera(photo.id, mine.keep_camera({0, "Fable", "F-5", ""}));
    mine.set_confirmations(photo.id, {{photo.id, "friction_outer", "Ása", "2026-11-21T10:00:00Z"}});
    WorkDone work;
    work.date = "2026-11-22";
    work.fasteners = {{"bracket bolts", 4, true, tightening_from_text("100 N m + 90°").tightening}};
    mine.set_work(id, work);
    keep_verdicts(mine, summarise_job(mine, id).value());
    return id;
  }
  /// All that a file says, without when it was written.
  static Json said(const Record& record, std::int64_t id) {
    Json json = job_to_json(record, id);
    json.erase("exported_at");
    for (Json& part : json["parts"])
      for (Json& photo : part["photos"]) photo.erase("added_at");
    return json;
  }
};

TEST_F(Exchange, AJobArrivesWithAllThatBelongsToIt) {
  export_job(mine, job, zip);
  const ZipReader reader(zip);
  for (const char* name : {"job.json", "job.schema.json", "report.pdf", "report.html"})
    EXPECT_TRUE(reader.has(name)) << name;
  const JobImport import(zip);
  EXPECT_THAT(import.conflicts(theirs), IsEmpty());
  const std::int64_t id = import.into(theirs, ImportChoice::none);
  EXPECT_EQ(said(mine, job), said(theirs, id));
  for (const Part& part : theirs.parts(id))
    for (const PhotoEntry& photo : theirs.photos(part.id)) {
      EXPECT_TRUE(theirs.photo_intact(photo));
      EXPECT_EQ(photo.original_name, "photo.png");
    }
  EXPECT_EQ(summarise_job(theirs, id)->parts.at(3).state, "replace");
}

TEST_F(Exchange, ADiscArrivesWithItsDiameterAndTheFacesOfItsLips) {
  Part disc;
  disc.job_id = job;
  disc.kind = PartKind::disc;
  disc.side = Side::right;
  disc.minimum_mm = 22.4;
  disc.disc_diameter_mm = 284;
  disc.id = mine.add_part(disc);
  struct Taken {
    View view;
    std::optional<DiscFace> face;
  };
  const Taken taken[] = {{View::rim, {}},
                         {View::lip, DiscFace::inboard},
                         {View::lip, DiscFace::outboard},
                         {View::faces, DiscFace::outboard}};
  std::string other;
  for (const auto& [view, face] : taken) {
    const std::string name = std::string(view_word(view)) + (face ? face_word(*face) : "") + ".png";
    const PhotoEntry photo =
        mine.add_photo(disc.id, view, folder.file(name, sample_photo_png() + name), face);
    if (from_planes(view)) continue;
    MeasurementEntry entry;
    entry.photo_id = photo.id;
    entry.options.view = entry.measurement.view = view;
    entry.options.disc_diameter_mm = 284;
    entry.options.sheet_scale = mine.sheet_for(photo).value().scale;
    entry.measurement.dimensions = {
        sample_dimension(face ? "lip_height" : "rim_thickness", face ? 0.6 : 24, 0.05)};
    if (face)
      entry.measurement.lip = LipFacts{0.7, 0.5, 30, 150, 0.03, 12, 14.2, 0.02, 0.001, 0.0007};
    if (!other.empty()) entry.read_with = {other};
    mine.add_measurement(entry);
    other = photo.sha256;
  }
  export_job(mine, job, zip);
  const std::int64_t id = JobImport(zip).into(theirs, ImportChoice::none);
  EXPECT_EQ(said(mine, job), said(theirs, id));
  const Part arrived = theirs.parts(id).back();
  EXPECT_EQ(arrived.kind, PartKind::disc);
  EXPECT_EQ(arrived.disc_diameter_mm, 284);
  const std::vector<PhotoEntry> photos = theirs.photos(arrived.id);
  ASSERT_THAT(photos, SizeIs(4));
  for (std::size_t i = 0; i < photos.size(); ++i) {
    EXPECT_EQ(photos[i].view, taken[i].view);
    EXPECT_EQ(photos[i].face, taken[i].face);
    EXPECT_TRUE(theirs.photo_intact(photos[i]));
  }
  EXPECT_THAT(theirs.newest_measurement(photos[2].id)->read_with,
              testing::ElementsAre(photos[1].sha256));
  EXPECT_EQ(theirs.newest_measurement(photos[2].id)->options.disc_diameter_mm, 284);
  const auto worn = summarise_job(theirs, id)->parts.back().worn;
  ASSERT_TRUE(worn);
  EXPECT_EQ(worn->worn->quantity.value_mm,
            summarise_job(mine, job)->parts.back().worn->worn->quantity.value_mm);
}

TEST_F(Exchange, TheSchemaHoldsForWhatIsWritten) {
  const Json schema = Json::parse(job_schema_text());
  Json json = job_to_json(mine, job);
  EXPECT_FALSE(schema_fault(json, schema)) << *schema_fault(json, schema);
  json["job"]["axle"] = "middle";
  EXPECT_THAT(schema_fault(json, schema).value(), HasSubstr("the job.job.axle"));
}

TEST_F(Exchange, ConflictsAreShownAndNothingIsTakenInWithoutAChoice) {
  export_job(mine, job, zip);
  const JobImport import(zip);
  const std::int64_t first = import.into(theirs, ImportChoice::none);
  Vehicle vehicle = theirs.vehicles().at(0);
  vehicle.owner = "Bödvar";
  theirs.update_vehicle(vehicle);
  const auto conflicts = import.conflicts(theirs);
  EXPECT_THAT(conflicts, Contains(Field(&ImportConflict::what, "the vehicle's owner")));
  EXPECT_THAT(conflicts, Contains(Field(&ImportConflict::what,
                                        "a job of the front axle on 21 November 2026")));
  EXPECT_THROW(import.into(theirs, ImportChoice::none), ExchangeError);
  EXPECT_THAT(theirs.jobs(), SizeIs(1));

  EXPECT_EQ(import.into(theirs, ImportChoice::mine), first);
  EXPECT_EQ(theirs.vehicles().at(0).owner, "Bödvar");
  const std::int64_t second = import.into(theirs, ImportChoice::theirs);
  EXPECT_NE(second, first);
  EXPECT_THAT(theirs.jobs(), SizeIs(1)) << "the other is hidden, not lost";
  EXPECT_EQ(theirs.vehicles().at(0).owner, "Ása Þórsdóttir");
  theirs.restore_job(first);
  import.into(theirs, ImportChoice::both);
  EXPECT_THAT(theirs.jobs(), SizeIs(3));
  EXPECT_THAT(theirs.vehicles(), SizeIs(2));
  EXPECT_THAT(theirs.sheets(), SizeIs(1)) << "the same sheet is kept once";
}

TEST_F(Exchange, AMissingPhotoIsToldBeforeAnythingIsWritten) {
  const PhotoEntry photo = mine.photos(mine.parts(job).at(0).id).at(0);
  std::filesystem::remove(mine.photo_path(photo));
  EXPECT_THROW(export_job(mine, job, zip), ExchangeError);
  EXPECT_FALSE(std::filesystem::exists(zip));
  EXPECT_THROW(export_job(mine, 999, zip), std::runtime_error);
}

TEST_F(Exchange, CsvHasALineForEverySize) {
  const std::string csv = dimensions_csv(mine);
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 1 + 4 * 2 + 1);
  EXPECT_THAT(csv, HasSubstr("job,date,odometer_km"));
  EXPECT_THAT(csv, HasSubstr("1,2026-11-21,81250,Marrow estate,QX 21 "
                             "HLW,front,pad,left,outer,photo,"
                             "friction_thickness,5.02,0.03,"));
  EXPECT_THAT(csv, HasSubstr("vernier calliper,hand_reading,1.68,0.03,"));
  EXPECT_EQ(csv_field("=1+cmd()"), "'=1+cmd()");
  EXPECT_EQ(csv_field("-0.05"), "-0.05");
  EXPECT_EQ(csv_field("a,\"b\""), "\"a,\"\"b\"\"\"");
}

// A car that is there twice hides no job that is there already.
TEST_F(Exchange, AJobOfACarThatIsThereTwiceIsKnownAgain) {
  export_job(mine, job, zip);
  Job other = mine.job(job).value();
  other.date = "2020-01-01";
  other.vehicle_id = theirs.add_vehicle(mine.vehicle(other.vehicle_id).value());
  other.sheet_id.reset();
  theirs.add_job(other);
  const JobImport import(zip);
  const std::int64_t beside = import.into(theirs, ImportChoice::both);
  EXPECT_THAT(theirs.vehicles(), SizeIs(2));
  EXPECT_THAT(import.conflicts(theirs), SizeIs(1));
  EXPECT_EQ(import.into(theirs, ImportChoice::mine), beside);
  EXPECT_THAT(theirs.jobs(), SizeIs(2));
}

}  // namespace
}  // namespace scantling
