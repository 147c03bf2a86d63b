#pragma once

#include "Core/Result.h"

#include <array>
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

    const Stance* stance(const std::string& name) const;
    const SetUp* setUp(int id) const;
    /** The set-up of a stance that has this number; null if there is none. */
    const SetUp* setUpOf(const std::string& stance, int number) const;

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
