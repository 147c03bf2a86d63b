// What could pass here for the wrong reason: nothing is asked of a host here; only the published set is
// pinned.

#include "Plugin/PlumblineProcessor.h"

#include <catch2/catch.hpp>

using namespace plumbline;

TEST_CASE("The published parameters and their order are these")
{
    PlumblineProcessor processor(AnalysisDrive::byHand);
    std::vector<std::string> ids;
    for (auto* parameter : processor.getParameters())
        ids.push_back(dynamic_cast<juce::AudioProcessorParameterWithID&>(*parameter).paramID.toStdString());
    CHECK(ids == std::vector<std::string>{ "level", "sweepSeconds", "startTake" });
}

TEST_CASE("The level begins at -40 dBFS and can never be set above the ceiling")
{
    PlumblineProcessor processor(AnalysisDrive::byHand);
    CHECK(processor.requestFromParameters().stimulus.levelDbfs == startLevelDbfs);
    CHECK(startLevelDbfs <= -40.0);
    processor.getParameters()[0]->setValue(1.0f);
    CHECK(processor.requestFromParameters().stimulus.levelDbfs == ceilingDbfs);
}
