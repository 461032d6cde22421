// scantling rescue
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "command_line/open_record.h"
#include "record/record_error.h"
#include "record/rescue.h"

namespace scantling {

namespace {

struct RescueOptions {
  std::string damaged;
  std::string out;
};

int run_rescue(const RescueOptions& options) {
  try {
    const Rescue rescue = rescue_record(options.damaged, options.out);
    fmt::print("{}\n", rescue_words(rescue));
    fmt::print(stderr, "scantling: wrote {}; {} is as it was.\n", options.out, options.damaged);
    return kDone;
  } catch (const RecordError& error) {
    return report_unusable("record_unusable", error.what(), false);
  }
}

}  // namespace

void add_rescue_command(CLI::App& app, Work& work) {
  CLI::App* command = app.add_subcommand(
      "rescue",
      "Saves what can still be read of a damaged record into a new one, photos included.\n"
      "The damaged record is only read.\n"
      "Example: scantling rescue record.sqlite --out saved.sqlite");
  const auto options = std::make_shared<RescueOptions>();
  command->add_option("record", options->damaged, "The damaged record")
      ->type_name("FILE")
      ->required();
  command->add_option("--out", options->out, "The new record; must not be there yet")
      ->type_name("FILE")
      ->required();
  command->callback([=, &work] { work = [=] { return run_rescue(*options); }; });
}

}  // namespace scantling
