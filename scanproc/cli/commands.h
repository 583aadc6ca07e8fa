#pragma once

#include <CLI/CLI.hpp>
#include <functional>

#include "scanproc/words/speech.h"

namespace canewise {

/// Each adds its verb to the command and returns what to run if that verb was given. Help and results speak `speech`.
[[nodiscard]] std::function<void()> add_measure_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_target_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_convert_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_calibrate_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_player_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_compare_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_bend_test_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_ledger_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_box_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_reed_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_trial_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_today_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_place_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_serve_command(CLI::App& app, const Speech& speech);
[[nodiscard]] std::function<void()> add_demo_command(CLI::App& app, const Speech& speech);
/// Not for people: makes a page of what `serve` hands it.
[[nodiscard]] std::function<void()> add_page_command(CLI::App& app, const Speech& speech);

}  // namespace canewise
