#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "exchange/csv.h"
#include "report/summary.h"
#include "report/summary_json.h"
#include "report/wording.h"

namespace scantling {

namespace {

std::string part_line(const PartSummary& part, Axle axle) {
  std::string line = fmt::format("    {:<26} {}", part_title(part.part, axle), part.state);
  if (part.size) line += fmt::format("; {}", size_with_95(part.size->quantity));
  if (part.part.minimum_mm)
    line += fmt::format("; minimum {}", minimum_number(*part.part.minimum_mm));
  return line;
}

void print_job(const JobSummary& summary) {
  const Job& job = summary.job;
  std::string head = fmt::format("{:>4}  {}  {}", job.id, job.date, summary.vehicle.name);
  if (!summary.vehicle.registration.empty())
    head += fmt::format(" ({})", summary.vehicle.registration);
  head += ", " + axle_title(job.axle);
  if (job.odometer_km) head += ", " + distance_title(*job.odometer_km);
  fmt::print("{}\n", head);
  for (const PartSummary& part : summary.parts) fmt::print("{}\n", part_line(part, job.axle));
}

int print_csv(Record& record) {
  const std::string csv = dimensions_csv(record);
  return std::fwrite(csv.data(), 1, csv.size(), stdout) == csv.size() ? kDone : kInternalFault;
}

int list_jobs(Record& record, bool json, const std::string& words) {
  const AgreementBook agreements(record);
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  bool any = false;
  for (const Job& job : record.find_jobs(words)) {
    const auto summary = summarise_job(record, job.id, agreements);
    if (!summary) continue;  // removed by another program meanwhile
    any = true;
    if (json)
      list.push_back(summary_to_json(*summary));
    else
      print_job(*summary);
  }
  if (json) {
    const nlohmann::ordered_json object{{"record", record.path().string()}, {"jobs", list}};
    fmt::print("{}\n", object.dump(1, ' ', false, nlohmann::json::error_handler_t::replace));
  } else if (!any) {
    fmt::print(stderr, "scantling: {} {}.\n",
               words.empty() ? "No jobs yet in" : "No job with all of these words in",
               record.path().string());
  }
  return kDone;
}

}  // namespace

void add_jobs_command(CLI::App& app, Work& work) {
  CLI::App* command =
      app.add_subcommand("jobs",
                         "Lists the jobs of the record with the state of each part, newest first.\n"
                         "Example: scantling jobs --json");
  const auto choice = add_record_option(app, *command);
  const auto json = std::make_shared<bool>(false);
  command->add_flag("--json", *json, "Print one JSON object");
  const auto csv = std::make_shared<bool>(false);
  command->add_flag("--csv", *csv, "All sizes of all jobs as CSV")->excludes("--json");
  const auto words = std::make_shared<std::string>();
  command
      ->add_option("--find", *words,
                   "Only jobs in whose vehicle, date, axle or note all of these words are found")
      ->type_name("WORDS");
  command->callback([=, &work] {
    work = [=] {
      return with_existing_record(*choice, *json, [&](Record& record) {
        return *csv ? print_csv(record) : list_jobs(record, *json, *words);
      });
    };
  });
}

}  // namespace scantling
