#include "Files/TrialLock.h"

#include "Files/Json.h"
#include "Files/Version.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

std::string computerName()
{
    return juce::SystemStats::getComputerName().toStdString();
}

/** One line that a person can read: "Plumbline 1.0, process 12 on NAME, since TIME". */
std::string ownWords()
{
    return std::string("Plumbline ") + programVersion + ", process " +
           std::to_string(FileLock::processNumber()) + " on " + computerName() + ", since " +
           juce::Time::getCurrentTime().toISO8601(true).toStdString();
}

/** Who holds it, as far as the file tells. */
std::string holderWords(const fs::path& file)
{
    const auto text = readTextFile(file, 4096);
    auto words = text ? text->substr(0, text->find('\n')) : std::string();
    if (words.rfind("Plumbline ", 0) != 0)
        return "Another Plumbline";
    const auto mine =
        ", process " + std::to_string(FileLock::processNumber()) + " on " + computerName() + ",";
    return words.find(mine) != std::string::npos ? "Another Plumbline in this same program" : words;
}

}

TrialLock::Attempt TrialLock::take(const fs::path& folder)
{
    const auto file = folder / fileName;
    auto attempt = FileLock::tryHold(file);
    switch (attempt.refusal)
    {
    case FileLock::Refusal::held:
        return { nullptr,
                 Problem{ "trial-in-use", holderWords(file) + " writes in this trial: here it is read only",
                          folder.string(), "Close it there to write here" },
                 std::nullopt };
    case FileLock::Refusal::notWritable:
        return { nullptr,
                 Problem{ "read-only-folder",
                          "This folder cannot be written (" + attempt.why + "): the trial is read only",
                          folder.string(),
                          "Check the disk and the folder's permissions, or save it elsewhere" },
                 std::nullopt };
    case FileLock::Refusal::unsupported:
        return { std::unique_ptr<TrialLock>(new TrialLock(nullptr)), std::nullopt,
                 Problem{ "no-locks",
                          "This disk cannot keep a second Plumbline from writing here (" + attempt.why + ")",
                          folder.string(), "Open the trial in one place at a time" } };
    case FileLock::Refusal::none:
        break;
    }
    attempt.lock->write(ownWords() + "\n");
    return { std::unique_ptr<TrialLock>(new TrialLock(std::move(attempt.lock))), std::nullopt, std::nullopt };
}

}
