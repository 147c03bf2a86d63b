#pragma once

#include "Core/Result.h"

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** A monitor pair, or a single monitor. Sizes are optional: leave out what is not known. */
struct Monitor
{
    enum class Kind
    {
        pair,
        single
    };
    std::string name;
    Kind kind = Kind::pair;
    std::optional<double> widthCm, heightCm, depthCm, driverSpacingCm, crossoverHz;
    std::optional<double> wooferCm; ///< nominal diameter of the largest driver

    bool operator==(const Monitor&) const = default;
};

/** One monitor in one orientation. */
struct Stance
{
    std::string monitor;
    std::string orientation;

    /** "PAIR, ORIENTATION" */
    std::string name() const { return monitor + ", " + orientation; }

    bool operator==(const Stance&) const = default;
};

/** Where the microphone stood, as an offset from the seat: to the right, to the back, upwards. */
struct Position
{
    std::string name;
    std::optional<std::array<double, 3>> offsetCm; ///< nothing where it was not told

    bool operator==(const Position&) const = default;
};

/** One standing of a stance, from putting the cabinets there until they are moved. */
struct SetUp
{
    int id = 0;
    std::string stance;  ///< its name
    std::string stoodUp; ///< ISO 8601
    int number = 1;      ///< among the set-ups of its stance, from 1; gaps are allowed

    bool operator==(const SetUp&) const = default;
};

/** Which take belongs where, and whether it counts. */
struct TakeEntry
{
    std::string id;
    int setUp = 0;
    std::string position;
    bool keep = true;
    std::string reason; ///< why it is not kept, or doubtful; empty otherwise

    bool operator==(const TakeEntry&) const = default;
};

/** A take that was set aside: it counts nowhere, and can be restored as it was. */
struct DiscardedTake
{
    TakeEntry entry;    ///< as it stood among the takes
    std::string reason; ///< why it was discarded; may be empty

    bool operator==(const DiscardedTake&) const = default;
};

/** How a pair stands about the seat. All optional: leave out what was not measured. */
struct StancePlacement
{
    std::optional<double> apartCm;      ///< between the two cabinets, 0..100000
    std::optional<double> distanceCm;   ///< from each cabinet to the seat, 0..100000
    std::optional<double> heightCm;     ///< of the middle between the drivers over the floor, 0..100000
    std::optional<double> toeInDegrees; ///< towards the line of symmetry, -180..180

    bool operator==(const StancePlacement&) const = default;
};

/** The stance settled on, and what a rebuild needs beside its placement. */
struct Choice
{
    std::string stance; ///< its name
    std::string date;   ///< ISO 8601, the day or the moment
    std::string reason;
    std::optional<std::string> referenceTake; ///< id of the take of this stance to return to
    std::optional<double> trimDb;             ///< to set at the monitor selector, -60..60

    bool operator==(const Choice&) const = default;
};

/** The stances compared in one room, with their takes: names and belonging only, no sound. A value: changes
    make a new one. */
struct Trial
{
    std::string id;
    std::string name;
    std::string room;
    std::vector<Monitor> monitors;
    std::vector<std::string> orientations;
    std::vector<Stance> stances;
    std::vector<Position> positions;
    std::vector<SetUp> setUps;
    std::vector<TakeEntry> takes;
    std::vector<DiscardedTake> discarded;
    std::optional<double> temperatureC;                ///< of the room's air, -40..60
    std::string microphone;                            ///< its name; may be empty
    std::optional<StancePlacement> placement;          ///< of every stance that has none of its own
    std::map<std::string, StancePlacement> placements; ///< by the stance's name
    std::map<std::string, double> weights;             ///< of readings, 0..1000; absent: the reading's own
    std::optional<Choice> choice;

    const Stance* stance(const std::string& name) const;
    const SetUp* setUp(int id) const;
    /** The set-up of a stance that has this number; null if there is none. */
    const SetUp* setUpOf(const std::string& stance, int number) const;
    /** A take that counts or may count; null if there is none of this id, or it is discarded. */
    const TakeEntry* take(const std::string& id) const;
    const DiscardedTake* discardedTake(const std::string& id) const;
    const Monitor* monitor(const std::string& name) const;
    /** How a stance stands, by its own placement or else by that of all; null if neither was told. */
    const StancePlacement* placementOf(const std::string& stance) const;

    bool operator==(const Trial&) const = default;
};

/** The orientations every trial begins with. */
std::vector<std::string> usualOrientations();

/** Reads "PAIR, ORIENTATION". The first comma parts them, so that "side, tweeters out" stays whole.
    Problems: no comma, or an empty part. */
Result<Stance> parseStance(const std::string& name);

/** Where a new take goes. */
struct TakeFiling
{
    std::string takeId;
    Stance stance;
    Monitor::Kind kind = Monitor::Kind::pair;
    int setUpOrdinal = 1; ///< its number among that stance's, from 1
    std::string position = "seat";
    std::string when; ///< ISO 8601, for a set-up that is new
    bool doubtful = false;
    std::string reason;
};

/** The trial with the take filed; monitor, orientation, stance, position and set-up are made where they are
    new. Problems: a set-up number below 1, the monitor known as the other kind, a take id that is taken.
    */
Result<Trial> withTake(Trial trial, const TakeFiling& filing);

}
