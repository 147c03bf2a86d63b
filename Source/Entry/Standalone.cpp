#include "Editor/EditorFactory.h"
#include "Entry/DeviceToReturn.h"
#include "Entry/Interruption.h"
#include "Entry/StandaloneSettings.h"
#include "Entry/StandaloneWindow.h"
#include "Files/UserFolder.h"
#include "Files/Version.h"
#include "Plugin/PlumblineProcessor.h"

#include <cstdlib>
#include <iostream>

namespace plumbline
{

namespace
{

/** A processor that knows that no host is around it. */
std::unique_ptr<PlumblineProcessor> makeProcessor()
{
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Standalone);
    auto made = std::make_unique<PlumblineProcessor>(AnalysisDrive::thread, makeEditor);
    juce::AudioProcessor::setTypeOfNextNewPlugin(juce::AudioProcessor::wrapperType_Undefined);
    return made;
}

std::filesystem::path settingsFile()
{
    return userSettingsFolder() / "standalone.json";
}

/** Our own application: one processor, one audio device, one window. */
class StandaloneApplication final : public juce::JUCEApplication, private juce::Timer
{
public:
    const juce::String getApplicationName() override { return "Plumbline"; }

    const juce::String getApplicationVersion() override { return programVersion; }

    bool moreThanOneInstanceAllowed() override { return true; }

    void initialise(const juce::String&) override
    {
        interruption::takeOver();
        startTimerHz(10); // looks whether the system asked for an end
        const auto found = readStandaloneSettings(settingsFile());
        processor = makeProcessor();
        processor->setAudioSettingsOpener([this] { showAudioSettings(); });
        if (!found.settings.processorState.empty())
            processor->setStateInformation(found.settings.processorState.data(),
                                           static_cast<int>(found.settings.processorState.size()));
        driver = std::make_unique<DeviceToReturn>(*processor);
        const auto fault = openDevice(found.settings.audioDevice);
        window = std::make_unique<StandaloneWindow>(
            *processor, found.settings.window, [this] { systemRequestedQuit(); },
            [this] { showAudioSettings(); });
        say(found.problem ? found.problem->sentence() : std::string(), fault);
    }

    void shutdown() override
    {
        stopTimer();
        if (processor == nullptr)
            return;
        keepSettings();
        devices.removeAudioCallback(driver.get());
        audioSettings.reset();
        window.reset();
        devices.closeAudioDevice();
        driver.reset();
        processor.reset();
    }

    void systemRequestedQuit() override { quit(); }

private:
    void timerCallback() override
    {
        if (interruption::isAsked())
            systemRequestedQuit();
    }

    /** @return why there is no sound; empty if there is */
    juce::String openDevice(const std::string& remembered)
    {
        constexpr int channels = 2;
        const auto xml = remembered.empty() ? nullptr : juce::parseXML(juce::String(remembered));
        auto fault = devices.initialise(channels, channels, xml.get(), true);
        if (fault.isEmpty() && devices.getCurrentAudioDevice() == nullptr)
            fault = "none was found";
        devices.addAudioCallback(driver.get());
        return fault;
    }

    /** Says at the start what is not as it should be, in the window and where it was started from. */
    void say(const std::string& aboutSettings, const juce::String& aboutDevice)
    {
        juce::StringArray sentences;
        if (!aboutSettings.empty())
            sentences.add(aboutSettings);
        if (aboutDevice.isNotEmpty())
            sentences.add("No audio device could be opened: " + aboutDevice +
                          ". Choose one in Audio settings.");
        for (const auto& sentence : sentences)
            std::cerr << "plumbline-standalone: " << sentence << std::endl;
        window->setNotice(sentences.joinIntoString(" "));
    }

    void showAudioSettings()
    {
        if (audioSettings == nullptr)
            audioSettings = std::make_unique<AudioSettingsWindow>(devices, *window);
        audioSettings->setVisible(true);
        audioSettings->toFront(true);
    }

    void keepSettings() const
    {
        juce::MemoryBlock state;
        processor->getStateInformation(state);
        StandaloneSettings settings;
        settings.processorState.assign(static_cast<const char*>(state.getData()), state.getSize());
        if (const auto xml = devices.createStateXml())
            settings.audioDevice = xml->toString().toStdString();
        if (window != nullptr)
            settings.window = window->placement().toStdString();
        if (const auto written = writeStandaloneSettings(settingsFile(), settings); !written)
            std::cerr << "plumbline-standalone: " << written.problem().sentence() << std::endl;
    }

    std::unique_ptr<PlumblineProcessor> processor;
    std::unique_ptr<DeviceToReturn> driver;
    juce::AudioDeviceManager devices;
    std::unique_ptr<StandaloneWindow> window;
    std::unique_ptr<AudioSettingsWindow> audioSettings;
};

/** Whether a window can be opened. The window library ends the process if it cannot. */
bool displayThere()
{
#if JUCE_LINUX || JUCE_BSD
    juce::DynamicLibrary x11;
    if (!x11.open("libX11.so.6") && !x11.open("libX11.so"))
        return false;
    const auto open = reinterpret_cast<void* (*) (const char*)>(x11.getFunction("XOpenDisplay"));
    const auto close = reinterpret_cast<int (*)(void*)>(x11.getFunction("XCloseDisplay"));
    void* display = open != nullptr && close != nullptr ? open(nullptr) : nullptr;
    if (display == nullptr)
        return false;
    close(display);
#endif
    return true;
}

juce::JUCEApplicationBase* makeApplication()
{
    return new StandaloneApplication;
}

/** @return the exit status, or nothing if the application is to run */
std::optional<int> answerWithoutWindow(const juce::StringArray& words)
{
    constexpr int wrongUse = 2, failed = 1;
    if (words.contains("--help") || words.contains("-h"))
    {
        std::cout
            << "plumbline-standalone [--version] [--help]\n\n"
               "Plumbline in a window of its own. The audio device's inputs 1 and 2 are the Return: the\n"
               "microphone, and the loopback of the output if there is one. They are never played.\n";
        return 0;
    }
    if (words.contains("--version"))
    {
        std::cout << "Plumbline " << programVersion << "\n";
        return 0;
    }
    if (!words.isEmpty())
    {
        std::cerr << "plumbline-standalone: it does not know \"" << words[0] << "\". See --help.\n";
        return wrongUse;
    }
    if (displayThere())
        return std::nullopt;
    std::cerr << "plumbline-standalone: there is no display to open a window on. Start it from a desktop, or "
                 "set DISPLAY; without a display use the console program plumbline.\n";
    return failed;
}

}

}

JUCE_MAIN_FUNCTION
{
#if !JUCE_WINDOWS
    if (const auto status = plumbline::answerWithoutWindow(juce::StringArray(argv + 1, argc - 1)))
        return *status;
#endif
    juce::JUCEApplicationBase::createInstance = &plumbline::makeApplication;
    return juce::JUCEApplicationBase::main(JUCE_MAIN_FUNCTION_ARGS);
}
