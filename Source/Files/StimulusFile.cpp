#include "Files/StimulusFile.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
constexpr std::size_t mostSamples = std::size_t{ 1 } << 26;

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
    Json layout{ { "leadInSamples", stimulus.leadInSamples }, { "leftStartSample", stimulus.leftStart } };
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
    const bool inStep = stimulus.leftStart == left &&
                        (!stimulus.rightStart || *stimulus.rightStart == left + segment) &&
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
    return stimulus.rightStart ? Json{ "left", "right" } : Json::array({ "left" });
}
}

Json toJson(const Stimulus& stimulus)
{
    Json value{ { "schema", schemaName("stimulus", stimulusSchemaVersion) },
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
    stimulus.spec.band.toHz =
        fields.number("toHz", stimulus.spec.band.fromHz, stimulus.spec.sampleRateHz / 2.0);
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
/** Frequency, level, and a phase or null; nothing if it is none of these. */
std::optional<Calibration::Point> pointFromJson(const Json& point)
{
    const bool sound = point.is_array() && point.size() == 3 && point[0].is_number() &&
                       point[1].is_number() && (point[2].is_number() || point[2].is_null());
    if (!sound)
        return std::nullopt;
    return Calibration::Point{ point[0].get<double>(), point[1].get<double>(),
                               point[2].is_null() ? 0.0 : point[2].get<double>() };
}

std::optional<Calibration> calibrationFromJson(JsonFields& capture)
{
    if (!capture.has("calibration"))
        return std::nullopt;
    JsonFields fields(capture.member("calibration"), capture.where());
    const auto name = fields.text("name");
    std::vector<Calibration::Point> points;
    std::size_t phases = 0;
    for (const auto& point : fields.member("points"))
    {
        const auto read = pointFromJson(point);
        if (!read)
            fields.complain("a point is not frequency, level and phase");
        phases += read && !point[2].is_null() ? 1 : 0;
        points.push_back(read.value_or(Calibration::Point{}));
    }
    if (phases != 0 && phases != points.size())
        fields.complain("some points have a phase and some have none");
    auto calibration = Calibration::fromPoints(name, std::move(points), phases != 0);
    if (!calibration)
        fields.complain(calibration.problem().what);
    if (fields.fault())
        capture.complain(fields.fault()->what + " (in \"calibration\")");
    return calibration && !fields.fault() ? std::optional(std::move(*calibration)) : std::nullopt;
}

Result<CaptureNotes> notesOfTake(const Json& value, const std::string& where)
{
    constexpr double far = 4.0e8;
    if (auto fault = schemaFault(value, "capture", captureSchemaVersion, where))
        return *fault;
    JsonFields fields(value, where);
    const auto& described = fields.member("stimulus");
    if (fields.fault())
        return *fields.fault();
    auto stimulus = stimulusFromJson(described, where);
    if (!stimulus)
        return stimulus.problem();
    CaptureNotes notes{ std::move(*stimulus), {}, {}, {}, {}, {} };
    if (fields.has("stimulusStartSample"))
        notes.stimulusStart = static_cast<std::ptrdiff_t>(fields.whole("stimulusStartSample", -far, far));
    if (fields.has("referenceChannel"))
        notes.referenceChannel = static_cast<int>(fields.whole("referenceChannel", 1.0, 256.0));
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
        return Problem{ "not-json", "This is not sound JSON", file.string(),
                        "Give the stimulus file (.json) that was written beside the WAV" };
    const bool isTake = value.is_object() && value.contains("schema") && value["schema"].is_string() &&
                        value["schema"].get<std::string>().starts_with("plumbline/capture/");
    if (isTake)
        return notesOfTake(value, file.string());
    auto stimulus = stimulusFromJson(value, file.string());
    if (!stimulus)
        return stimulus.problem();
    return CaptureNotes{ std::move(*stimulus), {}, {}, {}, {}, {} };
}

std::vector<std::vector<float>> stimulusChannels(const Stimulus& stimulus)
{
    const auto sweep = playedSweep(stimulus);
    std::vector<std::vector<float>> channels(stimulus.sideCount(),
                                             std::vector<float>(stimulus.totalSamples, 0.0f));
    for (std::size_t c = 0; c < channels.size(); ++c)
    {
        const auto start = stimulus.start(c == 0 ? Side::left : Side::right);
        std::copy(sweep.begin(), sweep.end(), channels[c].begin() + static_cast<std::ptrdiff_t>(start));
    }
    return channels;
}

}
