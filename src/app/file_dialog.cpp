#include "app/file_dialog.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cctype>
#include <sstream>
#include <stdexcept>

#include "app/outside_program.h"

namespace scantling {
namespace fs = std::filesystem;

std::vector<std::string> dialog_arguments(const FileQuestion& question) {
  std::vector<std::string> arguments = {"zenity", "--file-selection", "--title", question.title};
  if (question.folder) {
    arguments.push_back("--directory");
  } else if (question.save) {
    arguments.insert(arguments.end(),
                     {"--save", "--confirm-overwrite", "--filename", question.suggestion});
  } else {
    arguments.insert(arguments.end(), {"--multiple", "--separator", "\n"});
  }
  if (!question.patterns.empty()) {
    std::string filter = question.pattern_words + " |";
    for (const std::string& pattern : question.patterns) {
      filter += " " + pattern;
      // The dialog tells IMG_1.JPG from IMG_1.jpg; cameras write either.
      std::string capitals = pattern;
      for (char& c : capitals) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
      if (!question.save) filter += " " + capitals;
    }
    arguments.insert(arguments.end(), {"--file-filter", filter, "--file-filter", "All files | *"});
  }
  return arguments;
}

fs::path with_pattern_ending(fs::path file, const FileQuestion& question) {
  if (question.patterns.size() != 1) return file;
  const std::string ending = question.patterns.front().substr(question.patterns.front().find('.'));
  if (file.extension() != ending) file += ending;
  return file;
}

std::optional<fs::path> dialog_program() {
  return program_on_path("zenity");
}

std::vector<fs::path> ask_for_files(const fs::path& program, const FileQuestion& question,
                                    const std::atomic<bool>& stop) {
  int ends[2];
  if (pipe(ends) != 0) throw std::runtime_error("The file dialog could not be started.");
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, ends[1], STDOUT_FILENO);
  posix_spawn_file_actions_addclose(&actions, ends[0]);
  posix_spawn_file_actions_addclose(&actions, ends[1]);
  posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);

  std::vector<std::string> arguments = dialog_arguments(question);
  std::vector<char*> raw;
  raw.reserve(arguments.size() + 1);
  for (std::string& argument : arguments) raw.push_back(argument.data());
  raw.push_back(nullptr);
  pid_t child = 0;
  const int failed = posix_spawn(&child, program.c_str(), &actions, nullptr, raw.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  close(ends[1]);
  std::string answer;
  if (!failed) {
    char part[4096];
    for (ssize_t got = 1; got > 0;) {
      pollfd waiting{ends[0], POLLIN, 0};
      if (poll(&waiting, 1, 100) == 0) {
        if (stop) kill(child, SIGTERM);
        continue;
      }
      got = read(ends[0], part, sizeof part);
      if (got > 0) answer.append(part, static_cast<std::size_t>(got));
    }
  }
  close(ends[0]);
  if (failed) throw std::runtime_error("The file dialog could not be started.");
  int status = 0;
  waitpid(child, &status, 0);
  if (stop) return {};
  if (!WIFEXITED(status) || WEXITSTATUS(status) > 1)
    throw std::runtime_error("The file dialog ended unexpectedly. Drop the files on the window.");

  std::vector<fs::path> files;
  std::istringstream lines(answer);
  for (std::string line; std::getline(lines, line);)
    if (!line.empty()) files.emplace_back(line);
  return files;
}

}  // namespace scantling
