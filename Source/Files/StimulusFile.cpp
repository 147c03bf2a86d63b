#include "Files/StimulusFile.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
constexpr std::size_t mostSamples = std::size_t { 1 } << 26;

Json sweepJson(const Sweep& sweep)
{
    return { { "startHz", sweep.startHz },
             { "endHz", sweep.endHz },
             { "rateSeconds", sweep.rateSeconds },
             { "samples", sweep.samples },
             { "fadeInSamples", sweep.fadeInSamples },
             { "fadeOutSamples", sweep.fadeOutSamples } };
}

Json layoutJson(const Stimulus& stimulus)
{
    Json layout { { "leadInSamples", stimulus.leadInSamples }, { "leftStartSample", stimulus.leftStart } };
    if (stimulus.rightStart)
        layout["rightStartSample"] = *stimulus.rightStart;
    layout["silenceSamples"] = stimulus.silenceSamples;
    layout["totalSamples"] = stimulus.totalSamples;
    return layout;
}

Sweep readSweep(JsonFields& fields, const Json& value, double rate)
{
    JsonFields sweep(value, fields.where() + ", sweep");
    Sweep read;
    read.sampleRateHz = rate;
    read.startHz = sweep.number("startHz", 1.0, rate / 2.0);
    read.endHz = sweep.number("endHz", read.startHz, rate / 2.0);
    read.rateSeconds = sweep.number("rateSeconds", 1e-3, 60.0);
    read.samples = sweep.count("samples", mostSamples);
    read.fadeInSamples = sweep.count("fadeInSamples", read.samples);
    read.fadeOutSamples = sweep.count("fadeOutSamples", read.samples);
    const double cycles = read.startHz * read.rateSeconds;
    if (std::abs(cycles - std::round(cycles)) > 1e-6 || cycles < 0.5)
        sweep.complain("startHz times rateSeconds must be a whole number");
    const double length = read.timeOfFrequency(read.endHz) * rate;
    if (std::abs(length + 0.5 - static_cast<double>(read.samples)) > 1.0)
        sweep.complain("the length does not fit the frequencies");
    if (sweep.fault())
        fields.complain(sweep.fault()->what + " (in \"sweep\")");
    return read;
}

void readLayout(JsonFields& fields, const Json& value, Stimulus& stimulus)
{
    JsonFields layout(value, fields.where() + ", layout");
    stimulus.leadInSamples = layout.count("leadInSamples", mostSamples);
    stimulus.leftStart = layout.count("leftStartSample", mostSamples);
    stimulus.silenceSamples = layout.count("silenceSamples", mostSamples);
    stimulus.totalSamples = layout.count("totalSamples", 4 * mostSamples);
    if (layout.has("rightStartSample"))
        stimulus.rightStart = layout.count("rightStartSample", 2 * mostSamples);
    const auto left = stimulus.leadInSamples, segment = stimulus.segmentSamples();
    const bool inStep = stimulus.leftStart == left && (!stimulus.rightStart || *stimulus.rightStart == left + segment) &&
                        stimulus.totalSamples == left + stimulus.sideCount() * segment;
    if (!inStep || stimulus.silenceSamples == 0)
        layout.complain("the parts do not add up");
    if (layout.fault())
        fields.complain(layout.fault()->what + " (in \"layout\")");
    stimulus.spec.pair = stimulus.rightStart.has_value();
    stimulus.spec.leadInSeconds = static_cast<double>(stimulus.leadInSamples) / stimulus.spec.sampleRateHz;
    stimulus.spec.silenceSeconds = static_cast<double>(stimulus.silenceSamples) / stimulus.spec.sampleRateHz;
}
}

namespace
{
Json channelNames(const Stimulus& stimulus)
{
    return stimulus.rightStart ? Json { "left", "right" } : Json::array({ "left" });
}
}

Json toJson(const Stimulus& stimulus)
{
    Json value { { "schema", schemaName("stimulus", stimulusSchemaVersion) },
                 { "sampleRateHz", stimulus.spec.sampleRateHz },
                 { "seconds", stimulus.spec.seconds },
                 { "fromHz", stimulus.spec.band.fromHz },
                 { "toHz", stimulus.spec.band.toHz },
                 { "levelDbfs", stimulus.spec.levelDbfs },
                 { "sweep", sweepJson(stimulus.sweep) },
                 { "layout", layoutJson(stimulus) } };
    value["channels"] = channelNames(stimulus);
    return value;
}

