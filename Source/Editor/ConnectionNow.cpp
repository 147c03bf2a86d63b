#include "Editor/ConnectionNow.h"

#include "Editor/CaptureSayings.h"
#include "Editor/FirstSteps.h"

namespace plumbline
{

ConnectionNow::ConnectionNow(WindowContext& windowContext)
    : Part(windowContext), microphone(windowContext, "Microphone"), loopback(windowContext, "Loopback")
{
    addAndMakeVisible(microphone);
    addAndMakeVisible(loopback);
    setInterceptsMouseClicks(false, true);
    viewChanged();
}

juce::String ConnectionNow::words() const
{
    if (!context.live.returnConnected)
        return rateWords(context.live) + " Nothing is connected to the Return. " + returnRouting();
    return rateWords(context.live) + " The Return is connected: channel 1 is the microphone, channel 2 the "
                                     "loopback. It is never passed to the output.";
}

void ConnectionNow::viewChanged()
{
    drawn = words();
    setTitle("What is connected");
    setDescription(drawn);
    repaint();
}

void ConnectionNow::liveChanged()
{
    microphone.feed(context.live.microphonePeakDbfs);
    loopback.feed(context.live.loopbackPeakDbfs);
    if (words() != drawn)
        viewChanged();
}

void ConnectionNow::resized()
{
    microphone.setTopLeftPosition(-Meter::lineFromLeft, getHeight() - Meter::height - 2);
    loopback.setTopLeftPosition(Meter::width + 40 - Meter::lineFromLeft, getHeight() - Meter::height - 2);
    microphone.setSize(Meter::width, Meter::height);
    loopback.setSize(Meter::width, Meter::height);
}

void ConnectionNow::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    pen.text(0.0f, 12.0f, "What is connected", 14.0f, palette().ink, Weight::semibold);
    pen.paragraph(0.0f, 34.0f, drawn, static_cast<float>(width) - 4.0f, 14.0f, 19.0f, palette().second,
                  Weight::semibold);
}

}
