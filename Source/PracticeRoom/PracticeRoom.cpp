#include "PracticeRoom/PracticeRoom.h"

#include "Core/Units.h"
#include "Dsp/Fft.h"
#include "Dsp/Windows.h"
#include "PracticeRoom/ChainResponse.h"
#include "PracticeRoom/ExactResponse.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr std::size_t leadSamples =
    512; ///< of the grid before a sound leaves: zero-phase filters reach back in time
constexpr double partitionWished = 512.0;
constexpr double closestStartSamples = 32.0; ///< taps kept before the first arrival, at least
constexpr double usualStartSamples = 192.0;
constexpr double longStartSamples =
    512.0; ///< with a microphone response, which has no phase and so rings both ways
constexpr std::size_t endFadeSamples = 256;

/** Labels of what chance decides, so that no two draws share numbers. */
enum class Chance : std::uint64_t
{
    cabinets = 1,
    microphone,
    noise
};

Random branchFor(const Random& random, Chance what, const TakeLabel& label)
{
    return random.branch(static_cast<std::uint64_t>(what))
        .branch(label.stance)
        .branch(static_cast<std::uint64_t>(label.setUp))
        .branch(static_cast<std::uint64_t>(label.take))
        .branch(label.position);
}

/** Position of a frequency among the bands: 0 at the first and below, 9 at the last and above. */
double placeAmongBands(double frequencyHz)
{
    if (frequencyHz <= roomBandsHz.front())
        return 0.0;
    for (std::size_t b = 1; b < roomBandsHz.size(); ++b)
        if (frequencyHz < roomBandsHz[b])
            return static_cast<double>(b - 1) +
                   std::log(frequencyHz / roomBandsHz[b - 1]) / std::log(roomBandsHz[b] / roomBandsHz[b - 1]);
    return static_cast<double>(roomBandsHz.size() - 1);
}
}

PracticeRoom::PracticeRoom(Scenario scenario, double sampleRateHz, std::uint64_t seed)
    : plan(std::move(scenario)), rate(sampleRateHz), random(seed), room(acousticsOf(plan.studio))
{
    assert(!fault(plan));
    makeGrid();
    makeDrivers();
    makeReference();
}

double PracticeRoom::frequencyOf(std::size_t bin) const
{
    return static_cast<double>(bin) * rate / static_cast<double>(gridSamples);
}

bool PracticeRoom::hasInterfaceResponse() const
{
    return plan.converter.highPassHz.has_value() || plan.converter.tiltDb != 0.0;
}

void PracticeRoom::makeGrid()
{
    double ring = 0.0;
    for (const MonitorModel& monitor : plan.monitors)
        ring = std::max(ring, ringSeconds(monitor));
    const double seconds = room.reachMetres / room.speedMps + ring;
    responseSamples = static_cast<std::size_t>(std::ceil(seconds * rate)) + endFadeSamples;
    gridSamples = fastTransformLength(leadSamples + responseSamples + leadSamples);
    bandPlace.resize(gridSamples / 2 + 1);
    for (std::size_t k = 0; k < bandPlace.size(); ++k)
        bandPlace[k] = placeAmongBands(frequencyOf(k));
}

/** All that both drivers pass, at a grid frequency, over the window in which the pulses were spread. */
double PracticeRoom::commonResponse(std::size_t bin) const
{
    const double frequencyHz = frequencyOf(bin);
    const double cycles =
        static_cast<double>(bin) / static_cast<double>(gridSamples * BandPulses::oversampling);
    const double level = microphoneResponseDb(plan.microphone, frequencyHz) + plan.microphone.gainDb;
    return amplitudeFromDecibels(level) * belowNyquist(frequencyHz, rate) /
           BandPulses::windowSpectrum(cycles);
}

