// What earlier jobs say of a part's wear, what photo and hand say of each
// other, and the next job.
#include "report/wear_history.h"

#include <gmock/gmock.h>

#include <cmath>
#include <regex>

#include "report/html_report.h"
#include "report/next_job.h"
#include "report/refit_list.h"
#include "report/report.h"
#include "report/summary.h"
#include "report/wear_plot.h"
#include "support/rendered_pdf.h"
#include "support/temporary_folder.h"
#include "unit/report/sample_report.h"

namespace scantling {
namespace {

using ::testing::Contains;
using ::testing::Each;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::SizeIs;

struct Wear : ::testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};
  std::int64_t vehicle = add_vehicle();

  std::int64_t add_vehicle() {
    Vehicle v;
    v.name = "Marrow <estate>";
    return record.add_vehicle(v);
  }
  /// A job with one disc read by hand.
  std::int64_t add_job(const std::string& date, std::optional<double> km, double disc_mm,
                       std::optional<double> next_check_km = {}) {
    Job job;
    job.vehicle_id = vehicle;
    job.date = date;
    job.odometer_km = km;
    job.next_check_km = next_check_km;
    job.id = record.add_job(job);
    Part part;
    part.job_id = job.id;
    part.kind = PartKind::disc;
    part.minimum_mm = 22;
    HandReadingEntry reading;
    reading.part_id = record.add_part(part);
    reading.as_typed = std::to_string(disc_mm);
    reading.value_mm = disc_mm;
    reading.standard_uncertainty_mm = 0.01;
    reading.instrument = "micrometer";
    record.add_hand_reading(reading);
    return job.id;
  }
  PartSummary disc_of(std::int64_t job) const { return summarise_job(record, job)->parts.at(0); }
};