Result<Stimulus> stimulusFromJson(const Json& value, const std::string& where)
{
    if (auto fault = schemaFault(value, "stimulus", stimulusSchemaVersion, where))
        return *fault;
    JsonFields fields(value, where);
    Stimulus stimulus;
    stimulus.spec.sampleRateHz = fields.number("sampleRateHz", 8000.0, 400000.0);
    stimulus.spec.seconds = fields.number("seconds", 1.0, 30.0);
    stimulus.spec.band.fromHz = fields.number("fromHz", 5.0, stimulus.spec.sampleRateHz / 2.0);
    stimulus.spec.band.toHz = fields.number("toHz", stimulus.spec.band.fromHz, stimulus.spec.sampleRateHz / 2.0);
    stimulus.spec.levelDbfs = fields.number("levelDbfs", -120.0, ceilingDbfs);
    stimulus.sweep = readSweep(fields, fields.member("sweep"), stimulus.spec.sampleRateHz);
    readLayout(fields, fields.member("layout"), stimulus);
    if (stimulus.sweep.startHz > stimulus.spec.band.fromHz || stimulus.sweep.endHz < stimulus.spec.band.toHz)
        fields.complain("the sweep does not cover the band");
    if (fields.member("channels") != channelNames(stimulus))
        fields.complain("\"channels\" must be left and right, or left alone, as the layout has it");
    if (fields.fault())
        return *fields.fault();
    return stimulus;
}

namespace
{
std::optional<Calibration> calibrationFromJson(JsonFields& capture)
{
    if (!capture.has("calibration"))
        return std::nullopt;
    JsonFields fields(capture.member("calibration"), capture.where() + ", calibration");
    const auto name = fields.text("name");
    std::vector<Calibration::Point> points;
    bool phase = false;
    for (const auto& point : fields.member("points"))
    {
        if (!point.is_array() || point.size() != 3 || !point[0].is_number() || !point[1].is_number())
        {
            capture.complain("a point of the calibration is not three values");
            return std::nullopt;
        }
        phase = point[2].is_number();
        points.push_back({ point[0].get<double>(), point[1].get<double>(), phase ? point[2].get<double>() : 0.0 });
    }
    auto calibration = Calibration::fromPoints(name, std::move(points), phase);
    if (!calibration)
        capture.complain(calibration.problem().what);
    return calibration ? std::optional(std::move(*calibration)) : std::nullopt;
}

Result<CaptureNotes> notesOfTake(const Json& value, const std::string& where)
{
    constexpr double far = 4.0e8;
    auto stimulus = stimulusFromJson(value["stimulus"], where);
    if (!stimulus)
        return stimulus.problem();
    JsonFields fields(value, where);
    CaptureNotes notes { std::move(*stimulus), {}, {}, {}, {}, {} };
    if (fields.has("stimulusStartSample"))
        notes.stimulusStart = static_cast<std::ptrdiff_t>(fields.number("stimulusStartSample", -far, far));
    if (fields.has("referenceChannel"))
        notes.referenceChannel = static_cast<int>(fields.number("referenceChannel", 1.0, 256.0));
    if (fields.has("sensitivityDbSpl"))
        notes.sensitivityDbSpl = fields.number("sensitivityDbSpl", 0.0, 250.0);
    if (fields.has("temperatureC"))
        notes.temperatureC = fields.number("temperatureC", -20.0, 60.0);
    notes.calibration = calibrationFromJson(fields);
    if (fields.fault())
        return *fields.fault();
    return notes;
}
}

Result<CaptureNotes> readCaptureNotes(const std::filesystem::path& file)
{
    const auto text = readTextFile(file, 16u << 20);
    if (!text)
        return text.problem();
    const auto value = Json::parse(*text, nullptr, false);
    if (value.is_discarded())
        return Problem { "not-json", "This is not sound JSON", file.string(),
                         "Give the stimulus file (.json) that was written beside the WAV" };
    if (value.is_object() && value.contains("stimulus") && !schemaFault(value, "capture", 1, ""))
        return notesOfTake(value, file.string());
    auto stimulus = stimulusFromJson(value, file.string());
    if (!stimulus)
        return stimulus.problem();
    return CaptureNotes { std::move(*stimulus), {}, {}, {}, {}, {} };
}

std::vector<std::vector<float>> stimulusChannels(const Stimulus& stimulus)
{
    const auto sweep = playedSweep(stimulus);
    std::vector<std::vector<float>> channels(stimulus.sideCount(), std::vector<float>(stimulus.totalSamples, 0.0f));
    for (std::size_t c = 0; c < channels.size(); ++c)
    {
        const auto start = stimulus.start(c == 0 ? Side::left : Side::right);
        std::copy(sweep.begin(), sweep.end(), channels[c].begin() + static_cast<std::ptrdiff_t>(start));
    }
    return channels;
}

}
