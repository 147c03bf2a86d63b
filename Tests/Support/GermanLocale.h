#pragma once

#include "Support/ChildProcess.h"
#include "Support/TemporaryFolder.h"

#include <clocale>
#include <cstdio>
#include <cstring>

namespace plumbline::test
{

/** A locale whose decimal mark is a comma, for a scope. If the system has none it is made, once, by localedef
    in a temporary folder; where that cannot be done either, `there()` is false and a test must say so. */
class GermanLocale
{
public:
    GermanLocale()
    {
        former = std::setlocale(LC_ALL, nullptr);
        active = choose() || (setenv("LOCPATH", builtFolder().c_str(), 1) == 0 && choose());
    }

    ~GermanLocale()
    {
        std::setlocale(LC_ALL, former.c_str());
        unsetenv("LOCPATH");
    }

    GermanLocale(const GermanLocale&) = delete;
    GermanLocale& operator=(const GermanLocale&) = delete;

    bool there() const noexcept { return active; }

    static constexpr const char* name = "de_DE.UTF-8";

private:
    static bool choose()
    {
        char text[8] = "";
        return std::setlocale(LC_ALL, name) != nullptr &&
               std::snprintf(text, sizeof text, "%.1f", 1.5) == 3 && std::strcmp(text, "1,5") == 0;
    }

    /** Where the locale was made; an empty folder if it could not be. */
    static const std::filesystem::path& builtFolder()
    {
        static const TemporaryFolder folder;
        [[maybe_unused]] static const auto end = runInChild(
            []
            {
                const auto target = (folder / name).string();
                if (std::freopen("/dev/null", "w", stdout) == nullptr ||
                    std::freopen("/dev/null", "w", stderr) == nullptr)
                    return 1;
                execlp("localedef", "localedef", "-i", "de_DE", "-f", "UTF-8", target.c_str(),
                       static_cast<char*>(nullptr));
                return 1;
            });
        return folder.path();
    }

    std::string former;
    bool active = false;
};

inline constexpr const char* whyNoGermanLocale =
    "There is no locale with a decimal comma here, and none can be made: "
    "what depends on it was not checked";

}
