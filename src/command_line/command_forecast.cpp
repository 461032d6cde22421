#include "command_line/commands.h"

namespace scantling {

void add_forecast_command(CLI::App&, Work&) {}

}  // namespace scantling