void PracticeRoom::makeDrivers()
{
    std::vector<double> common(gridSamples / 2 + 1);
    for (std::size_t k = 0; k < common.size(); ++k)
        common[k] = commonResponse(k);
    for (const MonitorModel& monitor : plan.monitors)
    {
        std::vector<HeardDriver> heard;
        for (Driver driver : { Driver::woofer, Driver::tweeter })
        {
            if (driver == Driver::tweeter && monitor.crossoverHz == 0.0)
                continue;
            HeardDriver one{ driver,
                             bandsOf(monitor, driver),
                             { Spectrum(common.size()), Spectrum(common.size()) } };
            for (RoomSide side : { RoomSide::left, RoomSide::right })
                for (std::size_t k = 0; k < common.size(); ++k)
                    one.filter[static_cast<std::size_t>(side)][k] =
                        common[k] * driverResponse(monitor, side, driver, frequencyOf(k));
            heard.push_back(std::move(one));
        }
        drivers.push_back(std::move(heard));
    }
}

void PracticeRoom::makeReference()
{
    const auto latency = static_cast<std::size_t>(plan.converter.latencySamples);
    reference.assign(latency, 0.0);
    if (!hasInterfaceResponse())
    {
        reference.push_back(1.0);
        return;
    }
    const double ring =
        plan.converter.highPassHz ? ringSecondsOfHighPass(*plan.converter.highPassHz, 2) : 0.01;
    const auto kept = static_cast<std::size_t>(ring * rate) + endFadeSamples;
    SpectrumBuffer buffer(fastTransformLength(2 * kept));
    const auto points = static_cast<double>(buffer.length());
    for (std::size_t k = 0; k < buffer.binCount(); ++k)
        buffer.bins()[k] =
            interfaceResponse(plan.converter, rate, static_cast<double>(k) * rate / points) / points;
    buffer.inverseUnscaled();
    reference.insert(reference.end(), buffer.samples(), buffer.samples() + kept);
    fadeOut(reference, endFadeSamples);
}

std::size_t PracticeRoom::monitorIndex(std::size_t stance) const
{
    const std::string& name = plan.stances.at(stance).monitor;
    const auto found = std::find_if(plan.monitors.begin(), plan.monitors.end(),
                                    [&](const MonitorModel& monitor) { return monitor.name == name; });
    return static_cast<std::size_t>(found - plan.monitors.begin());
}

Standing PracticeRoom::standing(std::size_t stance, std::optional<int> setUp) const
{
    const MonitorModel& monitor = plan.monitors[monitorIndex(stance)];
    Standing result{ stance, {} };
    Random chance = branchFor(random, Chance::cabinets, { stance, setUp.value_or(0), 0, 0 });
    for (RoomSide side : { RoomSide::left, RoomSide::right })
    {
        if (side == RoomSide::right && monitor.kind == MonitorModel::Kind::single)
            break;
        Vec3 moved;
        double turn = 0.0;
        if (setUp)
        {
            moved.x = chance.normal() * plan.errors.cabinetM;
            moved.y = chance.normal() * plan.errors.cabinetM;
            turn = chance.normal() * plan.errors.cabinetTurnDegrees;
        }
        result.cabinets.push_back(
            standCabinet(plan.placement, monitor, plan.stances[stance].orientation, side, moved, turn));
    }
    return result;
}

std::string PracticeRoom::positionName(std::size_t position) const
{
    return position == 0 ? "seat" : plan.microphone.positions.at(position - 1).name;
}

Vec3 PracticeRoom::position(std::size_t position) const
{
    if (position == 0)
        return plan.microphone.seatM;
    const NamedPosition& named = plan.microphone.positions.at(position - 1);
    return plan.microphone.seatM + Vec3{ named.xCm, named.yCm, named.zCm } * 0.01;
}

Vec3 PracticeRoom::jitteredPosition(const TakeLabel& label) const
{
    Random chance = branchFor(random, Chance::microphone, label);
    const double x = chance.normal(), y = chance.normal(), z = chance.normal();
    return position(label.position) + Vec3{ x, y, z } * plan.errors.microphoneM;
}

