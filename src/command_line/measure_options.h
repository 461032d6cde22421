#pragma once

#include <CLI/App.hpp>
#include <memory>
#include <optional>
#include <string>

#include "dimension/analysis.h"

namespace scantling {

/// What the measuring commands ask about the photos, as typed.
struct MeasureArguments {
  std::string view;
  std::optional<std::string> card;
  std::optional<std::string> sheet_scale;
  std::optional<std::string> offset;
  std::optional<std::string> camera;
  std::optional<double> disc_diameter_mm;
};

/// Adds the options; `arguments` must outlive the parsing.
void add_measure_arguments(CLI::App& command, MeasureArguments& arguments);

/// Only those that do not depend on the view: scale, offset, diameter, camera.
void add_common_arguments(CLI::App& command, MeasureArguments& arguments);

/// The profile named by the user, else those in the user's data folder; what can't be used there is
/// told on standard error. @throws CLI::ValidationError where the named file is no profile.
std::shared_ptr<const CameraShelf> camera_shelf_from(const std::optional<std::string>& file);

/// "SX,SY[,U]" as typed after `option`. @throws CLI::ValidationError
SheetScale sheet_scale_from(const char* option, const std::string& text);

/// @throws CLI::ValidationError naming the option and what to write instead.
MeasureOptions measure_options_from(const MeasureArguments& arguments);

}  // namespace scantling
