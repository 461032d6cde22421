// scantling close, scantling refit: the work done, and the list to do it by.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <fstream>
#include <iterator>
#include <memory>

#include "base/save_file.h"
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
};

struct RefitOptions {
  std::int64_t job = 0;
  std::string out;
};

constexpr std::uintmax_t kLargestWork_bytes = 1u << 20;

int close_job(Record& record, const CloseOptions& options) {
  const auto summary = summary_or_complaint(record, options.job);
  if (!summary) return kInputUnusable;
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
      make_refit_list(*summary, kA4).save_pdf(options.out);
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
  close->add_option("--work", closing->work, "What was done")->type_name("FILE.json")->required();
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
  refit->callback([=, &work] {
    work = [=] {
      return with_existing_record(*list_record, false,
                                  [&](Record& record) { return print_refit(record, *list); });
    };
  });
}

}  // namespace scantling
