#pragma once

#include "Dsp/Random.h"
#include "PracticeRoom/ImageSources.h"
#include "PracticeRoom/MonitorResponse.h"
#include "PracticeRoom/RoomLoop.h"

#include <array>
#include <complex>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace plumbline
{

/** From one output of the interface to its microphone input, as it is really simulated. `taps` *is* the
    room: what is asked about the truth is answered from it. */
struct RealisedPath
{
    std::vector<double>
        taps; ///< impulse response with converter latency and interface; the first ones are zero
    double sampleRateHz = 0.0;
    double wooferTravelSeconds = 0.0; ///< distance to the microphone over the speed of sound, without latency
    double tweeterTravelSeconds = 0.0; ///< the same; that of the woofer where there is no tweeter
    double latencySeconds = 0.0;
};

/** Names one take, and with the seed all that chance does to it. */
struct TakeLabel
{
    std::size_t stance = 0;   ///< index into Scenario::stances
    int setUp = 0;            ///< of that stance
    int take = 0;             ///< of that set-up
    std::size_t position = 0; ///< 0 the seat, then Scenario::microphone.positions
};

/** Monitors, room, microphone and converters, simulated; hands out the exact truth of all of it.

    [any but audio] Const members may be called from several threads. Floor, walls, ceiling and desk mirror
    without phase; furniture, diffraction, compression and drift are not simulated. */
class PracticeRoom
{
public:
    /** @param scenario one without fault()
        @param sampleRateHz 8000..400000: that of the scenario or another
        @param seed of everything that chance decides */
    PracticeRoom(Scenario scenario, double sampleRateHz, std::uint64_t seed);

    const Scenario& scenario() const noexcept { return plan; }

    double sampleRateHz() const noexcept { return rate; }

    const RoomAcoustics& acoustics() const noexcept { return room; }

    /** A stance as it stands after a set-up, moved and turned by chance; without `setUp` exactly in its
        place. */
    Standing standing(std::size_t stance, std::optional<int> setUp = std::nullopt) const;

    std::size_t positionCount() const noexcept { return plan.microphone.positions.size() + 1; }

    std::string positionName(std::size_t position) const;
    /** Where the microphone should stand. */
    Vec3 position(std::size_t position) const;
    /** Where it stands in this take. */
    Vec3 jitteredPosition(const TakeLabel& label) const;

    /** The path from one side to a microphone, at least 0.2 m from both drivers and inside the room.
        Arrivals are true to 1e-4 of the rms. What has a magnitude and no phase (bands of surfaces, desk and
        beams, microphone) would ring before the first arrival too: there the taps are cut 4 ms before it
        (up to 10 ms with a microphone response), which changes the response by a few thousandths of the rms
        at low frequencies. The taps are what counts. */
    RealisedPath path(const Standing& standing, RoomSide side, const Vec3& microphone) const;

    /** From the outputs (left + right) to the loopback input: latency and interface response. */
    const std::vector<double>& referenceTaps() const noexcept { return reference; }

    /** Microphone over output: the transform of the taps at any frequencies up to half the rate. The
        microphone's own response is part of it: take microphoneResponseDb() (ChainResponse.h) off for what
        a calibrated analysis must find. */
    std::vector<std::complex<double>> truth(const RealisedPath& path,
                                            std::span<const double> frequenciesHz) const;
    /** Microphone over loopback: as truth(), with latency and interface response cancelled. */
    std::vector<std::complex<double>> truthOverReference(const RealisedPath& path,
                                                         std::span<const double> frequenciesHz) const;

    /** The room of one take: its standing, jittered microphone and noise; `clean` leaves all three errors
        out. */
    RoomLoop loop(const TakeLabel& label, bool clean) const;

private:
    using Spectrum = std::vector<std::complex<double>>;

    struct HeardDriver
    {
        Driver driver;
        BandRange bands;
        std::array<Spectrum, 2> filter; ///< a side; all but the room, over the window of the pulses
    };

    void makeGrid();
    void makeDrivers();
    void makeReference();
    double commonResponse(std::size_t bin) const;
    bool hasInterfaceResponse() const;
    void colour(std::vector<double>& taps) const;
    double frequencyOf(std::size_t bin) const;
    void addDriver(const HeardDriver& driver, RoomSide side, const Cabinet& cabinet,
                   const MonitorModel& monitor, const Vec3& microphone, Spectrum& total) const;
    std::vector<double> realise(const Spectrum& total, double firstArrivalSamples) const;
    std::size_t monitorIndex(std::size_t stance) const;

    Scenario plan;
    double rate;
    Random random;
    RoomAcoustics room;
    std::size_t gridSamples = 0;
    std::size_t responseSamples = 0; ///< after the first moment a sound could arrive
    std::vector<double> bandPlace;   ///< of each bin among roomBandsHz, 0..9
    std::vector<std::vector<HeardDriver>> drivers;
    std::vector<double> reference;
};

}
