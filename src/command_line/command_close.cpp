// scantling close, scantling refit, scantling next: the work done, the list to do it by, and the
// job that goes on from it.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <fstream>
#include <iterator>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/save_file.h"
#include "card/sheet_layout.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "record/record_error.h"
#include "report/next_job.h"
#include "report/refit_list.h"

namespace scantling {

namespace {

struct CloseOptions {
  std::int64_t job = 0;
  std::string work;
  bool form = false;
};

struct RefitOptions {
  std::int64_t job = 0;
  std::string out;
  PageSize paper = kA4;
};

struct NextOptions {
  std::int64_t after = 0;
  Job job;
};

constexpr std::uintmax_t kLargestWork_bytes = 1u << 20;

/// What the job's work says already, or one line of each list, to be changed by hand.
WorkDone work_to_fill_in(const JobSummary& summary) {
  if (summary.work) return *summary.work;
  WorkDone work;
  work.date = summary.job.date;
  work.odometer_km = summary.job.odometer_km;
  for (const PartSummary& part : summary.parts) {
    FittedPart fitted;
    fitted.kind = part.part.kind;
    fitted.side = part.part.side;
    fitted.place = part.part.place;
    work.parts.push_back(fitted);
  }
  Fastener fastener;
  fastener.name = "calliper bracket bolts";
  work.fasteners = {fastener};
  return work;
}

int close_job(Record& record, const CloseOptions& options) {
  const auto summary = summary_or_complaint(record, options.job);
  if (!summary) return kInputUnusable;
  if (options.form) {
    fmt::print("{}\n",
               nlohmann::ordered_json::parse(work_to_text(work_to_fill_in(*summary))).dump(1));
    return kDone;
  }
  if (options.work.empty()) {
    fmt::print(
        stderr,
        "scantling: Say what was done: --work FILE.json, or --form for a form to fill in.\n");
    return kWrongUsage;
  }
  std::ifstream in(options.work, std::ios::binary);
  std::error_code ignored;
  if (!in || std::filesystem::file_size(options.work, ignored) > kLargestWork_bytes)
    return report_unusable(
        "work_missing", options.work + " cannot be read, or is too large: check its name.", false);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  record.set_work(options.job, work_from_text(text));
  keep_verdicts(record, *summary);
  fmt::print("Job {} is closed. scantling refit {} prints its refit list.\n", options.job,
             options.job);
  return kDone;
}

int print_refit(Record& record, const RefitOptions& options) {
  const auto summary = summary_or_complaint(record, options.job);
  if (!summary) return kInputUnusable;
  if (!options.out.empty()) {
    try {
      make_refit_list(*summary, options.paper).save_pdf(options.out);
    } catch (const UnwritableFile& error) {
      fmt::print(stderr, "scantling: {}\n", error.what());
      return kWrongUsage;
    }
    fmt::print(stderr, "scantling: wrote {}\n", options.out);
    return kDone;
  }
  int number = 0;
  for (const RefitStep& step : refit_steps(*summary)) {
    fmt::print("[ ] {}. {}\n", ++number, step.text);
    for (const std::string& caution : step.cautions) fmt::print("       Mind: {}\n", caution);
  }
  return kDone;
}

int start_next(Record& record, const NextOptions& options) {
  const std::int64_t id = start_next_job(record, options.after, options.job);
  fmt::print("Job {} goes on from job {}.\n", id, options.after);
  return kDone;
}

void add_next_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "next",
      "Starts the next job of a job's axle: the same places, each with the minimum of the part\n"
      "that is on the car now.\n"
      "Example: scantling next 3 --date 2027-11-25 --odometer 95100");
  const auto next = std::make_shared<NextOptions>();
  const auto odometer = std::make_shared<std::optional<double>>();
  const auto choice = add_record_option(app, *command);
  command->add_option("job", next->after, "The job that it goes on from")
      ->type_name("JOB")
      ->required();
  command->add_option("--date", next->job.date, "The day of the new job")
      ->type_name("YYYY-MM-DD")
      ->required();
  command->add_option("--odometer", *odometer, "Kilometres on the odometer")->type_name("KM");
  command->add_option("--note", next->job.note, "Anything worth keeping")->type_name("TEXT");
  command->callback([=, &work] {
    next->job.odometer_km = *odometer;
    work = [=] {
      return with_existing_record(*choice, false,
                                  [&](Record& record) { return start_next(record, *next); });
    };
  });
}

}  // namespace

void add_close_commands(CLI::App& app, Work& work) {
  CLI::App* close =
      app.add_subcommand("close",
                         "Closes a job with the work done, from a JSON file: parts fitted and "
                         "their new sizes,\n"
                         "fasteners with the maker's tightening figures, fluid, slides, the next "
                         "check.\n"
                         "Its form is \"work\" in the schema that scantling export packs.\n"
                         "Example: scantling close 3 --work done.json");
  const auto closing = std::make_shared<CloseOptions>();
  const auto closing_record = add_record_option(app, *close);
  close->add_option("job", closing->job, "The job's number")->type_name("JOB")->required();
  const auto given =
      close->add_option("--work", closing->work, "What was done")->type_name("FILE.json");
  close->add_flag("--form", closing->form, "Only print a form to fill in, with what is known")
      ->excludes(given);
  close->callback([=, &work] {
    work = [=] {
      return with_existing_record(*closing_record, false,
                                  [&](Record& record) { return close_job(record, *closing); });
    };
  });

  CLI::App* refit =
      app.add_subcommand("refit",
                         "Prints the steps of putting a job's brakes together again, in "
                         "order, with what to mind.\n"
                         "Example: scantling refit 3 --out refit.pdf");
  const auto list = std::make_shared<RefitOptions>();
  const auto list_record = add_record_option(app, *refit);
  refit->add_option("job", list->job, "The job's number")->type_name("JOB")->required();
  refit->add_option("--out", list->out, "A PDF instead of text")->type_name("FILE.pdf");
  const auto paper = std::make_shared<std::string>("a4");
  refit->add_option("--paper", *paper, "a4 or letter")
      ->type_name("a4|letter")
      ->check(CLI::IsMember({"a4", "letter"}))
      ->capture_default_str();
  refit->callback([=, &work] {
    list->paper = paper_size(paper_named(*paper).value());
    work = [=] {
      return with_existing_record(*list_record, false,
                                  [&](Record& record) { return print_refit(record, *list); });
    };
  });
  add_next_command(app, work);
}

}  // namespace scantling
