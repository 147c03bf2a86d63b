// What could pass here for the wrong reason: an option that is ignored where the default is what the test
// expects. Every channel holds another constant, every value given is no default, and what stands in
// capture.json differs from both.

#include "Command/CaptureOptions.h"

#include "Files/AnalysisFile.h"
#include "Files/StimulusFile.h"
#include "Files/WavFile.h"
#include "Support/GermanLocale.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;

namespace
{

const Stimulus& stimulus()
{
    static const auto made = []
    {
        StimulusSpec spec;
        spec.sampleRateHz = 24000.0;
        spec.seconds = 1.0;
        spec.band = { 20.0, 10000.0 };
        return designStimulus(spec).value();
    }();
    return made;
}

/** A folder with a recording of three channels (0.1, 0.2 and 0.3 all along), its stimulus, a take's
    capture.json and a calibration. */
struct Recording
{
    Recording()
    {
        const WavAudio audio{ 24000.0,
                              { std::vector<float>(50, 0.1f), std::vector<float>(50, 0.2f),
                                std::vector<float>(50, 0.3f) } };
        writeBytes(folder / "capture.wav", floatWavBytes(audio));
        writeBytes(folder / "S.json", toText(toJson(stimulus())));
        writeBytes(folder / "capture.json", toText(captureJson()));
        writeBytes(folder / "cal.txt", "20 1.5\n20000 -2.5\n");
        options.capture = (folder / "capture.wav").string();
        options.stimulus = (folder / "S.json").string();
    }

    static Json captureJson()
    {
        return { { "schema", "plumbline/capture/1" },
                 { "stimulus", toJson(stimulus()) },
                 { "stimulusStartSample", -31 },
                 { "microphoneChannel", 1 },
                 { "referenceChannel", 3 },
                 { "calibration",
                   { { "name", "Serial 17" },
                     { "points", { { 20.0, 4.5, nullptr }, { 20000.0, 5.5, nullptr } } } } },
                 { "sensitivityDbSpl", 118.25 },
                 { "temperatureC", 25.5 } };
    }

    void useTake() { options.stimulus = (folder / "capture.json").string(); }

    ReadCapture read() const
    {
        auto capture = readCapture(options);
        if (!capture)
            FAIL(capture.problem().sentence());
        return std::move(*capture);
    }

    /** Code and sentence of the refusal; empty if it was read. */
    std::string refusal() const
    {
        const auto capture = readCapture(options);
        return capture ? std::string() : capture.problem().code + ": " + capture.problem().sentence();
    }

    TemporaryFolder folder;
    CaptureOptions options;
};

/** Options as the program would read them from a command line; the error's words if it refuses. */
std::string parse(CaptureOptions& options, std::vector<std::string> arguments)
{
    CLI::App app;
    addCaptureOptions(app, options);
    std::reverse(arguments.begin(), arguments.end()); // CLI11 takes them from the end
    try
    {
        app.parse(arguments);
    }
    catch (const CLI::ParseError& error)
    {
        return std::string("refused: ") + error.what();
    }
    return {};
}

const std::vector<std::string> least{ "c.wav", "--stimulus", "S.json" };

std::vector<std::string> leastAnd(std::vector<std::string> more)
{
    more.insert(more.begin(), least.begin(), least.end());
    return more;
}

}

TEST_CASE("Smoothing is none, or 1/N octave with N from 1 to 48")
{
    CHECK(parseSmoothing("none") == OctaveFraction{ 0 });
    for (int n = 1; n <= 48; ++n)
        CHECK(parseSmoothing(std::to_string(n)) == OctaveFraction{ n });
    for (const char* bad : { "", "0", "49", "-1", "+12", "1/12", "12.0", "12 ", " 12", "12x", "None", "auto",
                             "1e1", "nan", "0x6", "4294967308", "99999999999999999999" })
    {
        INFO("\"" << bad << "\"");
        CHECK_FALSE(parseSmoothing(bad));
    }
    CHECK_FALSE(parseSmoothing(std::string("12\0", 3)));
}