// 26.2 mm to 23.1 mm in 80 000 km: 0.039 mm per 1 000 km (common practice).
TEST_F(Wear, IsForecastFromEarlierJobs) {
  add_job("2024-01-10", 20'000, 26.2);
  const std::int64_t now = add_job("2026-11-20", 100'000, 23.1);
  const PartSummary disc = disc_of(now);
  ASSERT_TRUE(disc.forecast);
  ASSERT_TRUE(disc.forecast->fitted);
  EXPECT_NEAR(disc.forecast->wear_mm_per_1000_km, 0.03875, 1e-9);
  EXPECT_NEAR(*disc.forecast->distance_left_km, 1.1 / 0.00003875, 1);
  EXPECT_LT(*disc.forecast->distance_left_lower_95_km, *disc.forecast->distance_left_km);
  EXPECT_THAT(wear_sentences(disc), Contains(HasSubstr("0.039 mm per 1 000 km (0.062 mm per 1 000 "
                                                       "miles)")));
  EXPECT_EQ(disc.state, "keep");
}

TEST_F(Wear, TurnsKeepIntoDueSoonBeforeTheNextCheck) {
  add_job("2024-01-10", 20'000, 26.2);
  const std::int64_t now = add_job("2026-11-20", 100'000, 22.6, 120'000);
  const PartSummary disc = disc_of(now);
  EXPECT_EQ(disc.state, "keep, due soon");
  const auto plot = wear_plot(disc);
  ASSERT_TRUE(plot);
  EXPECT_EQ(plot->next_check_km, 120'000);
  EXPECT_THAT(plot->points, SizeIs(2));
  EXPECT_GT(plot->points[0].half_95_mm, 0.019);
  EXPECT_GT(plot->curve.size(), 10u);
  for (const ForetoldSize& f : plot->curve) {
    EXPECT_LE(f.interval_95.low, f.size_mm);
    EXPECT_GE(f.interval_95.high, f.size_mm);
  }
}

TEST_F(Wear, TellsImplausibleWearAndFitsNothing) {
  add_job("2024-01-10", 20'000, 23.0);
  const std::int64_t grown = add_job("2025-01-10", 40'000, 24.0);
  const PartSummary disc = disc_of(grown);
  EXPECT_FALSE(disc.forecast->fitted);
  EXPECT_THAT(disc.cautions, Contains(Field(&Check::id, "part_grew")));
  EXPECT_FALSE(wear_plot(disc));
  const std::int64_t back = add_job("2026-01-10", 30'000, 22.5);
  EXPECT_THAT(disc_of(back).cautions, Contains(Field(&Check::id, "odometer_backwards")));
}

TEST_F(Wear, LeavesOutASizeWithoutAnOdometerReading) {
  add_job("2024-01-10", {}, 24.0);
  const std::int64_t now = add_job("2026-11-20", 100'000, 23.1);
  EXPECT_FALSE(disc_of(now).forecast);
  EXPECT_THAT(disc_of(now).cautions, Contains(Field(&Check::id, "no_odometer")));
}

TEST_F(Wear, BeginsAfreshWithANewPart) {
  const std::int64_t old = add_job("2024-01-10", 20'000, 21.9);
  WorkDone work;
  work.date = "2024-01-11";
  work.odometer_km = 20'010;
  FittedPart disc;
  disc.kind = PartKind::disc;
  disc.new_size_mm = 25.0;
  disc.standard_uncertainty_mm = 0.05;
  disc.minimum_mm = 22.4;
  work.parts = {disc};
  work.next_check_km = 60'000;
  record.set_work(old, work);

  Job next;
  next.date = "2026-01-10";
  next.odometer_km = 50'000;
  const std::int64_t now = start_next_job(record, old, next);
  const std::vector<Part> parts = record.parts(now);
  ASSERT_THAT(parts, SizeIs(1));
  EXPECT_EQ(parts[0].minimum_mm, 22.4) << "the new part's own";
  HandReadingEntry reading;
  reading.part_id = parts[0].id;
  reading.as_typed = "24.2";
  reading.value_mm = 24.2;
  reading.standard_uncertainty_mm = 0.01;
  record.add_hand_reading(reading);

  const PartSummary summary = disc_of(now);
  ASSERT_THAT(summary.wear.points, SizeIs(2)) << "the old disc's 21.9 mm does not count";
  EXPECT_EQ(summary.wear.points[0].size_mm, 25.0);
  EXPECT_THAT(summary.wear.labels[0], HasSubstr("fitted new"));
  EXPECT_EQ(summary.wear.next_check_km, 60'000);
  EXPECT_NEAR(summary.forecast->wear_mm_per_1000_km, 0.8 / 29.990, 1e-9);
  next.odometer_km = 10'000;
  EXPECT_THROW(start_next_job(record, old, next), std::runtime_error);
}

TEST_F(Wear, IsDrawnInReportAndHtml) {
  add_job("2023-01-10", 20'000, 26.2);
  add_job("2024-06-10", 60'000, 24.6);
  const std::int64_t now = add_job("2026-11-20", 100'000, 23.1, 115'000);
  const JobSummary summary = summarise_job(record, now).value();
  const std::string file = (folder / "report.pdf").string();
  make_report(record, summary, kA4).save_pdf(file);
  const std::string text = run_program({"pdftotext", "-layout", file, "-"}).output;
  for (const char* wanted : {"Wear so far and to come", "next check", "now", "From 3 sizes"})
    EXPECT_THAT(text, HasSubstr(wanted));
  const std::string html = html_report(record, summary);
  for (const char* wanted : {"<!DOCTYPE html>", "Marrow &lt;estate&gt;", "Wear so far and to come",
                             "next check", "<polygon", "cracks, heat damage"})
    EXPECT_THAT(html, HasSubstr(wanted));
  for (const char* foreign : {"<script", "http://", "https://", "<link", "<estate>", "url(http"})
    EXPECT_THAT(html, Not(HasSubstr(foreign)));
}

TEST_F(Wear, TheRefitListHasItsStepsInOrder) {
  const std::int64_t job = add_job("2024-01-10", 20'000, 21.9);
  WorkDone work;
  work.date = "2024-01-11";
  FittedPart disc;
  disc.kind = PartKind::disc;
  disc.new_size_mm = 25.0;
  work.parts = {disc};
  Fastener bolt{"bracket bolts", 4, false, tightening_from_text("100 N m, then 90 deg").tightening};
  Fastener wheel{"wheel nuts", 10, false, tightening_from_text("80 lbf ft").tightening};
  work.fasteners = {bolt, wheel};
  work.bedding_in_km = 300;
  work.next_check_km = 40'000;
  work.next_check_date = "2025-01-10";
  record.set_work(job, work);
  const auto steps = refit_steps(summarise_job(record, job).value());
  std::string text;
  for (const RefitStep& step : steps) {
    text += step.text + "\n";
    for (const std::string& caution : step.cautions) text += "! " + caution + "\n";
  }
  std::size_t at = 0;
  for (const char* wanted :
       {"on stands", "only a jack", "Discs on: left disc, new 25.00 mm", "Pads in", "bracket bolts",
        "1: 100 N m (73.8 lbf ft); 2: 90 degrees further", "to be used once only", "crosswise",
        "wheel nuts (10, used again): 80 lbf ft (108.5 N m)", "Pump the pedal", "Brake fluid",
        "300 km", "Next check at 40 000 km (24 855 miles) or on 10 January 2025"}) {
    const std::string plain = std::regex_replace(text, std::regex("\xC2\xA0"), " ");
    const std::size_t found = plain.find(wanted, at);
    ASSERT_NE(found, std::string::npos) << wanted << " after place " << at << " of\n" << plain;
    at = found;
  }
  EXPECT_EQ(make_refit_list(summarise_job(record, job).value(), kA4).page_count(), 1u);

  // In the reader's units, as the window shows it.
  const FigureStyle inches{LengthUnit::inch, DistanceUnit::mile, DecimalMark::point};
  const TemporaryFolder out;
  const std::string file = (out / "refit.pdf").string();
  make_refit_list(summarise_job(record, job).value(), kA4, inches).save_pdf(file);
  const std::string printed = run_program({"pdftotext", "-layout", file, "-"}).output;
  EXPECT_NE(printed.find("0.984"), std::string::npos) << printed;
  EXPECT_EQ(printed.find("25.00"), std::string::npos) << printed;
}

TEST_F(Wear, CorrectsPhotosFromFivePairsOn) {
  std::int64_t sheet = 0;
  {
    Sheet s;
    s.name = "A4";
    sheet = record.add_sheet(s);
  }
  std::int64_t last = 0;
  for (int i = 0; i < 6; ++i) {
    Job job;
    job.vehicle_id = vehicle;
    job.axle = Axle::rear;
    job.date = "2026-11-1" + std::to_string(i);
    job.sheet_id = sheet;
    last = record.add_job(job);
    const double true_mm = 5 + 0.2 * i;
    const std::int64_t pad =
        add_sample_pad(record, last, Side::left, PadPlace::inner, true_mm + 0.10, 0.95, folder);
    if (i == 5) break;  // the last one has no reading
    HandReadingEntry reading;
    reading.part_id = pad;
    reading.as_typed = "x";
    reading.value_mm = true_mm + (i % 2 ? 0.01 : -0.01);
    reading.standard_uncertainty_mm = 0.03;
    record.add_hand_reading(reading);
    const AgreementBook book(record);
    ASSERT_THAT(book.entries(), SizeIs(1));
    EXPECT_EQ(book.entries()[0].agreement.corrects, i >= 4);
  }
  const PartSummary pad = summarise_job(record, last)->parts.at(0);
  EXPECT_NEAR(pad.size->quantity.value_mm, 6.0, 0.02);
  EXPECT_GT(pad.size->quantity.standard_uncertainty_mm, 0.03);
  EXPECT_THAT(pad.because, Contains(HasSubstr("Corrected by -0.1")));
}

// Five pairs say that photos read 0.1 mm too much. An earlier photo is corrected as the new one is:
// else the wear between both would come out 0.1 mm too large.
TEST_F(Wear, CorrectsEarlierPhotosOfAForecastToo) {
  Sheet s;
  s.name = "A4";
  const std::int64_t sheet = record.add_sheet(s);
  const auto add = [&](const std::string& date, double km, double photo_mm,
                       std::optional<double> hand_mm) {
    Job job;
    job.vehicle_id = vehicle;
    job.axle = Axle::rear;
    job.date = date;
    job.odometer_km = km;
    job.sheet_id = sheet;
    job.id = record.add_job(job);
    const std::int64_t pad =
        add_sample_pad(record, job.id, Side::left, hand_mm ? PadPlace::outer : PadPlace::inner,
                       photo_mm, 0.95, folder);
    if (!hand_mm) return job.id;
    HandReadingEntry reading;
    reading.part_id = pad;
    reading.as_typed = "x";
    reading.value_mm = *hand_mm;
    reading.standard_uncertainty_mm = 0.02;
    record.add_hand_reading(reading);
    return job.id;
  };
  add("2024-01-10", 20'000, 8.1, {});
  for (int i = 0; i < 5; ++i)
    add("2025-01-1" + std::to_string(i), 40'000 + 100.0 * i, 5.1 + 0.2 * i + (i % 2 ? 0.01 : -0.01),
        5.0 + 0.2 * i);
  const std::int64_t now = add("2026-11-20", 60'000, 6.1, {});
  const PartSummary pad = summarise_job(record, now)->parts.at(0);
  ASSERT_THAT(pad.wear.points, SizeIs(2));
  EXPECT_NEAR(pad.wear.points[0].size_mm, 8.0, 0.01);
  EXPECT_NEAR(pad.wear.points[1].size_mm, 6.0, 0.01);
}

// An ID-1 card that stood in for the sheet has its own bias.
TEST(AgreementKeys, KeepAnIdCardApartFromTheSheet) {
  PhotoEntry photo;
  photo.camera_id = 3;
  Sheet sheet;
  sheet.id = 7;
  SheetScale printed, id_card;
  id_card.id_card = true;
  const AgreementKey a = agreement_key(photo, sheet, printed, PartKind::pad);
  const AgreementKey b = agreement_key(photo, sheet, id_card, PartKind::pad);
  EXPECT_EQ(a.sheet_id, 7);
  EXPECT_FALSE(b.sheet_id);
  EXPECT_FALSE(a == b);
  EXPECT_EQ(b, agreement_key(photo, std::nullopt, id_card, PartKind::pad));
}

TEST_F(Wear, VerdictsGoOnRecordOnceWithTheirRule) {
  const std::int64_t job = add_job("2026-11-20", 100'000, 23.1);
  const JobSummary summary = summarise_job(record, job).value();
  keep_verdicts(record, summary);
  keep_verdicts(record, summary);
  const auto list = record.verdicts(summary.parts[0].part.id);
  ASSERT_THAT(list, SizeIs(1));
  EXPECT_EQ(list[0].state, "keep");
  EXPECT_EQ(list[0].rule, verdict_rule());
}

}  // namespace
}  // namespace scantling
