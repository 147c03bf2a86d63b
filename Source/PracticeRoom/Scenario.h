#pragma once

#include "Core/Problem.h"
#include "PracticeRoom/Vec3.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace plumbline
{

/** The octave bands in which surfaces and drivers are described. Between them values run linearly over log
    frequency; outside them the first and the last are held. */
inline constexpr std::array<double, 10> roomBandsHz{ 31.5,   63.0,   125.0,  250.0,  500.0,
                                                     1000.0, 2000.0, 4000.0, 8000.0, 16000.0 };

/** One value a band of roomBandsHz. */
using BandValues = std::array<double, 10>;

struct RoomSize
{
    double depthM = 5.2;  ///< along x, front wall to back wall
    double widthM = 4.1;  ///< along y, left wall to right wall
    double heightM = 2.7; ///< along z

    bool operator==(const RoomSize&) const = default;
};

/** Shares of the sound power that a surface swallows, 0 (none) to 1 (all). */
struct SurfaceAbsorption
{
    BandValues walls{};
    BandValues floor{};
    BandValues ceiling{};

    bool operator==(const SurfaceAbsorption&) const = default;
};

/** One more reflection, from a desk top between monitors and seat. */
struct DeskModel
{
    double topHeightM = 0.76;
    double fromXM = 1.42;
    double toXM = 1.97;
    double fromYM = 1.30;
    double toYM = 2.70;
    double strength = 0.30; ///< amplitude of the reflection where it is strongest, 0..1

    bool operator==(const DeskModel&) const = default;
};

/** An empty rectangular room. Exactly one of `t60Seconds` and `absorption` is given. */
struct Studio
{
    std::string name = "the Mill Lane Room";
    RoomSize size;
    std::optional<BandValues> t60Seconds; ///< decay time asked for, by Eyring's formula; floor and ceiling
                                          ///< swallow a third more than the walls
    std::optional<SurfaceAbsorption> absorption;
    std::optional<DeskModel> desk;
    double temperatureC = 20.0;

    bool operator==(const Studio&) const = default;
};

/** A bump (or, with a negative level, a dip) in a response. */
struct ResponseBump
{
    double frequencyHz = 1000.0;
    double levelDb = 0.0;
    double q = 1.0;

    bool operator==(const ResponseBump&) const = default;
};

/** A two-way monitor: woofer and tweeter as points, each with its own beam. */
struct MonitorModel
{
    enum class Kind
    {
        pair,
        single
    };

    std::string name;
    Kind kind = Kind::pair;
    double cabinetWidthCm = 20.0; ///< as it stands upright; half of it sets where the back grows quiet
    double cabinetHeightCm = 32.0;
    double cabinetDepthCm = 26.0;
    double driverSpacingM = 0.16; ///< woofer to tweeter; 0 puts both in one place
    double wooferRadiusM = 0.060; ///< 0: no beam
    double tweeterRadiusM = 0.0125;
    double crossoverHz =
        2200.0;                ///< Linkwitz-Riley of order 4; 0: one driver (the woofer) for the whole range
    double lowCornerHz = 45.0; ///< Butterworth high-pass of `lowOrder`
    int lowOrder = 4;          ///< 0: none
    double highCornerHz = 23000.0;
    int highOrder = 2; ///< 0: none
    std::vector<ResponseBump> bumps;
    std::vector<ResponseBump> rightLessLeft; ///< units differ: half of each to the right, half off the left
    double trimDb = 0.0;

    bool operator==(const MonitorModel&) const = default;
};

/** How a cabinet stands. Laid down, "out" is away from the line of symmetry. */
enum class CabinetOrientation
{
    upright,
    sideTweetersOut,
    sideTweetersIn
};

inline constexpr std::array<CabinetOrientation, 3> cabinetOrientations{ CabinetOrientation::upright,
                                                                        CabinetOrientation::sideTweetersOut,
                                                                        CabinetOrientation::sideTweetersIn };

/** "upright", "side, tweeters out" or "side, tweeters in". */
std::string_view orientationName(CabinetOrientation orientation);

/** The orientation of that name, or nothing. */
std::optional<CabinetOrientation> orientationNamed(std::string_view name);

/** Where the middle between the drivers is, on the baffle, in every orientation. A single stands on the axis.
 */
struct PairPlacement
{
    double frontM = 1.12;       ///< from the front wall
    double apartM = 1.48;       ///< left to right
    double toeInDegrees = 15.0; ///< turned towards the axis
    double heightM = 1.20;
    double axisM = 2.00; ///< line of symmetry, from the left wall

    bool operator==(const PairPlacement&) const = default;
};

/** A named place for the microphone beside the seat: so far back, to the right and up (axes of Vec3). */
struct NamedPosition
{
    std::string name;
    double xCm = 0.0;
    double yCm = 0.0;
    double zCm = 0.0;

    bool operator==(const NamedPosition&) const = default;
};

struct ResponsePoint
{
    double frequencyHz = 1000.0;
    double levelDb = 0.0;

    bool operator==(const ResponsePoint&) const = default;
};

struct MicrophoneModel
{
    enum class NoiseColour
    {
        white,
        pink
    };

    Vec3 seatM{ 2.33, 2.00, 1.20 };
    std::vector<NamedPosition> positions; ///< besides the seat
    double gainDb = 0.0;             ///< microphone in dBFS over output in dBFS, for a flat driver at 1 m
    std::optional<double> noiseDbfs; ///< rms over the whole band; nothing: no noise
    NoiseColour noiseColour = NoiseColour::pink;
    std::vector<ResponsePoint> response; ///< its own response, without phase; ascending; empty: flat

    bool operator==(const MicrophoneModel&) const = default;
};

struct ConverterModel
{
    int latencySamples = 640;         ///< out and in together; from 512 on the room costs least
    std::optional<double> highPassHz; ///< of the interface, order 2: microphone and loopback both pass it
    double tiltDb = 0.0;              ///< of the interface, first order, high against low frequencies
    bool loopback = true;             ///< left and right together come back on the reference channel

    bool operator==(const ConverterModel&) const = default;
};

/** Standard deviations of what does not come back to quite the same place. */
struct PlacingErrors
{
    double microphoneM = 0.010;      ///< each axis, one draw a take, the same for left and right
    double cabinetM = 0.005;         ///< along x and y, one draw a cabinet and set-up
    double cabinetTurnDegrees = 1.0; ///< about the vertical, one draw a cabinet and set-up

    bool operator==(const PlacingErrors&) const = default;
};

struct ScenarioPlan
{
    int setUps = 1;
    int takes = 1; ///< a set-up
    double sweepSeconds = 3.0;
    double levelDbfs = -40.0;
    double leadInSeconds = 1.0;
    double silenceSeconds = 1.0; ///< after each sweep

    bool operator==(const ScenarioPlan&) const = default;
};

struct ScenarioStance
{
    std::string monitor; ///< name of one of the scenario's monitors
    CabinetOrientation orientation = CabinetOrientation::upright;

    bool operator==(const ScenarioStance&) const = default;
};

/** Everything the practice room simulates. The defaults are a whole room but for monitors and stances. */
struct Scenario
{
    std::string name;
    std::string about;
    double sampleRateHz = 48000.0;
    Studio studio;
    PairPlacement placement;
    std::vector<MonitorModel> monitors;
    MicrophoneModel microphone;
    ConverterModel converter;
    PlacingErrors errors;
    ScenarioPlan plan;
    std::vector<ScenarioStance> stances;

    bool operator==(const Scenario&) const = default;
};

/** "PAIR, ORIENTATION". */
std::string stanceName(const ScenarioStance& stance);

/** What keeps a scenario from being simulated, `where` naming the part; nothing if it can be. Code
    "scenario-not-possible". PracticeRoom may be made only from a scenario without fault. */
std::optional<Problem> fault(const Scenario& scenario);

}
