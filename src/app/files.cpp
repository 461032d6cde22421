// Files that the app writes: the card to print, the report.
#include <fmt/format.h>

#include "app/app.h"
#include "app/outside_program.h"
#include "base/save_file.h"
#include "card/draw_sheet.h"
#include "report/demo_job.h"
#include "report/html_report.h"
#include "report/report.h"

namespace scantling {
namespace fs = std::filesystem;

void App::write_sheet(Paper paper) {
  ask({.title = "Save the card to print",
       .save = true,
       .suggestion = fmt::format("card-{}.pdf", paper == Paper::a4 ? "a4" : "letter"),
       .patterns = {"*.pdf"},
       .pattern_words = "PDF"},
      [this, paper](const std::vector<fs::path>& files) {
        const fs::path& file = files.front();
        worker_.start(
            "Drawing the card", [this, paper, file](const std::atomic<bool>&) -> Worker::Finish {
              draw_sheet(paper).save_pdf(file);
              return [this, file] {
                say_written(fmt::format("Print at 100%, then measure the check bars. Saved: {}",
                                        file.string()),
                            file);
              };
            });
      });
}

void App::say_written(std::string sentence, const fs::path& file, bool opens) {
  say(std::move(sentence));
  written_ = fs::absolute(file);
  written_opens_ = opens;
}

void App::open_written() {
  opener_.start("Opening", [this, file = written_](const std::atomic<bool>&) -> Worker::Finish {
    return [this, fault = open_with_desktop(file)] {
      if (!fault.empty()) show_fault(fault);
    };
  });
}

void App::show_written_folder() {
  opener_.start(
      "Opening",
      [this, folder = written_.parent_path()](const std::atomic<bool>&) -> Worker::Finish {
        return [this, fault = open_with_desktop(folder)] {
          if (!fault.empty()) show_fault(fault);
        };
      });
}

PageSize App::report_paper() const {
  return paper_size(settings_.letter_paper ? Paper::letter : Paper::a4);
}

void App::write_report() {
  if (!session_.job()) return say("Open a job first: the report is about one.");
  const JobSummary& job = *session_.job();
  const std::int64_t job_id = job.job.id;
  ask({.title = "Save the report",
       .save = true,
       .suggestion = fmt::format("{} {}.pdf", job.vehicle.name, job.job.date),
       .patterns = {"*.pdf"},
       .pattern_words = "PDF"},
      [this, job_id](const std::vector<fs::path>& files) {
        const fs::path& file = files.front();
        worker_.start(
            "Writing the report",
            [this, job_id, file, record = session_.record_path(), paper = report_paper(),
             style = figure_style(settings_)](const std::atomic<bool>&) -> Worker::Finish {
              Record own(record);
              const auto summary = summarise_job(own, job_id);
              if (!summary) return [this] { say("This job has been removed."); };
              keep_verdicts(own, *summary);
              make_report(own, *summary, paper, style).save_pdf(file);
              return [this, file] {
                say_written(fmt::format("Report saved: {}", file.string()), file);
              };
            });
      });
}

void App::write_web_report() {
  if (!session_.job()) return;
  const JobSummary& job = *session_.job();
  ask({.title = "Save the report as a web page",
       .save = true,
       .suggestion = fmt::format("{} {}.html", job.vehicle.name, job.job.date),
       .patterns = {"*.html"},
       .pattern_words = "Web page"},
      [this, job_id = job.job.id](const std::vector<fs::path>& files) {
        const fs::path& file = files.front();
        worker_.start(
            "Writing the report",
            [this, job_id, file, record = session_.record_path(),
             style = figure_style(settings_)](const std::atomic<bool>&) -> Worker::Finish {
              Record own(record);
              const auto summary = summarise_job(own, job_id);
              if (!summary) return [this] { say("This job has been removed."); };
              keep_verdicts(own, *summary);
              save_file(file, html_report(own, *summary, style));
              return [this, file] {
                say_written(fmt::format("Report saved: {}", file.string()), file);
              };
            });
      });
}

namespace {

// The demo entered earlier, where the record still has it.
std::optional<std::int64_t> known_demo(const Record& record, const DemoJob& demo) {
  for (const Job& job : record.jobs()) {
    const auto vehicle = record.vehicle(job.vehicle_id);
    if (vehicle && vehicle->registration == demo.vehicle.registration &&
        vehicle->name == demo.vehicle.name && job.date == demo.job.date)
      return job.id;
  }
  return {};
}

}  // namespace

void App::open_demo() {
  worker_.start("Measuring the demo's photos",
                [this, path = session_.record_path()](const std::atomic<bool>&) -> Worker::Finish {
                  Record own(path);
                  const DemoJob demo = read_demo_job(demo_folder());
                  const auto known = known_demo(own, demo);
                  const std::int64_t id =
                      known ? *known : enter_demo_job(own, demo, demo_cameras(demo));
                  return [this, id] {
                    load_cameras();  // the demo brings its phone's profile
                    open_job(id);
                  };
                });
}

}  // namespace scantling
