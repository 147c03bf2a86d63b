#pragma once

#include "Support/TemporaryFolder.h"

#include <cstdlib>

namespace plumbline::test
{

/** The user's settings in a folder of this test's own, so that no test reads or writes the user's. Trials go
    there too. */
class TemporarySettings
{
public:
    TemporarySettings()
    {
        if (const char* was = std::getenv("PLUMBLINE_SETTINGS"))
            before = was;
        setenv("PLUMBLINE_SETTINGS", folder.path().string().c_str(), 1);
        const auto trials = (folder / "trials").string();
        writeBytes(folder / "settings.json",
                   R"({"schema":"plumbline/settings/1","trialsFolder":")" + trials + "\"}");
    }

    ~TemporarySettings() { setenv("PLUMBLINE_SETTINGS", before.c_str(), 1); }

    TemporarySettings(const TemporarySettings&) = delete;
    TemporarySettings& operator=(const TemporarySettings&) = delete;

    std::filesystem::path path() const { return folder.path(); }

private:
    TemporaryFolder folder;
    std::string before;
};

}
