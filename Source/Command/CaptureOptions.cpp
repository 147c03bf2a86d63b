#include "Command/CaptureOptions.h"

#include "Files/Json.h"
#include "Files/StimulusFile.h"
#include "Files/WavFile.h"

#include <charconv>
#include <cmath>
#include <filesystem>

namespace plumbline
{

void addCaptureOptions(CLI::App& command, CaptureOptions& options)
{
    command.add_option("capture", options.capture, "WAV: a recording of the stimulus being played")
        ->required();
    command
        .add_option("--stimulus", options.stimulus,
                    "The .json written beside the stimulus; or a take's capture.json, which also knows the "
                    "reference, the "
                    "calibration, the temperature and when the stimulus began")
        ->required();
    command.add_option("--microphone-channel", options.microphoneChannel, "Channel of the microphone")
        ->check(CLI::Range(1, 256))
        ->capture_default_str();
    command
        .add_option("--reference-channel", options.referenceChannel,
                    "Channel of the electrical loopback: of both sides summed, or of the left alone; without "
                    "it the stimulus "
                    "itself is the reference")
        ->check(CLI::Range(1, 256));
    command.add_option("--calibration", options.calibration,
                       "The microphone's own response: lines of Hz, dB and, if known, degrees");
    command.add_option("--sensitivity", options.sensitivityDbSpl, "SPL in dB of a 0 dBFS sine")
        ->check(CLI::Range(0.0, 250.0));
    command
        .add_option("--temperature", options.temperatureC, "Of the air, in degrees Celsius; 20 if not known")
        ->check(CLI::Range(-20.0, 60.0));
}

std::string misuseOf(const CaptureOptions& options)
{
    if (!std::isfinite(options.sensitivityDbSpl.value_or(0.0)) ||
        !std::isfinite(options.temperatureC.value_or(0.0)))
        return "--sensitivity and --temperature take a number";
    if (options.referenceChannel == options.microphoneChannel)
        return "--reference-channel must be another channel than the microphone's";
    return {};
}

namespace
{
std::optional<Problem> faultOfChannel(const WavAudio& audio, int channel, const std::string& file)
{
    const auto count = audio.channels.size();
    if (static_cast<std::size_t>(channel) <= count)
        return std::nullopt;
    return Problem{ "no-such-channel",
                    "There is no channel " + std::to_string(channel) + ": the file has " +
                        std::to_string(count),
                    file, "Choose another channel" };
}

std::string hertz(double rate)
{
    return std::to_string(std::lround(rate)) + " Hz";
}
}

namespace
{
Result<MicrophoneSetting> readMicrophone(const CaptureOptions& options, const CaptureNotes& notes)
{
    MicrophoneSetting setting;
    setting.sensitivityDbSpl = options.sensitivityDbSpl ? options.sensitivityDbSpl : notes.sensitivityDbSpl;
    setting.temperatureC = options.temperatureC.value_or(notes.temperatureC.value_or(setting.temperatureC));
    setting.calibration = notes.calibration;
    if (options.calibration.empty())
        return setting;
    const auto text = readTextFile(options.calibration, 4u << 20);
    if (!text)
        return text.problem();
    auto calibration = parseCalibration(options.calibration, *text);
    if (!calibration)
        return calibration.problem();
    setting.calibration = std::move(*calibration);
    return setting;
}

Result<Capture> captureFrom(const CaptureOptions& options, const CaptureNotes& notes, WavAudio audio)
{
    const auto& stimulus = notes.stimulus;
    if (audio.sampleRateHz != stimulus.spec.sampleRateHz)
        return Problem{ "other-rate",
                        "The recording is at " + hertz(audio.sampleRateHz) + ", the stimulus at " +
                            hertz(stimulus.spec.sampleRateHz),
                        options.capture,
                        "Record at the stimulus' rate, or make a stimulus of the recorder's" };
    const int reference =
        options.referenceChannel > 0 ? options.referenceChannel : notes.referenceChannel.value_or(0);
    if (reference == options.microphoneChannel)
        return Problem{ "same-channel",
                        "Channel " + std::to_string(reference) +
                            " is the reference and cannot be the microphone's channel too",
                        options.capture, "Choose another channel for one of them" };
    for (const int channel : { options.microphoneChannel, std::max(reference, 1) })
        if (auto fault = faultOfChannel(audio, channel, options.capture))
            return *fault;
    Capture capture;
    capture.stimulus = stimulus;
    capture.stimulusStart = notes.stimulusStart;
    capture.microphone = audio.channels[static_cast<std::size_t>(options.microphoneChannel - 1)];
    if (reference > 0)
        capture.reference = audio.channels[static_cast<std::size_t>(reference - 1)];
    return capture;
}
}

Result<ReadCapture> readCapture(const CaptureOptions& options)
{
    const auto notes = readCaptureNotes(options.stimulus);
    if (!notes)
        return notes.problem();
    auto microphone = readMicrophone(options, *notes);
    if (!microphone)
        return microphone.problem();
    auto audio = readWav(options.capture);
    if (!audio)
        return audio.problem();
    auto capture = captureFrom(options, *notes, std::move(*audio));
    if (!capture)
        return capture.problem();
    return ReadCapture{ std::move(*capture), std::move(*microphone) };
}

std::optional<OctaveFraction> parseSmoothing(const std::string& text)
{
    if (text == "none")
        return OctaveFraction{ 0 };
    int perOctave = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), perOctave);
    if (error != std::errc() || end != text.data() + text.size() || perOctave < 1 || perOctave > 48)
        return std::nullopt;
    return OctaveFraction{ perOctave };
}

std::optional<WindowChoice> parseWindow(const std::string& text)
{
    if (text == "auto")
        return WindowChoice{};
    if (text == "full")
        return WindowChoice{ WindowChoice::Kind::full, 0.0 };
    double milliseconds = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), milliseconds);
    if (error != std::errc() || end != text.data() + text.size() ||
        !(milliseconds > 0.0 && milliseconds <= 10000.0))
        return std::nullopt;
    return WindowChoice{ WindowChoice::Kind::fixed, milliseconds };
}

}
