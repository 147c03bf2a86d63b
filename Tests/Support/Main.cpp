#define CATCH_CONFIG_RUNNER
#include "Support/TemporarySettings.h"

#include <catch2/catch.hpp>
#include <optional>

/** The settings of whoever runs the tests are never touched. A test that calls this program again chooses the
    settings itself. */
int main(int argc, char* argv[])
{
    std::optional<plumbline::test::TemporarySettings> settings;
    if (std::getenv("PLUMBLINE_TESTS_RUN") == nullptr)
        settings.emplace();
    setenv("PLUMBLINE_TESTS_RUN", "1", 1);
    return Catch::Session().run(argc, argv);
}
