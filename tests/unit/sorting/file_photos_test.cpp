#include "sorting/file_photos.h"

#include <gmock/gmock.h>

#include "record/record_error.h"
#include "support/temporary_folder.h"

namespace scantling {
namespace {

using testing::IsEmpty;
using testing::SizeIs;

struct FilePhotos : testing::Test {
  TemporaryFolder folder;
  Record record{folder / "record.sqlite"};

  std::int64_t job() {
    Job made;
    made.vehicle_id = record.add_vehicle({0, "Blue estate", "", "", ""});
    made.date = "2026-11-25";
    return record.add_job(made);
  }
  PhotoToFile pad(const std::string& name, Side side, PadPlace place) {
    return {folder.file(name, name), PartSlot::pad(side, place), {View::pad, {}}};
  }
  PhotoToFile lip(const std::string& name, DiscFace face) {
    return {folder.file(name, name), PartSlot::disc(Side::left), {View::lip, face}};
  }
};

TEST_F(FilePhotos, MakesThePartsThatAreMissing) {
  const std::int64_t id = job();
  const FiledHeap heap =
      file_photos(record, id,
                  {pad("a.jpg", Side::left, PadPlace::inner),
                   pad("b.jpg", Side::left, PadPlace::inner), lip("c.jpg", DiscFace::inboard)});
  EXPECT_EQ(heap.job_id, id);
  EXPECT_THAT(heap.added, SizeIs(3));
  const std::vector<Part> parts = record.parts(id);
  ASSERT_THAT(parts, SizeIs(2));
  EXPECT_THAT(record.photos(parts[0].id), SizeIs(2));
  EXPECT_EQ(record.photos(parts[0].id)[0].original_name, "a.jpg");
  EXPECT_EQ(record.photos(parts[1].id)[0].face, DiscFace::inboard);
  EXPECT_TRUE(record.photo_intact(heap.photos[2]));
}

TEST_F(FilePhotos, NewPadsTakeOverTheMinimumOfThoseThereAre) {
  const std::int64_t id = job();
  Part known = new_part(id, PartSlot::pad(Side::right, PadPlace::outer), {});
  known.minimum_mm = 2.5;
  known.minimum_origin = "workshop manual";
  record.add_part(known);
  file_photos(record, id,
              {pad("a.jpg", Side::left, PadPlace::inner), lip("c.jpg", DiscFace::inboard)});
  for (const Part& part : record.parts(id))
    EXPECT_EQ(part.minimum_mm, part.kind == PartKind::pad ? std::optional(2.5) : std::nullopt);
}

TEST_F(FilePhotos, APhotoThatWasThereIsNotCountedAsAdded) {
  const std::int64_t id = job();
  const PhotoToFile a = pad("a.jpg", Side::left, PadPlace::inner);
  file_photos(record, id, {a});
  const FiledHeap again = file_photos(record, id, {a, pad("b.jpg", Side::left, PadPlace::inner)});
  EXPECT_THAT(again.photos, SizeIs(2));
  ASSERT_THAT(again.added, SizeIs(1));
  EXPECT_EQ(again.added[0], again.photos[1].id);
}

TEST_F(FilePhotos, ANewJobComesWithItsVehicle) {
  NewJob wanted;
  wanted.vehicle.name = "Unsorted photos";
  wanted.job.date = "2026-11-25";
  const FiledHeap heap =
      file_photos(record, 0, {pad("a.jpg", Side::left, PadPlace::inner)}, &wanted);
  EXPECT_TRUE(heap.new_job);
  ASSERT_THAT(record.jobs(), SizeIs(1));
  EXPECT_EQ(record.vehicle(record.jobs()[0].vehicle_id)->name, "Unsorted photos");
}

TEST_F(FilePhotos, AFileThatVanishedLeavesTheRecordAsItWas) {
  PhotoToFile gone = pad("b.jpg", Side::right, PadPlace::inner);
  std::filesystem::remove(gone.file);
  NewJob wanted;
  wanted.vehicle.name = "Unsorted photos";
  wanted.job.date = "2026-11-25";
  EXPECT_THROW(file_photos(record, 0, {pad("a.jpg", Side::left, PadPlace::inner), gone}, &wanted),
               RecordError);
  EXPECT_THAT(record.jobs(), IsEmpty());
  EXPECT_THAT(record.vehicles(), IsEmpty());
}

TEST_F(FilePhotos, EachFileIsReadOnce) {
  const std::int64_t id = job();
  const PhotoToFile pulled = pad("a.jpg", Side::left, PadPlace::inner);
  // The phone is unplugged as soon as the copying is done.
  const FiledHeap heap = file_photos(record, id, {pulled}, nullptr, nullptr,
                                     [&](std::size_t) { std::filesystem::remove(pulled.file); });
  ASSERT_THAT(heap.photos, SizeIs(1));
  EXPECT_TRUE(record.photo_intact(heap.photos[0]));
  EXPECT_EQ(heap.photos[0].original_name, "a.jpg");
}

TEST_F(FilePhotos, StoppedHalfWayFilesNothing) {
  const std::int64_t id = job();
  std::atomic<bool> stop{false};
  const FiledHeap heap = file_photos(
      record, id,
      {pad("a.jpg", Side::left, PadPlace::inner), pad("b.jpg", Side::left, PadPlace::outer)},
      nullptr, &stop, [&](std::size_t copied) { stop = copied == 1; });
  EXPECT_THAT(heap.photos, IsEmpty());
  EXPECT_THAT(record.parts(id), IsEmpty());
}

}  // namespace
}  // namespace scantling
