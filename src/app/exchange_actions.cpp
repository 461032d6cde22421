// Jobs that go from one record to another: one file each, shown before it is taken in; and the
// table of all sizes.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "app/app.h"
#include "base/save_file.h"
#include "exchange/csv.h"
#include "exchange/job_file.h"

namespace scantling {
namespace fs = std::filesystem;

namespace {

/// What taking the file in changes, so that it can be taken back.
TakenIn taken_into(Record& record, const JobImport& import, ImportChoice choice) {
  const std::vector<Vehicle> vehicles = record.vehicles();
  std::set<std::int64_t> before, after;
  for (const Job& job : record.jobs()) before.insert(job.id);
  TakenIn taken;
  taken.job_id = import.into(record, choice);
  for (const Job& job : record.jobs()) after.insert(job.id);
  std::set_difference(before.begin(), before.end(), after.begin(), after.end(),
                      std::back_inserter(taken.hidden));
  for (const Vehicle& then : vehicles)
    if (const auto now = record.vehicle(then.id);
        now && (now->name != then.name || now->registration != then.registration ||
                now->make_model != then.make_model || now->owner != then.owner))
      taken.vehicles.emplace_back(then, *now);
  if (before.count(taken.job_id)) return {taken.job_id, {}, {}};  // it was there and stays
  return taken;
}

}  // namespace

void App::hand_on_job() {
  if (!session_.job()) return;
  const JobSummary& job = *session_.job();
  ask({.title = "Save the job as one file",
       .save = true,
       .suggestion = fmt::format("{} {}.zip", job.vehicle.name, job.job.date),
       .patterns = {"*.zip"},
       .pattern_words = "Job file"},
      [this, job_id = job.job.id](const std::vector<fs::path>& files) {
        const fs::path& file = files.front();
        worker_.start(
            "Writing the job file",
            [this, job_id, file,
             record = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
              Record own(record);
              if (const auto summary = summarise_job(own, job_id)) keep_verdicts(own, *summary);
              export_job(own, job_id, file);
              return [this, file] {
                say_written(fmt::format("Job saved with its photos and report: {}", file.string()),
                            file, false);
              };
            });
      });
}

void App::write_sizes_table() {
  ask({.title = "Save all sizes as a table",
       .save = true,
       .suggestion = "brake sizes.csv",
       .patterns = {"*.csv"},
       .pattern_words = "Table"},
      [this](const std::vector<fs::path>& files) {
        const fs::path& file = files.front();
        worker_.start("Writing the table",
                      [this, file, record = session_.record_path()](
                          const std::atomic<bool>&) -> Worker::Finish {
                        save_file(file, dimensions_csv(Record(record)));
                        return [this, file] {
                          say_written(fmt::format("Table saved: {}", file.string()), file);
                        };
                      });
      });
}

void App::ask_for_job_file() {
  ask({.title = "Take in a job from a file",
       .save = false,
       .suggestion = {},
       .patterns = {"*.zip"},
       .pattern_words = "Job file"},
      [this](const std::vector<fs::path>& files) { take_in(files.front()); });
}

void App::take_in(const fs::path& job_file) {
  worker_.start("Checking the job file",
                [this, job_file,
                 record = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
                  const auto import = std::make_shared<const JobImport>(job_file);
                  const auto conflicts = import->conflicts(Record(record));
                  if (conflicts.empty())
                    return
                        [this, job_file, import] { take_in(job_file, import, ImportChoice::none); };
                  return [this, job_file, import, conflicts] {
                    forms_.import = {true, job_file.filename().string(), import, conflicts};
                  };
                });
}

void App::take_in(const fs::path& job_file, std::shared_ptr<const JobImport> import,
                  ImportChoice choice) {
  worker_.start("Taking the job in",
                [this, import = std::move(import), choice, name = job_file.filename().string(),
                 path = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
                  Record own(path);
                  TakenIn taken = taken_into(own, *import, choice);
                  return [this, name, choice, taken = std::move(taken)] {
                    planes_page_.hide();
                    work_page_.hide();
                    history_page_.hide();
                    attempt([&] {
                      if (choice == ImportChoice::mine) {
                        open_job(taken.job_id);
                        return say("The job in the record stays as it was.");
                      }
                      session_.taken_in(taken);
                      remember();
                      say(fmt::format("Taken in from {}.", name));
                    });
                  };
                });
}

}  // namespace scantling
