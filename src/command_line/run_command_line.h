#pragma once

namespace scantling {

/// The whole program: opens the app without arguments or with only file names, else runs the
/// subcommand. Returns the process's exit status.
int run_command_line(int argc, char** argv);

}  // namespace scantling
