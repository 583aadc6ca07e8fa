#pragma once

#include <CLI/CLI.hpp>
#include <functional>

namespace canewise {

/// Each adds its verb to the command and returns what to run if that verb was given.
[[nodiscard]] std::function<void()> add_measure_command(CLI::App& app);
[[nodiscard]] std::function<void()> add_target_command(CLI::App& app);
[[nodiscard]] std::function<void()> add_convert_command(CLI::App& app);
[[nodiscard]] std::function<void()> add_calibrate_command(CLI::App& app);
[[nodiscard]] std::function<void()> add_player_command(CLI::App& app);
[[nodiscard]] std::function<void()> add_compare_command(CLI::App& app);
[[nodiscard]] std::function<void()> add_serve_command(CLI::App& app);
[[nodiscard]] std::function<void()> add_demo_command(CLI::App& app);

}  // namespace canewise
