#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <memory>

#include "base/save_file.h"
#include "card/sheet_layout.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "report/html_report.h"
#include "report/report.h"

namespace scantling {

namespace {

struct ReportOptions {
  std::int64_t job = 0;
  std::string out;
  PageSize paper = kA4;
  LengthUnit unit = LengthUnit::millimetre;
};

int write_report(Record& record, const ReportOptions& options) {
  const auto summary = summary_or_complaint(record, options.job);
  if (!summary) return kInputUnusable;
  keep_verdicts(record, *summary);
  try {
    if (options.out.ends_with(".html")) {
      save_file(options.out, html_report(record, *summary, options.unit));
      fmt::print(stderr, "scantling: wrote {}\n", options.out);
      return kDone;
    }
    const Document document = make_report(record, *summary, options.paper, options.unit);
    if (options.out == "-") {
      const std::string bytes = document.pdf();
      return std::fwrite(bytes.data(), 1, bytes.size(), stdout) == bytes.size() ? kDone
                                                                                : kInternalFault;
    }
    document.save_pdf(options.out);
    fmt::print(stderr, "scantling: wrote {} ({} pages)\n", options.out, document.page_count());
    return kDone;
  } catch (const UnwritableFile& error) {
    fmt::print(stderr, "scantling: {}\n", error.what());
    return kWrongUsage;
  }
}

}  // namespace

void add_report_command(CLI::App& app, Work& work) {
  CLI::App* command =
      app.add_subcommand("report",
                         "Writes a job's report: one page that decides, then a page a part.\n"
                         "Example: scantling report 3 --out brakes.pdf");
  const auto options = std::make_shared<ReportOptions>();
  const auto choice = add_record_option(app, *command);
  command->add_option("job", options->job, "The job's number, as scantling jobs lists it")
      ->type_name("JOB")
      ->required();
  command
      ->add_option("--out", options->out,
                   "The file, PDF or by its ending HTML; - for a PDF on standard output")
      ->type_name("FILE.pdf|FILE.html")
      ->required();
  const auto paper = std::make_shared<std::string>("a4");
  command->add_option("--paper", *paper, "a4 or letter")
      ->type_name("a4|letter")
      ->check([](const std::string& word) {
        return paper_named(word) ? std::string()
                                 : fmt::format("the paper is a4 or letter, not \"{}\".", word);
      })
      ->capture_default_str();
  const auto unit = std::make_shared<std::string>("mm");
  command->add_option("--units", *unit, "Lengths in mm or in inches")
      ->type_name("mm|in")
      ->check(CLI::IsMember({"mm", "in"}))
      ->capture_default_str();
  command->callback([=, &work] {
    options->unit = *unit == "in" ? LengthUnit::inch : LengthUnit::millimetre;
    options->paper = paper_size(paper_named(*paper).value());
    work = [=] {
      return with_existing_record(*choice, false,
                                  [&](Record& record) { return write_report(record, *options); });
    };
  });
}

}  // namespace scantling
