#pragma once

#include <CLI/CLI.hpp>

#include <functional>

namespace plumbline
{

/** Each adds its subcommand to the program. The act to run, if that subcommand was chosen, is left in `act`;
    it returns the program's exit. */
using Act = std::function<int()>;

void addStimulusCommand(CLI::App& app, Act& act);
void addAnalyseCommand(CLI::App& app, Act& act);
void addAddCommand(CLI::App& app, Act& act);
void addCompareCommand(CLI::App& app, Act& act);
void addPracticeCommand(CLI::App& app, Act& act);

}
