#include "Files/UserFolder.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

namespace
{
std::filesystem::path below(juce::File::SpecialLocationType place)
{
    return juce::File::getSpecialLocation(place).getChildFile("Plumbline").getFullPathName().toStdString();
}
}

std::filesystem::path userSettingsFolder()
{
    const auto asked = juce::SystemStats::getEnvironmentVariable("PLUMBLINE_SETTINGS", {});
    return asked.isNotEmpty() ? std::filesystem::path(asked.toStdString())
                              : below(juce::File::userApplicationDataDirectory);
}

std::filesystem::path usualTrialsFolder()
{
    return below(juce::File::userDocumentsDirectory);
}

}
