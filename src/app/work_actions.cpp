// Closing a job: the work done, its refit list, and the job that comes after it.
#include <fmt/format.h>

#include "app/app.h"
#include "report/refit_list.h"
#include "report/wording.h"

namespace scantling {
namespace fs = std::filesystem;

void App::show_work(bool shown) {
  if (!session_.job()) return;
  canvas_.cancel_drag(*this);
  planes_page_.hide();
  history_page_.hide();
  if (shown)
    work_page_.show();
  else
    work_page_.hide();
}

void App::take_work() {
  ReadWork read = read_work(work_page_.form);
  work_page_.refusal = read.refusal;
  if (!read.work) return;
  attempt([&] {
    keep_verdicts(session_.record(), *session_.job());  // those that the work answers
    session_.set_work(*read.work);
    work_page_.stored(*session_.job());
  });
}

void App::reopen_job() {
  attempt([&] { session_.reopen_job(); });
}

void App::write_refit_list() {
  JobSummary job = *session_.job();
  job.work = work_page_.shown;
  ask({.title = "Save the refit list",
       .save = true,
       .suggestion = fmt::format("{} {} refit.pdf", job.vehicle.name, job.job.date),
       .patterns = {"*.pdf"},
       .pattern_words = "PDF"},
      [this, job = std::move(job)](const std::vector<fs::path>& files) {
        const fs::path& file = files.front();
        worker_.start("Writing the refit list",
                      [this, job, file, paper = report_paper(), style = figure_style(settings_)](
                          const std::atomic<bool>&) -> Worker::Finish {
                        make_refit_list(job, paper, style).save_pdf(file);
                        return [this, file] {
                          say_written(fmt::format("Refit list saved: {}", file.string()), file);
                        };
                      });
      });
}

void App::next_job() {
  if (!session_.job()) return;
  const JobSummary& before = *session_.job();
  JobForm form;
  form.asked = form.is_new = true;
  form.after_job_id = before.job.id;
  form.after_words = fmt::format("{}, {}, after the job of {}", before.vehicle.name,
                                 axle_title(before.job.axle), date_title(before.job.date));
  form.vehicle_name = before.vehicle.name;
  form.date = today();
  form.axle = before.job.axle == Axle::front ? 0 : 1;
  forms_.job = std::move(form);
}

void App::start_next_job(std::int64_t after_job_id, const Job& job) {
  planes_page_.hide();
  work_page_.hide();
  history_page_.hide();
  session_.start_next_job(after_job_id, job);
  remember();
}

bool App::obey_on_work(const KeyCommand& command) {
  switch (command.action) {
    case KeyAction::escape:
    case KeyAction::work:
      show_work(false);
      return true;
    case KeyAction::history:
    case KeyAction::copy_result:
    case KeyAction::settings:
    case KeyAction::new_job:
    case KeyAction::undo:
    case KeyAction::redo:
    case KeyAction::report:
    case KeyAction::quit:
    case KeyAction::help:
    case KeyAction::save:
      return false;
    default:  // belongs to the photo, which is not shown
      return true;
  }
}

}  // namespace scantling
