#include "command_line/commands.h"

namespace scantling {

void add_jobs_command(CLI::App&, Work&) {}

}  // namespace scantling