void PracticeRoom::addDriver(const HeardDriver& driver, RoomSide side, const Cabinet& cabinet,
                             const MonitorModel& monitor, const Vec3& microphone, Spectrum& total) const
{
    const bool woofer = driver.driver == Driver::woofer;
    const Radiator radiator{ woofer ? cabinet.woofer : cabinet.tweeter, cabinet.facing,
                             woofer ? monitor.wooferRadiusM : monitor.tweeterRadiusM,
                             monitor.cabinetWidthCm / 200.0 };
    constexpr auto fine = static_cast<double>(BandPulses::oversampling);
    const ArrivalGrid grid{ fine * rate / room.speedMps, fine * static_cast<double>(leadSamples) };
    const double points = room.reachMetres * grid.pointsPerMetre + grid.offsetPoints;
    BandPulses pulses(static_cast<std::size_t>(points) + 2 * BandPulses::spreadPoints, driver.bands.groups());
    gatherArrivals(room, radiator, microphone, driver.bands, grid, pulses);

    Spectrum heard(gridSamples / 2 + 1);
    SpectrumBuffer buffer(gridSamples * BandPulses::oversampling);
    const std::size_t last = driver.bands.count - 1;
    for (std::size_t b = 0; b <= last; ++b)
    {
        std::fill(buffer.samples() + pulses.points(), buffer.samples() + buffer.length() + 2, 0.0);
        pulses.copyBand(b, buffer.samples());
        buffer.forward();
        const double band = static_cast<double>(b + driver.bands.first);
        const auto from = std::upper_bound(bandPlace.begin(), bandPlace.end(), band - 1.0);
        const auto to = std::lower_bound(bandPlace.begin(), bandPlace.end(), band + 1.0);
        const auto begin = b == 0 ? std::size_t{ 0 } : static_cast<std::size_t>(from - bandPlace.begin());
        const auto end = b == last ? heard.size() : static_cast<std::size_t>(to - bandPlace.begin());
        for (std::size_t k = begin; k < end; ++k)
        {
            const double off = bandPlace[k] - band;
            const bool held = (b == 0 && off < 0.0) || (b == last && off > 0.0);
            heard[k] += buffer.bins()[k] * (held ? 1.0 : 1.0 - std::abs(off));
        }
    }
    const Spectrum& filter = driver.filter[static_cast<std::size_t>(side)];
    for (std::size_t k = 0; k < total.size(); ++k)
        total[k] += heard[k] * filter[k];
}

/** Passes taps (which begin with `latency` zeros or more) through the interface, by the very taps of the
    loopback. */
void PracticeRoom::colour(std::vector<double>& taps) const
{
    const auto latency = static_cast<std::ptrdiff_t>(plan.converter.latencySamples);
    const std::span own(reference.begin() + latency, reference.end());
    const std::size_t count = taps.size() + own.size() - 1;
    SpectrumBuffer a(fastTransformLength(count)), b(a.length());
    std::copy(taps.begin(), taps.end(), a.samples());
    std::copy(own.begin(), own.end(), b.samples());
    a.forward();
    b.forward();
    for (std::size_t k = 0; k < a.binCount(); ++k)
        a.bins()[k] *= b.bins()[k] / static_cast<double>(a.length());
    a.inverseUnscaled();
    const auto first = std::find_if(taps.begin(), taps.end(), [](double tap) { return tap != 0.0; });
    const auto silent = static_cast<std::size_t>(first - taps.begin()); // stays exactly so
    taps.assign(a.samples(), a.samples() + count);
    std::fill_n(taps.begin(), std::min(silent, count), 0.0);
}

