#include "Editor/StageThread.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr int halfWidth = 8;
constexpr float bobTop = place::headerHeight - 5.0f, bobSize = 7.5f;

}

StageThread::StageThread(WindowContext& windowContext) : Part(windowContext)
{
    setInterceptsMouseClicks(false, false);
    setAccessible(false); // the stage itself says that it is chosen
}

void StageThread::hangAt(float x, bool slide)
{
    target = x;
    if (!slide || juce::approximatelyEqual(x, here))
    {
        stopTimer();
        putAt(x);
        return;
    }
    from = here;
    began = juce::Time::getMillisecondCounterHiRes();
    startTimerHz(60);
}

void StageThread::moveOn(double nowMs)
{
    const auto part = std::clamp((nowMs - began) / slideMs, 0.0, 1.0);
    const auto eased = static_cast<float>(part * part * (3.0 - 2.0 * part));
    if (part >= 1.0)
        stopTimer();
    putAt(from + (target - from) * eased);
}

void StageThread::putAt(float x)
{
    here = x;
    setBounds(static_cast<int>(std::floor(x)) - halfWidth, 0, 2 * halfWidth + 1, height);
    repaint();
}

void StageThread::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    const auto x = here - static_cast<float>(getX());
    pen.line(x, 0.0f, x, bobTop, palette().ink, 1.25f);
    pen.bob(x, bobTop, bobSize);
}

}