TEST_CASE("A window is auto, full, or a length up to ten seconds")
{
    CHECK(parseWindow("auto") == WindowChoice{ WindowChoice::Kind::automatic, 0.0 });
    CHECK(parseWindow("full") == WindowChoice{ WindowChoice::Kind::full, 0.0 });
    for (const auto& [text, milliseconds] :
         { std::pair{ "5", 5.0 }, { "0.1", 0.1 }, { "12.5", 12.5 }, { "1e3", 1000.0 }, { "10000", 10000.0 } })
        CHECK(parseWindow(text) == WindowChoice{ WindowChoice::Kind::fixed, milliseconds });
    for (const char* bad : { "", "0", "-5", "10000.1", "+5", "5ms", "5 ms", " 5", "5,5", "nan", "inf", "Auto",
                             "none", "1e999" })
    {
        INFO("\"" << bad << "\"");
        CHECK_FALSE(parseWindow(bad));
    }
    const GermanLocale german;
    if (!german.there())
        WARN(whyNoGermanLocale);
    CHECK(parseWindow("12.5")->milliseconds == 12.5);
    CHECK_FALSE(parseWindow("12,5"));
}

TEST_CASE("Options that are not given keep their defaults, those that are given are taken")
{
    CaptureOptions options;
    CHECK(parse(options, least) == "");
    CHECK(options.capture == "c.wav");
    CHECK(options.stimulus == "S.json");
    CHECK(options.microphoneChannel == 1);
    CHECK(options.referenceChannel == 0);
    CHECK(options.calibration.empty());
    CHECK_FALSE((options.sensitivityDbSpl || options.temperatureC));
    CHECK(misuseOf(options) == "");
    CHECK(parse(options, leastAnd({ "--microphone-channel", "4", "--reference-channel", "2", "--calibration",
                                    "k.txt", "--sensitivity", "118.5", "--temperature", "-3.5" })) == "");
    CHECK(options.microphoneChannel == 4);
    CHECK(options.referenceChannel == 2);
    CHECK(options.calibration == "k.txt");
    CHECK(options.sensitivityDbSpl == 118.5);
    CHECK(options.temperatureC == -3.5);
    CHECK(misuseOf(options) == "");
}

TEST_CASE("Options out of range, of another kind or missing are a wrong use")
{
    const std::vector<std::vector<std::string>> rows{
        { "--microphone-channel", "0" }, { "--microphone-channel", "257" }, { "--microphone-channel", "1.5" },
        { "--microphone-channel", "x" }, { "--reference-channel", "0" },    { "--reference-channel", "-1" },
        { "--sensitivity", "-1" },       { "--sensitivity", "251" },        { "--sensitivity", "loud" },
        { "--temperature", "-20.5" },    { "--temperature", "61" },         { "--temperature" },
    };
    for (const auto& row : rows)
    {
        CaptureOptions options;
        INFO(row[0] << " " << row.back());
        CHECK_THAT(parse(options, leastAnd(row)), Contains("refused") && Contains(row[0]));
    }
    CaptureOptions options;
    CHECK_THAT(parse(options, { "c.wav" }), Contains("--stimulus"));
    CHECK_THAT(parse(options, { "--stimulus", "S.json" }), Contains("capture"));
}

TEST_CASE("What is wrong with the options together is one sentence")
{
    CaptureOptions options;
    CHECK(misuseOf(options) == "");
    options.microphoneChannel = options.referenceChannel = 2;
    CHECK_THAT(misuseOf(options), Contains("--reference-channel"));
    for (const char* bad : { "nan", "inf", "-nan" })
        for (const char* option : { "--sensitivity", "--temperature" })
        {
            CaptureOptions given;
            const auto refused = parse(given, leastAnd({ option, bad }));
            INFO(option << " " << bad);
            CHECK((!refused.empty() || misuseOf(given).find(option) != std::string::npos));
        }
}

TEST_CASE("With a stimulus file only what the options say is known")
{
    Recording recording;
    const auto plain = recording.read();
    CHECK(plain.capture.microphone == std::vector<float>(50, 0.1f));
    CHECK(plain.capture.reference.empty());
    CHECK_FALSE(
        (plain.capture.stimulusStart || plain.microphone.calibration || plain.microphone.sensitivityDbSpl));
    CHECK(plain.microphone.temperatureC == 20.0);
    CHECK(plain.capture.stimulus.sweep == stimulus().sweep);

    recording.options.microphoneChannel = 3;
    recording.options.referenceChannel = 2;
    recording.options.calibration = (recording.folder / "cal.txt").string();
    recording.options.sensitivityDbSpl = 101.5;
    recording.options.temperatureC = 12.5;
    const auto full = recording.read();
    CHECK(full.capture.microphone == std::vector<float>(50, 0.3f));
    CHECK(full.capture.reference == std::vector<float>(50, 0.2f));
    REQUIRE(full.microphone.calibration);
    CHECK(full.microphone.calibration->levelDb(20.0) == 1.5);
    CHECK(full.microphone.sensitivityDbSpl == 101.5);
    CHECK(full.microphone.temperatureC == 12.5);
}

