// Opens the window of a built bundle in JUCE's own hosting, on the display there is, while its audio runs:
//
//   plumbline_show_window VST3|LV2 SECONDS [OPENINGS]
//
// With OPENINGS the window is opened and closed so often first. Prints "shown WIDTH x HEIGHT" when it stands.
#include "Hosts/HostedPlugin.h"

#include <iostream>

using namespace plumbline::test;

namespace
{

/** Lets the plugin and its window live for so long, the audio in step with the clock. */
void liveFor(HostedPlugin& host, double seconds)
{
    const auto end = juce::Time::getMillisecondCounterHiRes() + 1000.0 * seconds;
    while (juce::Time::getMillisecondCounterHiRes() < end)
    {
        constexpr int step = 20;
        juce::MessageManager::getInstance()->runDispatchLoopUntil(step);
        host.run(0.001 * step * HostedPlugin::Options{}.rateHz);
    }
}

std::unique_ptr<juce::AudioProcessorEditor> opened(HostedPlugin& host)
{
    std::unique_ptr<juce::AudioProcessorEditor> editor(host.instance().createEditorIfNeeded());
    if (editor == nullptr)
        return nullptr;
    editor->addToDesktop(juce::ComponentPeer::windowHasTitleBar);
    editor->setTopLeftPosition(0, 0);
    editor->setVisible(true);
    return editor;
}

}

int main(int count, char** words)
{
    if (count < 3 || count > 4)
    {
        std::cerr << "usage: plumbline_show_window VST3|LV2 SECONDS [OPENINGS]\n";
        return 2;
    }
    HostedPlugin host(juce::String(words[1]) == "LV2" ? HostedFormat::lv2 : HostedFormat::vst3, {});
    if (!host.loaded())
    {
        std::cerr << host.why() << "\n";
        return 1;
    }
    for (int left = count == 4 ? std::atoi(words[3]) : 0; left > 0; --left)
    {
        const auto window = opened(host);
        liveFor(host, 0.1);
    }
    const auto window = opened(host);
    if (window == nullptr)
    {
        std::cerr << "the plugin has no window\n";
        return 1;
    }
    liveFor(host, 0.5);
    std::cout << "shown " << window->getWidth() << " x " << window->getHeight() << std::endl;
    liveFor(host, std::atof(words[2]));
    return host.mixPasses ? 0 : 1;
}
