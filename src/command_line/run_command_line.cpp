#include "command_line/run_command_line.h"

#include <CLI/CLI.hpp>
#include <clocale>
#include <cstdio>
#include <exception>

#include "app/run_app.h"
#include "base/version.h"
#include "command_line/commands.h"
#include "command_line/exit_status.h"
#include "record/record.h"

namespace scantling {

int run_command_line(int argc, char** argv) {
  CLI::App app{
      "Scantling measures brake discs and pads from photographs taken with a printed card.\n"
      "Without a subcommand it opens the desktop app, on PHOTO... where given.",
      "scantling"};
  app.set_version_flag("--version", std::string("scantling ") + kVersion);
  app.require_subcommand(0, 1);
  AppOptions window;
  app.add_option("--record", window.record, "The job record to open (a file; made when missing)");
  app.add_option("photos", window.photos, "Photos to open in the desktop app");

  Work work;
  add_sheet_command(app, work);
  add_scale_command(app, work);
  add_camera_command(app, work);
  add_measure_command(app, work);
  add_sort_command(app, work);
  add_worn_command(app, work);
  add_planes_command(app, work);
  add_judge_command(app, work);
  add_forecast_command(app, work);
  add_gauge_command(app, work);
  add_demo_command(app, work);
  add_report_command(app, work);
  add_jobs_command(app, work);
  add_agreement_command(app, work);
  add_close_commands(app, work);
  add_exchange_commands(app, work);
  add_rescue_command(app, work);

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? kDone : kWrongUsage;
  }
  try {
    if (work) return work();
    return run_app(window);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "scantling: %s\n", error.what());
    return kInternalFault;
  }
}

}  // namespace scantling
