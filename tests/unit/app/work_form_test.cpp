#include "app/work_form.h"

#include <gmock/gmock.h>

#include "app/session.h"
#include "record/record_error.h"
#include "support/temporary_folder.h"
#include "unit/record/sample_record.h"

namespace scantling {
namespace {

using ::testing::HasSubstr;
using ::testing::SizeIs;

JobSummary open_job() {
  JobSummary job;
  job.job.date = "2026-11-21";
  job.job.odometer_km = 81250;
  job.job.next_check_km = 95000;
  return job;
}

WorkForm filled() {
  WorkForm form = work_form(open_job(), "Ása");
  FittedForm& disc = form.parts.at(0);
  disc.fitted = true;
  disc.maker = "Hallow";
  disc.size = "24,00 mm";
  disc.give_95 = "0.05";
  disc.minimum = "7/8 in";
  form.fasteners = {{"Calliper bracket bolts", "2", true, "74 lbf ft, then 90 deg"}};
  form.bedding_in = "300 km";
  form.next_check_date = "2027-11-21";
  return form;
}

TEST(WorkForm, GivesExamplesInTheReadersUnits) {
  EXPECT_EQ(length_hints({}, PartKind::disc).size, "24");
  EXPECT_EQ(length_hints({}, PartKind::pad).size, "12");
  EXPECT_EQ(length_hints({}, PartKind::pad).give_95, "0.2");
  const FigureStyle inches{LengthUnit::inch, DistanceUnit::mile, DecimalMark::comma};
  EXPECT_EQ(length_hints(inches, PartKind::disc).size, "0,95");
  EXPECT_EQ(length_hints(inches, PartKind::pad).size, "0,47");
  EXPECT_EQ(length_hints(inches, PartKind::pad).give_95, "0,008");
}

std::string refusal(void (*spoil)(WorkForm&)) {
  WorkForm form = filled();
  spoil(form);
  const ReadWork read = read_work(form);
  EXPECT_EQ(read.work.has_value(), read.refusal.empty());
  return read.refusal;
}

TEST(WorkForm, OffersWhatTheJobKnows) {
  const WorkForm form = work_form(open_job(), "Ása");
  EXPECT_EQ(form.date, "2026-11-21");
  EXPECT_EQ(form.odometer, "81250");
  EXPECT_EQ(form.done_by, "Ása");
  EXPECT_EQ(form.next_check_km, "95000");
  EXPECT_THAT(form.parts, SizeIs(6));
  EXPECT_TRUE(read_work(form).work) << "a job may be closed as it stands";
}

TEST(WorkForm, ReadsWhatIsTypedAndShowsItAgain) {
  const ReadWork read = read_work(filled());
  ASSERT_TRUE(read.work) << read.refusal;
  ASSERT_THAT(read.work->parts, SizeIs(1));
  const FittedPart& disc = read.work->parts[0];
  EXPECT_EQ(disc.kind, PartKind::disc);
  EXPECT_EQ(disc.new_size_mm, 24.0);
  EXPECT_EQ(disc.standard_uncertainty_mm, 0.025);
  EXPECT_DOUBLE_EQ(disc.minimum_mm.value(), 22.225);
  ASSERT_THAT(read.work->fasteners, SizeIs(1));
  EXPECT_EQ(read.work->fasteners[0].count, 2);
  EXPECT_THAT(read.work->fasteners[0].tightening.stages, SizeIs(2));
  EXPECT_EQ(read.work->bedding_in_km, 300.0);
  JobSummary closed = open_job();
  closed.work = read.work;
  const ReadWork again = read_work(work_form(closed, "somebody else"));
  ASSERT_TRUE(again.work) << again.refusal;
  EXPECT_EQ(work_to_text(*again.work), work_to_text(*read.work));
}

TEST(WorkForm, SaysWhatCannotBeRight) {
  EXPECT_THAT(refusal([](WorkForm& f) { f.date = "yesterday"; }), HasSubstr("year-month-day"));
  EXPECT_THAT(refusal([](WorkForm& f) { f.odometer = "far"; }), HasSubstr("odometer"));
  EXPECT_THAT(refusal([](WorkForm& f) { f.parts[0].size = "thick"; }),
              HasSubstr("Front left, disc, new size: "));
  EXPECT_THAT(refusal([](WorkForm& f) { f.parts[0].minimum = "25"; }),
              HasSubstr("thinner than its minimum"));
  EXPECT_THAT(refusal([](WorkForm& f) { f.fasteners[0].name = " "; }), HasSubstr("Name the"));
  EXPECT_THAT(refusal([](WorkForm& f) { f.fasteners[0].count = "2.5"; }), HasSubstr("How many"));
  EXPECT_THAT(refusal([](WorkForm& f) { f.fasteners[0].figure = "tight"; }),
              HasSubstr("Calliper bracket bolts: "));
  EXPECT_THAT(refusal([](WorkForm& f) { f.next_check_km = "100"; }), HasSubstr("next check"));
  EXPECT_THAT(refusal([](WorkForm& f) { f.next_check_date = "2020-01-01"; }),
              HasSubstr("next check"));
  EXPECT_THAT(refusal([](WorkForm& f) { f.bedding_in = "9000"; }), HasSubstr("bedding-in"));
}

TEST(WorkForm, TellsWhatAFigureMeansInBothUnits) {
  EXPECT_EQ(tightening_note({"bolts", "1", false, ""}), "");
  EXPECT_EQ(tightening_note({"bolts", "1", false, "74 lbf ft"}), "74 lbf ft (100.3 N m)");
  EXPECT_THAT(tightening_note({"bolts", "1", false, "90 deg"}), HasSubstr("begin with the torque"));
}

struct ClosingSession : testing::Test {
  TemporaryFolder folder;
  Session session{folder / "record.sqlite"};
  std::int64_t job = add_sample_job(session.record()).job;
  ClosingSession() { session.open_job(job); }
};

TEST_F(ClosingSession, ClosesTheJobAndUndoesIt) {
  const Job before = session.job()->job;
  WorkDone work;
  work.date = "2026-11-22";
  work.next_check_km = 95000;
  session.set_work(work);
  EXPECT_EQ(*session.history().undo_name(), "close the job");
  EXPECT_EQ(session.job()->job.next_check_km, 95000.0);
  session.set_work(work);  // the same once more is no change
  work.done_by = "Ása";
  session.set_work(work);
  EXPECT_EQ(*session.history().undo_name(), "change the work done");
  session.undo();
  EXPECT_EQ(session.job()->work->done_by, "");
  EXPECT_TRUE(session.touched().work);
  session.undo();
  EXPECT_FALSE(session.job()->work);
  EXPECT_EQ(session.job()->job.next_check_km, before.next_check_km);
  session.redo();
  session.redo();
  EXPECT_EQ(session.job()->work->done_by, "Ása");
  session.reopen_job();
  EXPECT_FALSE(session.job()->work);
  session.undo();
  EXPECT_EQ(session.job()->work->done_by, "Ása");
}

TEST_F(ClosingSession, TheNextJobGoesOnFromThePartsOnTheCar) {
  WorkDone work;
  work.date = "2026-11-22";
  FittedPart disc;
  disc.kind = PartKind::disc;
  disc.side = Side::left;
  disc.new_size_mm = 24;
  disc.minimum_mm = 22;
  work.parts = {disc};
  session.set_work(work);
  Job next;
  next.date = "2027-11-25";
  next.odometer_km = 95100;
  session.start_next_job(job, next);
  EXPECT_NE(session.job()->job.id, job);
  EXPECT_EQ(session.job()->job.axle, Axle::rear);
  EXPECT_THAT(session.job()->parts, SizeIs(2));
  EXPECT_EQ(find_part(*session.job(), PartSlot::disc(Side::left))->part.minimum_mm, 22.0);
  session.undo();
  EXPECT_THAT(session.job_lines(), SizeIs(1));
  next.odometer_km = 10;
  EXPECT_THROW(session.start_next_job(job, next), RecordError);
}

TEST_F(ClosingSession, AJobTakenInCanBeTakenBack) {
  Record& record = session.record();
  const Vehicle before = record.vehicles().at(0);
  Job other = record.job(job).value();
  other.note = "theirs";
  const std::int64_t theirs = record.add_job(other);
  record.remove_job(job);
  Vehicle after = before;
  after.owner = "Somebody else";
  record.update_vehicle(after);
  session.taken_in({theirs, {job}, {{before, after}}});
  EXPECT_EQ(session.job()->job.note, "theirs");
  session.undo();
  EXPECT_FALSE(record.job(theirs));
  EXPECT_TRUE(record.job(job));
  EXPECT_EQ(record.vehicles().at(0).owner, before.owner);
  session.redo();
  EXPECT_TRUE(record.job(theirs));
  EXPECT_FALSE(record.job(job));
  EXPECT_EQ(record.vehicles().at(0).owner, "Somebody else");
}

}  // namespace
}  // namespace scantling
