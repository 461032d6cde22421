#pragma once

#include <CLI/App.hpp>
#include <functional>

namespace scantling {

/// A subcommand sets `work` when it is chosen; it runs after parsing and returns an exit status.
using Work = std::function<int()>;

/// One file a subcommand, command_NAME.cpp; each adds itself to the parser.
void add_sheet_command(CLI::App& app, Work& work);
void add_scale_command(CLI::App& app, Work& work);
void add_camera_command(CLI::App& app, Work& work);
void add_measure_command(CLI::App& app, Work& work);
void add_sort_command(CLI::App& app, Work& work);
void add_worn_command(CLI::App& app, Work& work);
void add_planes_command(CLI::App& app, Work& work);
void add_judge_command(CLI::App& app, Work& work);
void add_forecast_command(CLI::App& app, Work& work);
void add_gauge_command(CLI::App& app, Work& work);
void add_demo_command(CLI::App& app, Work& work);
void add_report_command(CLI::App& app, Work& work);
void add_jobs_command(CLI::App& app, Work& work);
void add_agreement_command(CLI::App& app, Work& work);
void add_rescue_command(CLI::App& app, Work& work);
void add_close_commands(CLI::App& app, Work& work);
void add_exchange_commands(CLI::App& app, Work& work);

}  // namespace scantling
