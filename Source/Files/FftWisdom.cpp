#include "Files/FftWisdom.h"

#include "Dsp/Fft.h"
#include "Files/AtomicFile.h"
#include "Files/Json.h"
#include "Files/UserFolder.h"

#include <mutex>
#include <set>
#include <sstream>

namespace plumbline
{

namespace
{

std::filesystem::path wisdomFile()
{
    return userSettingsFolder() / "transforms.wisdom";
}

/** First line: the lengths that were measured; then FFTW's own text. */
struct Known
{
    std::set<std::size_t> lengths;
};

Known& known()
{
    static Known lengths;
    return lengths;
}

std::mutex& knownLock()
{
    static std::mutex lock;
    return lock;
}

/** Lock held. */
void recallOnce()
{
    static bool recalled = false;
    if (std::exchange(recalled, true))
        return;
    const auto text = readTextFile(wisdomFile(), 1u << 20);
    const auto line = text ? text->find('\n') : std::string::npos;
    if (line == std::string::npos || !Fft::adoptWisdom(text->substr(line + 1)))
        return;
    std::istringstream lengths(text->substr(0, line));
    for (std::size_t length; lengths >> length;)
        known().lengths.insert(length);
}

}

void recallTransforms()
{
    const std::scoped_lock lock(knownLock());
    recallOnce();
}

void learnTransform(std::size_t length, double limitSeconds)
{
    const std::scoped_lock lock(knownLock());
    recallOnce();
    if (!known().lengths.insert(length).second)
        return;
    Fft::tune(length, limitSeconds);
    std::string text;
    for (const auto measured : known().lengths)
        text += std::to_string(measured) + ' ';
    std::error_code error;
    const auto file = wisdomFile();
    std::filesystem::create_directories(file.parent_path(), error);
    // What cannot be kept is learnt again: nothing is lost but speed.
    static_cast<void>(writeFileWhole(file, text + '\n' + Fft::wisdom()));
}

}
