#include "Command/Commands.h"
#include "Command/Console.h"
#include "Files/Version.h"

#include <exception>
#include <iostream>

namespace plumbline
{

namespace
{

/** The subcommand that was being read when the words went wrong, for the hint. */
std::string chosenCommand(const CLI::App& app)
{
    const auto chosen = app.get_subcommands();
    return chosen.empty() ? std::string() : chosen.front()->get_name();
}

int run(int argc, char** argv)
{
    CLI::App app{ "Plumbline measures monitors where they stand: it makes a stimulus, analyses what came "
                  "back, keeps it "
                  "in a trial, and compares its stances.",
                  "plumbline" };
    app.set_version_flag("--version", std::string("Plumbline ") + programVersion);
    app.require_subcommand(1);
    Act act;
    addStimulusCommand(app, act);
    addAnalyseCommand(app, act);
    addAddCommand(app, act);
    addPracticeCommand(app, act);
    addCompareCommand(app, act);
    try
    {
        app.parse(argc, argv);
    }
    catch (const CLI::ParseError& error)
    {
        if (error.get_exit_code() == 0)
            return app.exit(error); // --help, --version
        return console::misused(error.what(), chosenCommand(app));
    }
    const int exit = act();
    if (!std::cout.flush())
    {
        std::cerr << "plumbline: The output could not be written." << std::endl;
        return console::failed;
    }
    return exit;
}

}

}

int main(int argc, char** argv)
{
    try
    {
        return plumbline::run(argc, argv);
    }
    catch (const std::bad_alloc&)
    {
        std::cerr << "plumbline: There is not enough memory for this." << std::endl;
    }
    catch (const std::exception& error)
    {
        std::cerr << "plumbline: Something unforeseen went wrong (" << error.what() << ")." << std::endl;
    }
    return plumbline::console::failed;
}