/** Back to time; latency put before; what cannot be heard cut off, with fades, at both ends. */
std::vector<double> PracticeRoom::realise(const Spectrum& total, double firstArrivalSamples) const
{
    SpectrumBuffer buffer(gridSamples);
    std::copy(total.begin(), total.end(), buffer.bins());
    buffer.inverseUnscaled();

    const auto latency = static_cast<double>(plan.converter.latencySamples);
    const double arrival = latency + std::floor(firstArrivalSamples);
    double start = arrival - (plan.microphone.response.empty() ? usualStartSamples : longStartSamples);
    if (start < partitionWished)
        start = std::min(partitionWished, arrival - closestStartSamples);
    start = std::max({ start, 1.0, latency - static_cast<double>(leadSamples) });

    const auto first = static_cast<std::size_t>(start);
    const auto toGrid = static_cast<std::ptrdiff_t>(leadSamples) - static_cast<std::ptrdiff_t>(latency);
    std::vector<double> taps(static_cast<std::size_t>(latency) + responseSamples, 0.0);
    for (std::size_t n = first; n < taps.size(); ++n)
        taps[n] =
            buffer.samples()[static_cast<std::ptrdiff_t>(n) + toGrid] / static_cast<double>(gridSamples);
    const auto fade = static_cast<std::size_t>(std::max(1.0, (arrival - start) / 2.0));
    fadeIn(std::span(taps).subspan(first), fade);
    fadeOut(taps, endFadeSamples);
    return taps;
}

RealisedPath PracticeRoom::path(const Standing& standing, RoomSide side, const Vec3& microphone) const
{
    const Cabinet& cabinet = standing.cabinet(side);
    const std::size_t monitor = monitorIndex(standing.stance);
    Spectrum total(gridSamples / 2 + 1);
    for (const HeardDriver& driver : drivers[monitor])
        addDriver(driver, side, cabinet, plan.monitors[monitor], microphone, total);

    RealisedPath path;
    path.sampleRateHz = rate;
    path.latencySeconds = static_cast<double>(plan.converter.latencySamples) / rate;
    path.wooferTravelSeconds = length(cabinet.woofer - microphone) / room.speedMps;
    path.tweeterTravelSeconds = drivers[monitor].size() == 1
                                    ? path.wooferTravelSeconds
                                    : length(cabinet.tweeter - microphone) / room.speedMps;
    path.taps = realise(total, std::min(path.wooferTravelSeconds, path.tweeterTravelSeconds) * rate);
    if (hasInterfaceResponse())
        colour(path.taps);
    return path;
}

std::vector<std::complex<double>> PracticeRoom::truth(const RealisedPath& path,
                                                      std::span<const double> frequenciesHz) const
{
    return exactResponse(path.taps, rate, frequenciesHz);
}

std::vector<std::complex<double>>
PracticeRoom::truthOverReference(const RealisedPath& path, std::span<const double> frequenciesHz) const
{
    std::vector<std::complex<double>> response = truth(path, frequenciesHz);
    const std::vector<std::complex<double>> through = exactResponse(reference, rate, frequenciesHz);
    for (std::size_t i = 0; i < response.size(); ++i)
        response[i] /= through[i];
    return response;
}

RoomLoop PracticeRoom::loop(const TakeLabel& label, bool clean) const
{
    const Standing here = clean ? standing(label.stance) : standing(label.stance, label.setUp);
    const Vec3 microphone = clean ? position(label.position) : jitteredPosition(label);
    RoomLoop::Spec spec;
    for (std::size_t side = 0; side < here.cabinets.size(); ++side)
        spec.taps[side] = path(here, static_cast<RoomSide>(side), microphone).taps;
    if (plan.converter.loopback)
        spec.referenceTaps = reference;
    if (!clean && plan.microphone.noiseDbfs)
        spec.noise = RoomLoop::Noise{ *plan.microphone.noiseDbfs, plan.microphone.noiseColour };
    spec.sampleRateHz = rate;
    return RoomLoop(spec, branchFor(random, Chance::noise, label));
}

}
