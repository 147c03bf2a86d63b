// What could pass here for the wrong reason: what this process learnt itself, taken for what it read from
// the file; and the settings of whoever runs the tests. So each act runs in a process of its own, this
// program called again for one hidden case, with the settings' folder moved to a temporary one by
// PLUMBLINE_SETTINGS. That a length was not learnt again shows in the file: it would be another one (a new
// file takes the old one's place).

#include "Files/FftWisdom.h"

#include "Dsp/Fft.h"
#include "Support/ChildProcess.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>
#include <fcntl.h>
#include <sstream>
#include <sys/stat.h>

using namespace plumbline;
using namespace plumbline::test;
namespace fs = std::filesystem;

namespace
{

constexpr std::size_t learntLength = 486, otherLength = 1250;

/** Runs one hidden case of this program in a new process, with its settings in `settings`. */
ChildEnd runCase(const std::string& name, const fs::path& settings)
{
    return runInChild(
        [&]
        {
            const int nowhere = open("/dev/null", O_WRONLY);
            if (nowhere < 0 || dup2(nowhere, STDOUT_FILENO) < 0)
                return 97;
            setenv("PLUMBLINE_SETTINGS", settings.c_str(), 1);
            execl("/proc/self/exe", "plumbline tests", name.c_str(), "--warn", "NoTests",
                  static_cast<char*>(nullptr));
            return 96;
        },
        120);
}

struct Settings
{
    TemporaryFolder folder;
    fs::path file = folder / "transforms.wisdom";

    std::string run(const std::string& name) const
    {
        return runCase("child: " + name, folder.path()).words();
    }

    std::string text() const { return readBytes(file); }

    ino_t number() const
    {
        struct stat status = {};
        REQUIRE(stat(file.c_str(), &status) == 0);
        return status.st_ino;
    }

    std::set<std::size_t> lengths() const
    {
        std::istringstream line(text().substr(0, text().find('\n')));
        std::set<std::size_t> found;
        for (std::size_t length; line >> length;)
            found.insert(length);
        return found;
    }

    /** What stands after the first line. */
    std::string wisdom() const { return text().substr(text().find('\n') + 1); }
};

}

TEST_CASE("child: learns a transform", "[.child]")
{
    REQUIRE(std::getenv("PLUMBLINE_SETTINGS") != nullptr);
    learnTransform(learntLength, 0.05);
    learnTransform(learntLength, 0.05);
}

TEST_CASE("child: learns another transform", "[.child]")
{
    REQUIRE(std::getenv("PLUMBLINE_SETTINGS") != nullptr);
    learnTransform(otherLength, 0.05);
}

TEST_CASE("child: recalls what was learnt", "[.child]")
{
    REQUIRE(std::getenv("PLUMBLINE_SETTINGS") != nullptr);
    const auto before = Fft::wisdom();
    recallTransforms();
    CHECK(Fft::wisdom().size() > before.size());
    recallTransforms();
}

TEST_CASE("child: finds nothing to recall", "[.child]")
{
    REQUIRE(std::getenv("PLUMBLINE_SETTINGS") != nullptr);
    const auto before = Fft::wisdom();
    recallTransforms();
    CHECK(Fft::wisdom() == before);
}

TEST_CASE("A case that is not there would be noticed")
{
    CHECK(Settings().run("does nothing of the kind") != "exit 0");
}

TEST_CASE("What was learnt is kept in the folder that PLUMBLINE_SETTINGS names, made if need be")
{
    const Settings settings;
    REQUIRE(settings.run("learns a transform") == "exit 0");
    CHECK(settings.lengths() == std::set<std::size_t>{ learntLength });
    CHECK(settings.wisdom().rfind("(fftw-3", 0) == 0);
    CHECK(namesIn(settings.folder.path()) == std::set<std::string>{ "transforms.wisdom" });
    const auto deeper = settings.folder / "not" / "there yet";
    REQUIRE(runCase("child: learns a transform", deeper).words() == "exit 0");
    CHECK(namesIn(deeper) == std::set<std::string>{ "transforms.wisdom" });
}

TEST_CASE("A transform is learnt once, and recalled by later processes")
{
    const Settings settings;
    CHECK(settings.run("finds nothing to recall") == "exit 0");
    CHECK_FALSE(fs::exists(settings.file));
    REQUIRE(settings.run("learns a transform") == "exit 0");
    const auto number = settings.number();
    const auto text = settings.text();
    fs::create_hard_link(settings.file,
                         settings.folder / "held"); // so that its number is not given to another file
    CHECK(settings.run("learns a transform") == "exit 0");
    CHECK(settings.number() == number);
    CHECK(settings.text() == text);
    CHECK(settings.run("recalls what was learnt") == "exit 0");
    CHECK(settings.number() == number);
    CHECK(settings.run("learns another transform") == "exit 0");
    CHECK(settings.number() != number);
    CHECK(settings.lengths() == std::set<std::size_t>{ learntLength, otherLength });
    CHECK(settings.wisdom().size() > text.size() - text.find('\n') - 1);
}

TEST_CASE("A damaged file is ignored, and written anew when something is learnt")
{
    const Settings good;
    REQUIRE(good.run("learns a transform") == "exit 0");
    const auto text = good.text();
    const auto line = text.substr(0, text.find('\n') + 1);
    const std::pair<const char*, std::string> rows[] = {
        { "empty", "" },
        { "no line end", line.substr(0, line.size() - 1) },
        { "wisdom of nothing", line },
        { "other text", "These are not the lengths\nand this is no wisdom.\n" },
        { "cut short", text.substr(0, line.size() + (text.size() - line.size()) / 2) },
        { "another FFTW", line + "(fftw-9.9.9 fftw_wisdom #x0 #x0 #x0 #x0\n)\n" },
        { "bytes", std::string(2000, '\xff') + '\n' + std::string(2000, '\0') },
        { "nested", line + std::string(100000, '(') },
        { "too large", line + std::string(2u << 20, ' ') },
    };
    for (const auto& [name, damaged] : rows)
    {
        const Settings settings;
        writeBytes(settings.file, damaged);
        INFO(name);
        CHECK(settings.run("finds nothing to recall") == "exit 0");
        CHECK((settings.text() == damaged));
        CHECK(settings.run("learns a transform") == "exit 0");
        CHECK(settings.lengths() == std::set<std::size_t>{ learntLength });
        CHECK(settings.wisdom().rfind("(fftw-3", 0) == 0);
        CHECK(settings.run("recalls what was learnt") == "exit 0");
    }
}

TEST_CASE("Lengths that make no sense beside sound wisdom do no harm")
{
    const Settings settings;
    REQUIRE(settings.run("learns a transform") == "exit 0");
    writeBytes(settings.file, "-5 0 99999999999999999999999 x\n" + settings.wisdom());
    CHECK(settings.run("learns another transform") == "exit 0");
    CHECK(settings.lengths().contains(otherLength));
    CHECK(settings.wisdom().rfind("(fftw-3", 0) == 0);
}

TEST_CASE("Where nothing can be kept, nothing is lost but speed")
{
    const Settings settings;
    writeBytes(settings.folder / "file", "in the way");
    fs::create_directory(settings.file); // a folder in place of the file
    CHECK(settings.run("learns a transform") == "exit 0");
    CHECK(runCase("child: learns a transform", settings.folder / "file").words() == "exit 0");
    CHECK(runCase("child: learns a transform", "/proc").words() == "exit 0");
    CHECK(namesIn(settings.folder.path()) == std::set<std::string>{ "file", "transforms.wisdom" });
    CHECK(readBytes(settings.folder / "file") == "in the way");
}
