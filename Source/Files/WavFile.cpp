#include "Files/WavFile.h"

#include <juce_audio_formats/juce_audio_formats.h>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

Problem refused(const fs::path& file, const char* code, const std::string& what, const std::string& remedy)
{
    return { code, what, file.string(), remedy };
}

std::optional<Problem> faultOfFile(const fs::path& file)
{
    std::error_code error;
    if (fs::is_directory(file, error))
        return refused(file, "is-a-folder", "This is a folder, not a WAV file", "Give a file");
    if (!fs::exists(file, error))
        return refused(file, "missing", "There is no such file", "Check the name");
    return std::nullopt;
}

std::optional<Problem> faultOfContent(const fs::path& file, const juce::AudioFormatReader& reader, juce::int64 bytes)
{
    const auto frame = static_cast<juce::int64>(reader.numChannels) * reader.bitsPerSample / 8;
    if (reader.lengthInSamples <= 0 || frame <= 0)
        return refused(file, "empty", "The WAV file holds no samples", "Record it again");
    if (reader.lengthInSamples > bytes / frame)
        return refused(file, "cut-short", "The WAV file is cut short: its header promises more than it holds",
                       "Export or copy it again");
    constexpr double mostSeconds = 600.0;
    if (static_cast<double>(reader.lengthInSamples) > mostSeconds * reader.sampleRate)
        return refused(file, "too-long", "The recording is longer than ten minutes", "Cut it to one playing of the stimulus");
    return std::nullopt;
}

}

Result<WavAudio> readWav(const fs::path& file)
{
    if (auto fault = faultOfFile(file))
        return *fault;
    auto stream = std::make_unique<juce::FileInputStream>(juce::File(juce::String::fromUTF8(fs::absolute(file).string().c_str())));
    if (stream->failedToOpen())
        return refused(file, "unreadable", "The file cannot be read", "Check its permissions");
    const auto bytes = stream->getTotalLength();
    juce::WavAudioFormat format;
    const std::unique_ptr<juce::AudioFormatReader> reader(format.createReaderFor(stream.release(), true));
    if (reader == nullptr)
        return refused(file, "not-a-wav", "This is not a WAV file that can be read",
                       "Give a WAV of 16, 24 or 32-bit integers or 32-bit floats");
    if (auto fault = faultOfContent(file, *reader, bytes))
        return *fault;
    const auto length = static_cast<int>(reader->lengthInSamples);
    juce::AudioBuffer<float> buffer(static_cast<int>(reader->numChannels), length);
    if (!reader->read(&buffer, 0, length, 0, true, true))
        return refused(file, "unreadable", "The samples cannot be read", "Export or copy it again");
    WavAudio audio;
    audio.sampleRateHz = reader->sampleRate;
    for (int c = 0; c < buffer.getNumChannels(); ++c)
        audio.channels.emplace_back(buffer.getReadPointer(c), buffer.getReadPointer(c) + length);
    return audio;
}

std::string floatWavBytes(const WavAudio& audio)
{
    juce::MemoryBlock block;
    juce::WavAudioFormat format;
    {
        auto stream = std::make_unique<juce::MemoryOutputStream>(block, false);
        const std::unique_ptr<juce::AudioFormatWriter> writer(
            format.createWriterFor(stream.get(), audio.sampleRateHz, static_cast<unsigned>(audio.channels.size()), 32, {}, 0));
        jassert(writer != nullptr);
        stream.release(); // the writer owns it now
        std::vector<const float*> channels;
        for (const auto& channel : audio.channels)
            channels.push_back(channel.data());
        writer->writeFromFloatArrays(channels.data(), static_cast<int>(channels.size()), static_cast<int>(audio.length()));
    }
    return { static_cast<const char*>(block.getData()), block.getSize() };
}

}