TEST_CASE("A take's capture.json fills in what the options do not say")
{
    Recording recording;
    recording.useTake();
    const auto read = recording.read();
    CHECK(read.capture.microphone == std::vector<float>(50, 0.1f));
    CHECK(read.capture.reference == std::vector<float>(50, 0.3f));
    CHECK(read.capture.stimulusStart == -31);
    REQUIRE(read.microphone.calibration);
    CHECK(read.microphone.calibration->name() == "Serial 17");
    CHECK(read.microphone.calibration->levelDb(20.0) == 4.5);
    CHECK(read.microphone.sensitivityDbSpl == 118.25);
    CHECK(read.microphone.temperatureC == 25.5);
}

TEST_CASE("Each option goes before what capture.json says, and leaves the others as they are")
{
    Recording recording;
    recording.useTake();
    recording.options.referenceChannel = 2;
    CHECK(recording.read().capture.reference == std::vector<float>(50, 0.2f));
    recording.options.calibration = (recording.folder / "cal.txt").string();
    CHECK(recording.read().microphone.calibration->levelDb(20.0) == 1.5);
    CHECK(recording.read().microphone.sensitivityDbSpl == 118.25);
    recording.options.sensitivityDbSpl = 101.5;
    CHECK(recording.read().microphone.sensitivityDbSpl == 101.5);
    CHECK(recording.read().microphone.temperatureC == 25.5);
    recording.options.temperatureC = 20.0; // the default, but said
    CHECK(recording.read().microphone.temperatureC == 20.0);
    CHECK(recording.read().capture.stimulusStart == -31);
}

TEST_CASE("A microphone on the channel that capture.json calls the reference is refused")
{
    Recording recording;
    recording.useTake();
    recording.options.microphoneChannel = 3; // of it, divided by itself, a straight line would come
    CHECK_THAT(recording.refusal(), Contains("reference") && Contains("channel"));
    recording.options.referenceChannel = 2;
    CHECK(recording.refusal() == "");
}

TEST_CASE("A channel that is not there and a recording at another rate are refused in words")
{
    Recording recording;
    recording.options.microphoneChannel = 4;
    CHECK_THAT(recording.refusal(), Contains("no-such-channel") && Contains("channel 4") &&
                                        Contains("has 3") && Contains("capture.wav"));
    recording.options.microphoneChannel = 1;
    recording.options.referenceChannel = 5;
    CHECK_THAT(recording.refusal(), Contains("no-such-channel") && Contains("channel 5"));
    recording.options.referenceChannel = 0;
    auto json = Recording::captureJson();
    json["referenceChannel"] = 7;
    writeBytes(recording.folder / "capture.json", toText(json));
    recording.useTake();
    CHECK_THAT(recording.refusal(), Contains("channel 7"));
    writeBytes(recording.folder / "capture.wav",
               floatWavBytes({ 48000.0, { std::vector<float>(50, 0.1f) } }));
    CHECK_THAT(recording.refusal(), Contains("other-rate") && Contains("48000 Hz") && Contains("24000 Hz"));
}

TEST_CASE("Each file that cannot be used is named")
{
    Recording recording;
    const auto refusalWith = [&](std::string CaptureOptions::*which, const char* name)
    {
        const auto former = std::exchange(recording.options.*which, (recording.folder / name).string());
        const auto refused = recording.refusal();
        recording.options.*which = former;
        return refused;
    };
    CHECK_THAT(refusalWith(&CaptureOptions::capture, "none.wav"),
               Contains("none.wav") && Contains("no such file"));
    CHECK_THAT(refusalWith(&CaptureOptions::capture, "S.json"), Contains("not-a-wav") && Contains("S.json"));
    CHECK_THAT(refusalWith(&CaptureOptions::stimulus, "none.json"), Contains("none.json"));
    CHECK_THAT(refusalWith(&CaptureOptions::stimulus, "capture.wav"),
               Contains("not-json") && Contains("capture.wav"));
    CHECK_THAT(refusalWith(&CaptureOptions::stimulus, "."), Contains("folder"));
    CHECK_THAT(refusalWith(&CaptureOptions::calibration, "none.txt"), Contains("none.txt"));
    CHECK_THAT(refusalWith(&CaptureOptions::calibration, "S.json"),
               Contains("calibration-refused") && Contains("S.json"));
    CHECK_THAT(refusalWith(&CaptureOptions::calibration, "."), Contains("folder"));
    CHECK(recording.refusal() == "");
}
