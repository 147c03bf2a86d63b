// What could pass here for the wrong reason: state that is ignored; so a sound state is seen to be taken too.

#include "Plugin/PlumblineProcessor.h"

#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;

namespace
{
std::string stateOf(PlumblineProcessor& processor)
{
    juce::MemoryBlock block;
    processor.getStateInformation(block);
    return block.toString().toStdString();
}

void restore(PlumblineProcessor& processor, const std::string& text)
{
    processor.setStateInformation(text.data(), static_cast<int>(text.size()));
}
}

TEST_CASE("A session keeps the sweep length, and never a level above the start")
{
    PlumblineProcessor first(AnalysisDrive::byHand), second(AnalysisDrive::byHand);
    first.getParameters()[0]->setValueNotifyingHost(1.0f); // the ceiling
    first.getParameters()[1]->setValueNotifyingHost(0.5f);
    restore(second, stateOf(first));
    CHECK(second.requestFromParameters().stimulus.levelDbfs == startLevelDbfs);
    CHECK(second.requestFromParameters().stimulus.seconds == first.requestFromParameters().stimulus.seconds);
    CHECK(second.requestFromParameters().stimulus.seconds == Approx(15.5));
    first.getParameters()[0]->setValueNotifyingHost(0.0f); // -80 dBFS: quieter is kept
    restore(second, stateOf(first));
    CHECK(second.requestFromParameters().stimulus.levelDbfs == Approx(-80.0));
}

TEST_CASE("Empty, foreign, newer, oversized and damaged states give defaults and no crash")
{
    PlumblineProcessor processor(AnalysisDrive::byHand);
    const auto sound = stateOf(processor);
    std::vector<std::string> bad{ "",
                                  "{",
                                  "[]",
                                  "null",
                                  "{\"schema\":\"plumbline/host-state/2\",\"sweepSeconds\":9}",
                                  "{\"schema\":\"plumbline/host-state/1\",\"sweepSeconds\":1e99}",
                                  "{\"schema\":\"plumbline/host-state/1\",\"levelDbfs\":\"loud\"}",
                                  std::string(300000, ' ') + sound,
                                  std::string(100000, '[') };
    for (const auto& text : bad)
    {
        processor.getParameters()[1]->setValueNotifyingHost(1.0f);
        restore(processor, text);
        CHECK(processor.requestFromParameters().stimulus.seconds == 5.0);
        CHECK(processor.requestFromParameters().stimulus.levelDbfs == startLevelDbfs);
    }
}

TEST_CASE("Ten thousand damaged states: no crash, and every value stays in its range")
{
    PlumblineProcessor processor(AnalysisDrive::byHand);
    const auto sound = stateOf(processor);
    Random random(21);
    for (int i = 0; i < 10000; ++i)
    {
        auto text = sound.substr(0, 1 + random.bits() % sound.size());
        for (int flips = static_cast<int>(random.bits() % 4); flips > 0; --flips)
            text[random.bits() % text.size()] = static_cast<char>(random.bits());
        restore(processor, text);
        const auto request = processor.requestFromParameters();
        const bool inRange = request.stimulus.levelDbfs <= startLevelDbfs &&
                             request.stimulus.levelDbfs >= -80.0 && request.stimulus.seconds >= 1.0 &&
                             request.stimulus.seconds <= 30.0;
        if (!inRange)
            FAIL("out of range after " << text);
    }
}
